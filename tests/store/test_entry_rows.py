"""The logbook's rows: whatever may be written reads back equal, once, and never changes."""

import types
from dataclasses import fields, replace
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from sqlalchemy import text as sql

from deaths import place_in_memory
from stores import DAY, draft, new_store
from tintop.errors import BadInput
from tintop.logbook.book import logbook_of
from tintop.logbook.entries import (
    AnswerGiven,
    CostKind,
    CostPaid,
    Matter,
    Measure,
    Reading,
    Remark,
    SessionRun,
    Withdrawn,
)
from tintop.store.entry_rows import EntryConflict, matter_from_json, matter_to_json
from tintop.store.garage_store import Store

WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cf"], include_characters="\n\t"), max_size=20)


@pytest.fixture
def store(tmp_path: Path) -> Any:
    with new_store(tmp_path / "garage") as made:
        yield made


def values(kind: Any) -> st.SearchStrategy[Any]:
    """Any value that a field of a kind may hold."""
    origin, inside = get_origin(kind), get_args(kind)
    plain = {
        str: WORDS,
        float: st.floats(allow_nan=False, allow_infinity=False),
        int: st.integers(-(2**53), 2**53),
        bool: st.booleans(),
        date: st.dates(date(1900, 1, 1), date(2200, 12, 31)),
        type(None): st.none(),
    }
    if kind in plain:
        return plain[kind]
    if origin is Literal:
        return st.sampled_from(inside)
    if origin is types.UnionType:
        return st.one_of(*(values(one) for one in inside))
    if origin is dict:
        return st.dictionaries(values(inside[0]), values(inside[1]), max_size=3)
    if origin is tuple and inside[-1] is Ellipsis:
        return st.lists(values(inside[0]), max_size=3).map(tuple)
    if origin is tuple:
        return st.tuples(*(values(one) for one in inside))
    if issubclass(kind, StrEnum):
        return st.sampled_from(list(kind))
    return st.fixed_dictionaries({field.name: values(field.type) for field in fields(kind)}).map(
        lambda chosen: make(kind, chosen)
    )


def make(kind: Any, chosen: dict[str, Any]) -> Any:
    try:
        return kind(**chosen)
    except BadInput:  # the value itself refuses this
        assume(False)


@pytest.mark.parametrize("kind", get_args(Matter), ids=lambda kind: kind.__name__)
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
@given(data=st.data())
def test_every_kind_of_matter_reads_back_equal(kind: Any, data: st.DataObject) -> None:
    matter = data.draw(values(kind))
    back = matter_from_json(matter_to_json(matter))
    assert back == matter and type(back) is kind
    assert matter_to_json(back) == matter_to_json(matter)


def test_a_whole_number_where_a_fraction_may_stand_is_kept(store: Store) -> None:
    session = SessionRun(
        session="s1",
        meeting="m1",
        name="Practice",
        session_kind="practice",
        duration=1200,
        laps=9,
        distance=27_000,
        lap_times=(101.25, 100),
    )
    store.append([draft("one", session)])
    assert store.entries()[0].matter == session


@pytest.mark.parametrize(
    ("matter", "words"),
    [
        (Remark(text="a\x07b"), "remark.text: found the control character 0x07 at place 2"),
        (Remark(text="line\r\n"), "control character 0x0d"),
        (Remark(text="half \ud800 a sign"), "control character 0xd800"),
        (Remark(text="side\u200bways"), "a character nobody can see (0x200b) at place 5"),
        (Remark(text="\u202eetis"), "a character nobody can see (0x202e) at place 1"),
        (Remark(text="tag\U000e0041"), "a character nobody can see (0xe0041)"),
        (Remark(text="x" * 20_001), "remark.text: found 20,001 characters; expected 20,000 at most"),
        (Reading(measure=Measure.OTHER, value=float("nan")), "reading.value: found nan"),
        (Reading(measure=Measure.OTHER, value=float("inf")), "reading.value: found inf"),
        (CostPaid(cost_kind=CostKind.FUEL, cents=12.5, what="fuel"), "cents"),  # type: ignore[arg-type]
        (Reading(measure="tyre smell", value=1.0), "tyre smell"),  # type: ignore[arg-type]
        (Reading(measure=Measure.OTHER, value=1.0, corner="FM"), "FM"),  # type: ignore[arg-type]
        ("not a matter", "not a matter"),
        (
            AnswerGiven(question="quick", meeting="m", content="x" * 1_000_001, revisions={}, last_entry=0),
            "1,000,001",
        ),
        (
            AnswerGiven(
                question="quick",
                meeting="m",
                content="",
                revisions={f"{n}": "x" * 20_000 for n in range(101)},
                last_entry=0,
            ),
            "2,000,000 at most",
        ),
    ],
)
def test_what_cannot_be_kept_is_refused_in_words_and_nothing_of_its_batch_is_written(
    store: Store, matter: Any, words: str
) -> None:
    with pytest.raises(BadInput, match="found") as refused:
        store.append([draft("good"), draft("bad", matter)])
    assert words in str(refused.value)
    assert store.entries() == ()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"key": ""}, "key"),
        ({"key": "x" * 201}, "key"),
        ({"day": date(1066, 10, 14)}, "day"),
        ({"day": datetime(2026, 5, 2, 14)}, "day"),  # noqa: DTZ001
        ({"day": "2026-05-02"}, "day"),
        ({"clock": "25:00"}, "clock"),
        ({"clock": "2 o'clock"}, "clock"),
        ({"who": "x" * 201}, "who"),
        ({"note": "x" * 20_001}, "note"),
        ({"instrument": "\x00"}, "instrument"),
        ({"corrects": "1"}, "corrects"),
        ({"corrects": True}, "corrects"),
        ({"matter": Withdrawn()}, "corrects"),
    ],
)
def test_a_draft_is_checked_around_its_matter_too(store: Store, change: dict[str, Any], words: str) -> None:
    with pytest.raises(BadInput, match=f"^{words}: found"):
        store.append([replace(draft("one"), **change)])
    assert store.entries() == ()


def test_an_answer_may_be_longer_than_what_a_person_types(store: Store) -> None:
    answer = AnswerGiven(question="quick", meeting="m1", content="x" * 500_000, revisions={}, last_entry=0)
    store.append([draft("one", answer)])
    assert store.entries()[0].matter == answer


def test_the_same_draft_sent_again_writes_once(store: Store) -> None:
    first = store.append([draft("one"), draft("two")])
    assert store.append([draft("two"), draft("one")]) == (first[1], first[0])
    assert store.append([draft("three"), draft("three")])[0].number == 3
    assert len(store.entries()) == 3


def test_another_draft_under_a_used_key_is_a_conflict_that_shows_what_stands(store: Store) -> None:
    (first,) = store.append([draft("one", Remark(text="cold 24 psi"))])
    with pytest.raises(EntryConflict, match="entry 1") as conflict:
        store.append([draft("new"), draft("one", Remark(text="cold 26 psi"))])
    assert conflict.value.stands == first
    assert store.entries() == (first,)


def test_a_correction_names_an_entry_that_is_there(store: Store) -> None:
    store.append([draft("one")])
    for missing in (0, -1, 2, 99):
        with pytest.raises(BadInput, match="corrects: found entry"):
            store.append([draft("fix", corrects=missing)])


def test_of_two_who_correct_the_same_entry_the_second_is_shown_the_first(store: Store) -> None:
    store.append([draft("one")])
    (correction,) = store.append([draft("hers", Remark(text="27 psi"), corrects=1, who="Ann")])
    with pytest.raises(EntryConflict, match="entry 1 was changed meanwhile") as conflict:
        store.append([draft("his", Remark(text="28 psi"), corrects=1, who="Bob")])
    assert conflict.value.stands == correction
    with pytest.raises(EntryConflict):
        store.append([draft("a", corrects=2), draft("b", corrects=2)])
    assert len(store.entries()) == 2
    store.append([draft("undo", Withdrawn(), corrects=2)])
    store.append([draft("his", Remark(text="28 psi"), corrects=1, who="Bob")])
    assert logbook_of(store.entries()).stands(4)


@settings(max_examples=15, deadline=None)
@given(targets=st.lists(st.integers(1, 6), max_size=12))
def test_a_correction_is_taken_exactly_when_the_book_says_the_entry_stands(
    targets: list[int],
) -> None:
    with place_in_memory() as place, new_store(place) as store:
        store.append([draft(f"first {number}") for number in range(3)])
        for place, target in enumerate(targets):
            book = logbook_of(store.entries())
            try:
                store.append([draft(f"fix {place}", corrects=target)])
                was_taken = True
            except EntryConflict:
                was_taken = False
            except BadInput:
                assert book.entry(target) is None
                continue
            assert was_taken == book.stands(target)


@pytest.mark.parametrize("table", ["entry", "revision", "original"])
@pytest.mark.parametrize("change", ["UPDATE {} SET rowid = 99", "DELETE FROM {}"])
def test_the_database_itself_refuses_to_change_what_is_written(store: Store, table: str, change: str) -> None:
    store.append([draft("one")])
    store.keep_original("a.txt", "text/plain", b"content")
    database = store._database
    with pytest.raises(BadInput, match="stays as it is"), database.writing() as connection:
        connection.execute(sql(change.format(table)))
    assert len(store.entries()) == 1


def test_a_whole_logbook_is_read_in_with_its_numbers_and_times(store: Store, tmp_path: Path) -> None:
    store.append([draft("one"), draft("two")])
    store.append([draft("fix", corrects=1)])
    with new_store(tmp_path / "other") as other:
        assert other.import_entries(store.entries()) == 3
        assert other.entries() == store.entries()
        with pytest.raises(BadInput, match="empty logbook"):
            other.import_entries(store.entries())


def test_a_logbook_with_a_gap_or_a_key_twice_is_not_read_in(store: Store, tmp_path: Path) -> None:
    one, two = store.append([draft("one"), draft("two")])
    with new_store(tmp_path / "other") as other:
        for bad in (
            [two],
            [one, replace(two, key="one")],
            [one, replace(two, corrects=2)],
            [one, replace(two, written_at="")],
        ):
            with pytest.raises(BadInput, match="entry 2"):
                other.import_entries(bad)
        assert other.entries() == ()


def test_an_entry_of_a_kind_that_is_not_known_is_a_sentence(store: Store) -> None:
    store.append([draft("one")])
    with store._database.writing() as connection:
        connection.execute(
            sql(
                "INSERT INTO entry SELECT 2, 'two', day, clock, written_at, who, instrument, note, corrects, "
                "'ballast', '{\"kind\": \"ballast\"}' FROM entry"
            )
        )
    with pytest.raises(BadInput, match="newer tintop"):
        store.entries()


def test_only_the_latest_entries_on_demand(store: Store) -> None:
    written = store.append([draft(f"{number}") for number in range(5)])
    assert store.entries(after=3) == written[3:]
    assert store.last_entry() == 5
    assert store.entries()[0].day == DAY
