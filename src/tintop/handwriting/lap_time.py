"""A lap time, however its minutes, seconds and fractions are set apart, or its minute left out."""

import re

from tintop.errors import refuse
from tintop.handwriting.meaning import Ask, Understood, settle
from tintop.handwriting.notes import NUMBER, number_text, shown, tidy

_EXPECTED = 'a lap time such as "1:43.2" or "103.2 s"'
_SHORTEST, _LONGEST = 15.0, 1200.0  # s; common practice, no source
_QUICKEST_SHARE, _SLOWEST_SHARE = 0.8, 1.6  # of the expected lap; common practice, no source
_MOST_MINUTES = 3  # of a left-out minute when no lap is expected
_SPLIT = re.compile(
    r"""([0-9]{1,2})\s*(:|\.|,|;|'|-|m(?:in)?\.?|\s)\s*([0-5][0-9])      # minutes, seconds
        (?:\s*(:|\.|,|;|"|\s)\s*([0-9]{1,3}))?\s*(?:s|sec|")?""",
    re.VERBOSE | re.IGNORECASE,
)
_SECONDS = re.compile(rf"({NUMBER})\s*(s|sec|secs|seconds)?\.?", re.IGNORECASE)
_NO_COLON = re.compile(r"([1-9])([0-5][0-9](?:[.,][0-9]{1,3})?)")


def clock(seconds: float) -> str:
    """Give seconds as minutes and seconds, such as "1:43.2"; under a minute as "43.2 s"."""
    if seconds < 60.0:
        return f"{number_text(round(seconds, 4))} s"
    minutes, rest = divmod(round(seconds, 4), 60.0)
    whole, _, fraction = f"{rest:.4f}".rstrip("0").partition(".")
    return f"{int(minutes)}:{int(whole):02d}{'.' + fraction if fraction else ''}"


def read_lap_time(text: object, expected: float | None = None) -> Understood | Ask[Understood]:
    """Read a lap time in s; `expected` is a usual lap here in s, and makes a left-out minute asked.

    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "lap time", _EXPECTED)
    if expected is not None and not _SHORTEST <= expected <= _LONGEST:
        expected = None
    split = _SPLIT.fullmatch(tidied)
    if split is not None and (split[5] is not None or split[2] not in ".,"):
        seconds = 60.0 * int(split[1]) + float(f"{split[3]}.{split[5] or 0}")
        if not _SHORTEST <= seconds <= _LONGEST:
            raise _none(tidied)
        return _lap(seconds, tidied, is_guessed=split[2] in "- " or split[4] == ":")
    bare = _SECONDS.fullmatch(tidied)
    if bare is None or not 0.0 < float(bare[1].replace(",", ".")) <= _LONGEST:
        raise _none(tidied)
    as_written = float(bare[1].replace(",", "."))
    if bare[2]:
        if as_written < _SHORTEST:
            raise _none(tidied)
        return _lap(as_written, tidied, is_guessed=False)
    others = [
        seconds
        for seconds in _other_ways(tidied, as_written, expected)
        if (_SHORTEST <= seconds <= _LONGEST if expected is None else _is_near(seconds, expected))
    ]
    meant = [as_written] if as_written >= _SHORTEST else []
    if expected is None and as_written >= 60.0:
        others = []
    if not meant and not others:
        raise _none(tidied)
    return settle(
        tidied,
        f"Which lap time is {shown(tidied)}?",
        [_lap(seconds, tidied, is_guessed=True) for seconds in [*others, *meant]],
    )


def _none(text: str) -> Exception:
    return refuse("lap time", shown(text), f"{_EXPECTED}, from 15 s to 20 minutes")


def _is_near(seconds: float, expected: float) -> bool:
    return _QUICKEST_SHARE * expected <= seconds <= _SLOWEST_SHARE * expected


def _other_ways(text: str, as_written: float, expected: float | None) -> list[float]:
    ways = []
    point = re.fullmatch(r"([0-9]{1,2})[.,]([0-5][0-9])", text)
    if point is not None:
        ways.append(60.0 * int(point[1]) + int(point[2]))
    if 10.0 <= as_written < 60.0 and (expected is None or not _is_near(as_written, expected)):
        minutes = range(1, _MOST_MINUTES) if expected is None else range(1, 1 + int(expected // 60.0) + 1)
        ways += [60.0 * count + as_written for count in minutes]
    no_colon = _NO_COLON.fullmatch(text)
    if no_colon is not None:
        ways.append(60.0 * int(no_colon[1]) + float(no_colon[2].replace(",", ".")))
    return ways


def _lap(seconds: float, written: str, *, is_guessed: bool) -> Understood:
    says = clock(seconds) if seconds < 60.0 else f"{clock(seconds)} ({number_text(round(seconds, 4))} s)"
    return Understood(
        value=seconds,
        quantity="time",
        unit="s",
        written=written,
        is_guessed=is_guessed,
        says=says,
        in_full=clock(seconds),
    )
