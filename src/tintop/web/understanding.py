"""What a typed text means in a field of the page: one door to every way of reading it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from tintop.errors import BadInput, refuse
from tintop.handwriting import (
    FIELD_NAMES,
    Ask,
    Row,
    Understood,
    day_of,
    read_corners,
    read_date,
    read_lap_time,
    read_value,
)
from tintop.handwriting.fields import FIELDS
from tintop.web.money import read_money
from tintop.web.sheet_values import is_sheet_kind, read_on_sheet
from tintop.web.spread import AskWhere, several

Meaning = Understood | Row
Question = Ask[Understood] | Ask[Row] | AskWhere
Found = Understood | Row | Question

MOST_LAPS = 2000
_NEAR = re.compile(r"(lap times?) near ([0-9]{1,4}(?:\.[0-9]{1,3})?)")
_DAYS: Mapping[str, bool | None] = {"day": None, "day past": False, "day coming": True}
_BETWEEN_LAPS = re.compile(r"[;\s]+|,(?=\s|[0-9]{1,2}[:.'][0-9]{2}[:.,])")
_HOURS = re.compile(r"([0-9]{1,2}) ?h(?:ours?|rs?)? ?(?:([0-9]{1,2})(?: ?m(?:in)?)?)?", re.IGNORECASE)
_CLOCK_LONG = re.compile(r"([0-9]{1,2}):([0-5][0-9]):([0-5][0-9])")
_CLOCK_SHORT = re.compile(r"([0-9]{1,3}):([0-5][0-9])")
_MINUTES = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,2})?)(?: ?(?:m|min|mins|minutes|'))?", re.IGNORECASE)
_TIME_OF_DAY = re.compile(r"([01]?[0-9]|2[0-3])[:.h]?([0-5][0-9])(?::[0-5][0-9])?")
_LONGEST_SESSION = 25 * 3600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """How this garage writes: usual units, currency, today, tank [m³], new pads [m] by corner."""

    units: Mapping[str, str]
    currency: str
    today: date
    tank: float | None = None
    new_pads: Mapping[str, float] | None = None

    def usual_unit(self, field: str) -> str | None:
        """The unit a field is usually written in."""
        if field == "distance":
            return self.units.get("distance")
        return self.units.get(FIELDS[field].quantity) if field in FIELDS else None


def understand(kind: str, text: str, hand: Hand, name: str = "") -> Found:
    """Read a text typed into the field `name` as what its kind says; BadInput when it can be none."""
    near = _NEAR.fullmatch(kind)
    if near or kind in ("lap time", "lap times"):
        expected = float(near[2]) if near else None
        is_list = (near[1] if near else kind) == "lap times"
        return _laps(text, expected) if is_list else read_lap_time(text, expected)
    if kind in _DAYS:
        return read_date(text, hand.today, order="day first", is_expiry=_DAYS[kind])
    if kind.startswith("corners ") and kind.removeprefix("corners ") in FIELD_NAMES:
        field = kind.removeprefix("corners ")
        return read_corners(text, field, usual_unit=hand.usual_unit(field))
    if is_sheet_kind(kind):
        field = kind.removeprefix("sheet ").rstrip("-.0123456789 ")
        return read_on_sheet(kind, text, hand.usual_unit(field))
    match kind:
        case "minutes":
            return _minutes(text)
        case "money":
            return read_money(text, hand.currency)
        case "laps":
            return _count(text)
        case "clock":
            return _clock(text)
        case "pad thickness":
            new = (hand.new_pads or {}).get(name[-2:])
            return read_value(text, kind, new_thickness=new)
        case _ if kind in FIELD_NAMES:
            usual = hand.usual_unit(kind)
            try:
                return read_value(text, kind, usual_unit=usual, tank=hand.tank)
            except BadInput:
                where = several(kind, text, name, usual)
                if where is None:
                    raise
                return where
    raise refuse("kind", repr(kind[:60]), "a kind of field this page knows")


def sentence_of(problem: BadInput) -> str:
    """What is wrong with one typed text, in a sentence."""
    first = problem.problems[0]
    return f"Found {first.found}; expected {first.expected}. {first.cure}".strip()


def as_day(meaning: Meaning) -> date:
    """The calendar day of a meaning read as one."""
    assert isinstance(meaning, Understood)
    return day_of(meaning)


def _laps(text: str, expected: float | None) -> Row | Ask[Row]:
    tokens = [token for token in _BETWEEN_LAPS.split(text.strip()) if token]
    if not tokens:
        raise refuse("lap times", "nothing", 'lap times such as "1:43.2 1:44.0"')
    if len(tokens) > MOST_LAPS:
        raise refuse("lap times", f"{len(tokens)} of them", f"at most {MOST_LAPS}")
    laps: list[Understood] = []
    for place, token in enumerate(tokens):
        try:
            found = read_lap_time(token, expected)
        except BadInput as error:
            one = error.problems[0]
            raise refuse(f"lap {place + 1}", one.found, one.expected, one.cure) from None
        if isinstance(found, Ask):
            choices = tuple(
                _list_of((choice,), " ".join([*tokens[:place], choice.in_full, *tokens[place + 1 :]]))
                for choice in found.choices
            )
            return Ask(written=text, question=f"Lap {place + 1}: {found.question}", choices=choices)
        laps.append(found)
    return _list_of(tuple(laps), " ".join(lap.in_full for lap in laps))


def _list_of(laps: tuple[Understood, ...], in_full: str) -> Row:
    best = min(laps, key=lambda lap: lap.value)
    many = f"{len(laps)} laps, best {best.in_full}"
    return Row(
        places=tuple(str(place + 1) for place in range(len(laps))),
        values=laps,
        written=in_full,
        is_guessed=any(lap.is_guessed for lap in laps),
        says=many if len(laps) > 1 else best.says,
        in_full=in_full,
    )


def _minutes(text: str) -> Understood | Ask[Understood]:
    written = " ".join(text.split())
    clock, hours = _CLOCK_LONG.fullmatch(written), _HOURS.fullmatch(written)
    short, minutes = _CLOCK_SHORT.fullmatch(written), _MINUTES.fullmatch(written)
    found: list[float] = []
    if clock:
        found = [3600.0 * int(clock[1]) + 60.0 * int(clock[2]) + int(clock[3])]
    elif hours:
        found = [3600.0 * int(hours[1]) + 60.0 * int(hours[2] or 0)]
    elif short:
        found = [60.0 * int(short[1]) + int(short[2]), 3600.0 * int(short[1]) + 60.0 * int(short[2])]
    elif minutes:
        found = [60.0 * float(minutes[1].replace(",", "."))]
    meanings = [_running(seconds, written) for seconds in found if seconds <= _LONGEST_SESSION]
    if not meanings:
        raise refuse(
            "running time", repr(written[:60]) if written else "nothing", '"25", "25 min" or "2 h 05"'
        )
    if len(meanings) == 1:
        return meanings[0]
    return Ask(
        written=written, question=f"Is {written!r} minutes and seconds, or hours?", choices=tuple(meanings)
    )


def _running(seconds: float, written: str) -> Understood:
    whole = round(seconds)
    clock = f"{whole // 3600}:{whole % 3600 // 60:02d}:{whole % 60:02d}"
    says = (
        f"{seconds / 60.0:.4g} min" if seconds < 3600.0 else f"{whole // 3600} h {whole % 3600 // 60:02d} min"
    )
    return _plain(seconds, "time", "s", written, says, clock)


def _count(text: str) -> Understood:
    written = " ".join(text.split())
    digits = re.fullmatch(r"([0-9]{1,4})(?: laps?)?", written)
    if not digits or int(digits[1]) > MOST_LAPS:
        raise refuse(
            "laps", repr(written[:60]) if written else "nothing", f"a whole number up to {MOST_LAPS}"
        )
    return _plain(float(digits[1]), "number", "", written, f"{int(digits[1])} laps", digits[1])


def _clock(text: str) -> Understood:
    written = text.strip()
    found = _TIME_OF_DAY.fullmatch(written)
    if not found:
        raise refuse("time of day", repr(written[:60]) if written else "nothing", 'a time such as "14:05"')
    clock = f"{int(found[1]):02d}:{found[2]}"
    return _plain(60.0 * (60 * int(found[1]) + int(found[2])), "time", "s", written, clock, clock)


def _plain(value: float, quantity: str, unit: str, written: str, says: str, in_full: str) -> Understood:
    return Understood(
        value=value,
        quantity=quantity,
        unit=unit,
        written=written,
        is_guessed=False,
        says=says,
        in_full=in_full,
    )
