"""Damper clicks and anti-roll bar holes: counted things, and the end they are counted from."""

import re

from tintop.errors import refuse
from tintop.handwriting.meaning import Ask, Understood, settle
from tintop.handwriting.notes import number_text, shown, take_apart, tidy

_CLICKS = 'a count such as "8 clicks from full soft"'
_MOST_CLICKS = 60
_HOLE = 'a hole such as "2" or "2nd hole"'
_MOST_HOLES = 12
SOFT = "from full soft"
HARD = "from full hard"
_SAID = re.compile(
    r"(?P<clicks>clicks?|c)?\s*(?:(?:from|off|f\.?)?\s*(?:full|fully)?\s*"
    r"(?P<end>soft|softest|open|hard|hardest|stiff|stiffest|closed)|(?P<way>out|back))?",
    re.IGNORECASE,
)
_SOFT_ENDS = ("soft", "softest", "open")
_HOLE_SAID = re.compile(r"(?:hole|no\.?)? ?([0-9]{1,2})(?:st|nd|rd|th)?( hole)?", re.IGNORECASE)


def read_clicks(text: object, usual_unit: str | None = None) -> Understood | Ask[Understood]:
    """Read damper clicks; asks from which end unless said, or told by `usual_unit` ("from full soft").

    "Out" and "back" count from full hard (common practice, no source), and are said to be guessed.
    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "damper clicks", _CLICKS)
    note = take_apart(tidied, "damper clicks", _CLICKS)
    number = note.numbers[-1]
    said = _SAID.fullmatch(note.words)
    if said is None or number != int(number) or not 0 <= number <= _MOST_CLICKS:
        raise refuse("damper clicks", shown(tidied), f"{_CLICKS}, whole, 0 to {_MOST_CLICKS}")
    if said["end"]:
        end = SOFT if said["end"].casefold() in _SOFT_ENDS else HARD
        return _clicks(number, end, tidied, is_guessed=False)
    if said["way"]:
        return _clicks(number, HARD, tidied, is_guessed=True)
    if usual_unit in (SOFT, HARD):
        return _clicks(number, usual_unit, tidied, is_guessed=True)
    return settle(
        tidied,
        f"Are {shown(tidied)} clicks counted from full soft or from full hard?",
        [_clicks(number, end, tidied, is_guessed=True) for end in (SOFT, HARD)],
    )


def _clicks(number: float, end: str, written: str, *, is_guessed: bool) -> Understood:
    words = f"{number_text(number)} click{'' if number == 1 else 's'} {end}"
    return Understood(
        value=number,
        quantity="clicks",
        unit=end,
        written=written,
        is_guessed=is_guessed,
        says=words,
        in_full=words,
    )


def read_hole(text: object) -> Understood:
    """Read the hole of an anti-roll bar, as numbered on the car.

    Raises BadInput when it can be none.
    """
    tidied = tidy(text, "anti-roll bar hole", _HOLE)
    said = _HOLE_SAID.fullmatch(tidied)
    if said is None or not 1 <= int(said[1]) <= _MOST_HOLES:
        raise refuse("anti-roll bar hole", shown(tidied), f"{_HOLE}, 1 to {_MOST_HOLES}")
    return Understood(
        value=float(said[1]),
        quantity="number",
        unit="hole",
        written=tidied,
        is_guessed="hole" not in tidied.casefold(),
        says=f"hole {int(said[1])}, as numbered on the car",
        in_full=f"hole {int(said[1])}",
    )
