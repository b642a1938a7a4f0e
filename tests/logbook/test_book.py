"""The book: what stands after corrections, in the order it happened; one entry more is as folding anew."""

from collections.abc import Iterable
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.entry_strategies import books, values_of
from tintop.logbook.book import Logbook, logbook_of, with_entry
from tintop.logbook.entries import (
    CostKind,
    CostPaid,
    Entry,
    JobDone,
    Matter,
    Remark,
    RoadDriven,
    Withdrawn,
)

SMALL = st.one_of(values_of(Remark), values_of(RoadDriven), values_of(Withdrawn), values_of(JobDone))
BOOKS = books(SMALL, max_size=12)


def entry(
    number: int, matter: Matter, corrects: int | None = None, day: int = 2, clock: str = "", key: str = ""
) -> Entry:
    return Entry(
        number=number,
        key=key or f"k{number}",
        day=date(2026, 5, day),
        written_at="2026-05-09T10:00:00+00:00",
        who="Robin",
        matter=matter,
        clock=clock,
        corrects=corrects,
    )


def text(number: int, corrects: int | None = None, **when: object) -> Entry:
    return entry(number, Remark(text=f"remark {number}"), corrects, **when)  # type: ignore[arg-type]


def back(number: int, corrects: int) -> Entry:
    return entry(number, Withdrawn(), corrects)


def standing(book: Logbook) -> list[int]:
    return sorted(one.number for entries in book.standing.values() for one in entries)


def told(entries: Iterable[Entry]) -> set[int]:
    """What stands, the other way round: what none that stands takes back or takes the place of."""
    everything = {one.number: one for one in entries}

    def stood_for(one: Entry) -> set[int]:
        if one.corrects is None:
            return set()
        named = everything.get(one.corrects)
        if isinstance(one.matter, Withdrawn) or named is None:
            return {one.corrects}
        return {one.corrects, *chain(named)}

    def chain(one: Entry) -> set[int]:
        if one.corrects is None:
            return set()
        named = everything.get(one.corrects)
        return {one.corrects} | (chain(named) if named else set())

    def stands(one: Entry) -> bool:
        return not any(one.number in stood_for(other) and stands(other) for other in everything.values())

    return {one.number for one in everything.values() if stands(one)}


@pytest.mark.parametrize(
    ("entries", "stand"),
    [
        ([], []),
        ([text(1), text(2)], [1, 2]),
        ([text(1), text(2, 1)], [2]),  # corrected
        ([text(1), text(2, 1), text(3, 2)], [3]),  # the correction corrected: the last word stands alone
        ([text(1), text(2, 1), text(3, 2), back(4, 3)], [2, 4]),  # and taken back: the word before it
        ([text(1), text(2, 1), text(3, 2), back(4, 3), back(5, 2)], [1, 4, 5]),
        ([text(1), text(2, 1), text(3, 1)], [2, 3]),  # corrected twice
        ([text(1), back(2, 1)], [2]),  # withdrawn
        ([text(1), back(2, 1), back(3, 2)], [1, 3]),  # the withdrawal withdrawn
        ([text(1), back(2, 1), back(3, 2), back(4, 3)], [2, 4]),
        ([text(1), text(2, 1), back(3, 2)], [1, 3]),
        ([entry(1, Remark(text="x")), entry(2, JobDone(job="j"), 1)], [2]),  # by an entry of another kind
    ],
)
def test_what_stands(entries: list[Entry], stand: list[int]) -> None:
    book = logbook_of(entries)
    assert standing(book) == stand
    assert [number for number in range(9) if book.stands(number)] == stand


@given(BOOKS)
@settings(deadline=None)
def test_what_stands_is_what_nothing_standing_corrects(entries: tuple[Entry, ...]) -> None:
    book = logbook_of(entries)
    assert set(standing(book)) == told(entries)
    assert {one.number for one in entries if book.stands(one.number)} == told(entries)
    assert not book.stands(0) and not book.stands(len(entries) + 1)


@given(BOOKS, st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_order_in_which_entries_are_read_changes_nothing(entries: tuple[Entry, ...], chance) -> None:  # type: ignore[no-untyped-def]
    shuffled = list(entries)
    chance.shuffle(shuffled)
    assert logbook_of(shuffled) == logbook_of(entries)


@given(BOOKS)
@settings(deadline=None)
def test_one_entry_more_is_the_same_as_folding_anew(entries: tuple[Entry, ...]) -> None:
    book = Logbook()
    for place, one in enumerate(entries, 1):
        book = with_entry(book, one)
        assert book == logbook_of(entries[:place])
        assert book.last_number == one.number
    for one in entries:
        assert book.up_to(one.number) == logbook_of(entries[: one.number])


@given(BOOKS, st.dates(date(1950, 1, 1), date(2150, 12, 31)))
@settings(deadline=None)
def test_until_a_day_holds_what_stands_and_had_happened(entries: tuple[Entry, ...], day: date) -> None:
    book = logbook_of(entries)
    by_then = book.until(day)
    assert by_then.entries == book.entries
    for one in entries:
        assert by_then.stands(one.number) == (book.stands(one.number) and one.day <= day)


def test_entries_of_a_kind_come_in_the_order_they_happened() -> None:
    book = logbook_of(
        [
            text(1, day=3),
            text(2, day=2, clock="14:05"),
            text(3, day=2, clock="09:30"),
            text(4, day=2),
            text(5, day=3),
        ]
    )
    assert [one.number for one, _ in book.of(Remark)] == [4, 3, 2, 1, 5]


def test_a_correction_made_later_holds_for_the_day_it_is_about() -> None:
    road, wrong = RoadDriven(distance=1000.0), RoadDriven(distance=100.0)
    book = logbook_of([entry(1, wrong, day=2), entry(2, road, corrects=1, day=2), text(3, day=9)])
    assert [matter.distance for _, matter in book.until(date(2026, 5, 2)).of(RoadDriven)] == [1000.0]
    assert [matter.distance for _, matter in book.up_to(1).of(RoadDriven)] == [100.0]


def test_an_entry_is_found_by_its_number_whether_it_stands_or_not() -> None:
    book = logbook_of([text(1), text(2, 1), text(7)])
    assert [one and one.number for one in map(book.entry, (0, 1, 2, 3, 7))] == [None, 1, 2, None, 7]
    assert book.last_number == 7 and Logbook().last_number == 0


def test_the_matter_of_another_kind_is_not_given() -> None:
    cost = CostPaid(cost_kind=CostKind.FUEL, cents=12_345, what="petrol")
    book = logbook_of([entry(1, cost), text(2)])
    assert [matter for _, matter in book.of(CostPaid)] == [cost]
    assert list(book.of(JobDone)) == []
