"""Entries of every kind of matter to test by property: any finite number, text that shows all it holds."""

import dataclasses
from datetime import date
from enum import Enum
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from tintop.known import Known
from tintop.logbook.entries import Draft, Entry, LifeLimit, Matter, MeetingPlanned, PlannedSession

KINDS: tuple[type, ...] = get_args(Matter)

texts = st.one_of(
    st.sampled_from(["", "front pads", "=1+1", "+44", "-3", "@home", '"""', "'''", "a\u2028b", "7", "true"]),
    st.text(st.characters(exclude_categories=("Cs", "Cc", "Cf")), max_size=40),
)
numbers = st.floats(allow_nan=False, allow_infinity=False)
positives = st.floats(min_value=0.0, exclude_min=True, allow_nan=False, allow_infinity=False)
not_negatives = st.floats(min_value=0.0, allow_nan=False, allow_infinity=False)
cents = st.integers(-(10**12), 10**12)
days = st.dates(date(1950, 1, 1), date(2150, 12, 31))
clocks = st.sampled_from(["", "09:30", "14:05"])

_NOT_NEGATIVE = {
    "duration",
    "distance",
    "laps",
    "list_price_cents",
    "paid_cents",
    "uncertainty",
    "limit",
    "error",
}


def _values(hint: Any, name: str) -> st.SearchStrategy[Any]:
    origin, inside = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        return st.one_of(*(_values(one, name) for one in inside))
    if origin is Literal:
        return st.sampled_from(inside)
    if origin is tuple and inside[-1] is Ellipsis:
        return st.lists(_values(inside[0], name), max_size=4).map(tuple)
    if origin is tuple:
        return st.tuples(*(_values(one, name) for one in inside))
    if origin is dict:
        return st.dictionaries(texts, _values(inside[1], name), max_size=3)
    if hint is type(None):
        return st.none()
    if hint is bool:
        return st.booleans()
    if hint is str:
        return texts
    if hint is date:
        return days
    if hint is int:
        return st.integers(0, 10**12) if name in _NOT_NEGATIVE else cents
    if hint is float:
        return positives if name == "limit" else not_negatives if name in _NOT_NEGATIVE else numbers
    if issubclass(hint, Enum):
        return st.sampled_from(hint)
    assert hint in (Known, LifeLimit, PlannedSession)
    return values_of(hint)


def values_of(kind: type) -> st.SearchStrategy[Any]:
    """Any value of a dataclass of the logbook, every field drawn."""
    hints = get_type_hints(kind)
    drawn = {
        field.name: _values(hints[field.name], field.name)
        for field in dataclasses.fields(kind)
        if field.name != "kind" or kind not in KINDS
    }
    if kind is MeetingPlanned:
        two_days = st.tuples(days, days).map(sorted)
        return two_days.flatmap(
            lambda pair: st.builds(
                kind, **drawn | {"first_day": st.just(pair[0]), "last_day": st.just(pair[1])}
            )
        )
    return st.builds(kind, **drawn)


def matters(kinds: tuple[type, ...] = KINDS) -> st.SearchStrategy[Any]:
    """Matter of any of the kinds."""
    return st.sampled_from(kinds).flatmap(values_of)


@st.composite
def drafts(draw: st.DrawFn, matter: st.SearchStrategy[Any] | None = None, key: str = "a") -> Draft:
    """One draft; corrects nothing."""
    return Draft(
        key=key,
        day=draw(days),
        who=draw(texts),
        matter=draw(matter if matter is not None else matters()),
        clock=draw(clocks),
        instrument=draw(texts),
        note=draw(texts),
    )


def entry_of(draft: Draft, number: int, corrects: int | None = None) -> Entry:
    """The entry of a draft, written on 1 May 2026."""
    fields = {field.name: getattr(draft, field.name) for field in dataclasses.fields(draft)}
    fields |= {"number": number, "corrects": corrects, "key": f"{draft.key}-{number}"}
    return Entry(**fields, written_at="2026-05-01T18:00:00+00:00")


@st.composite
def books(
    draw: st.DrawFn, matter: st.SearchStrategy[Any] | None = None, max_size: int = 6
) -> tuple[Entry, ...]:
    """Entries of a book by number from 1, some of which correct an earlier one."""
    entries: list[Entry] = []
    for number in range(1, draw(st.integers(1, max_size)) + 1):
        earlier = st.integers(1, number - 1) if number > 1 else st.nothing()
        corrects = draw(st.none() | earlier)
        entries.append(entry_of(draw(drafts(matter)), number, corrects))
    return tuple(entries)
