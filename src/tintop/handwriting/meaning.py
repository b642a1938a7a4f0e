"""What a note may mean: one thing understood, a row of them, or a question with the meanings to pick from."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Generic, TypeVar

from tintop.errors import refuse

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """One value, understood.

    `value` is in SI (temperatures in °C, dates as the proleptic ordinal of the day); `unit` is the unit as
    written or guessed; `says` is for the reader; `in_full` is the same written so that it reads one way only.
    `is_guessed` is true when a unit, sign, order or year was assumed.
    """

    value: float
    quantity: str
    unit: str
    written: str
    is_guessed: bool
    says: str
    in_full: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Several values written together, each with its place (FL FR RL RR, or inner middle outer)."""

    places: tuple[str, ...]
    values: tuple[Understood, ...]
    written: str
    is_guessed: bool
    says: str
    in_full: str


Meaning = TypeVar("Meaning", Understood, Row)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask(Generic[Meaning]):
    """More than one meaning: nothing is taken until one is picked; a picked choice is no longer a guess."""

    written: str
    question: str
    choices: tuple[Meaning, ...]


def settle(written: str, question: str, meanings: Iterable[Meaning]) -> Meaning | Ask[Meaning]:
    """Give the one meaning there is, or ask which of the different ones is meant; at least one must come."""
    different = list({meaning.in_full: meaning for meaning in meanings}.values())
    if len(different) == 1:
        return different[0]
    return Ask(written=written, question=question, choices=tuple(_picked(meaning) for meaning in different))


def taken(found: Meaning | Ask[Meaning], where: str) -> Meaning:
    """Give what was understood; BadInput with the question and the ways to write it where there are more."""
    if not isinstance(found, Ask):
        return found
    ways = " or ".join(f'"{choice.in_full}"' for choice in found.choices)
    raise refuse(where, repr(found.written), found.question, f"Write {ways}.")


def _picked(meaning: Meaning) -> Meaning:
    if isinstance(meaning, Row):
        values = tuple(replace(value, is_guessed=False) for value in meaning.values)
        return replace(meaning, values=values, is_guessed=False)
    return replace(meaning, is_guessed=False)


def understood_day(day: date, written: str, *, is_guessed: bool, note: str = "") -> Understood:
    """Give a day as understood; `note` says what was assumed."""
    shown = f"{_WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"
    return Understood(
        value=float(day.toordinal()),
        quantity="date",
        unit="day",
        written=written,
        is_guessed=is_guessed,
        says=f"{shown} ({note})" if note else shown,
        in_full=day.isoformat(),
    )


def day_of(understood: Understood) -> date:
    """Give the calendar day of an understood date."""
    return date.fromordinal(int(understood.value))
