"""Numbers that nobody told as a page shows them."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.answer import Assumption
from tintop.car.measuring import words_of_path
from tintop.garage.written_numbers import written_number
from tintop.web.formats import THIN, number


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """One number nobody told, in words and the owner's units, and what its doubt is worth."""

    name: str
    value: str
    doubt: str
    worth: str
    source: str


def assumed_rows(assumptions: tuple[Assumption, ...], units: Mapping[str, str]) -> tuple[Assumed, ...]:
    """What was assumed, as a page shows it."""
    rows = []
    for each in assumptions:
        value, doubt = written_number(each.path, each.value, each.uncertainty, units)
        worth = f"±{number(each.effect, 2)}{THIN}{each.effect_unit}"
        rows.append(
            Assumed(name=words_of_path(each.path), value=value, doubt=doubt, worth=worth, source=each.source)
        )
    return tuple(rows)
