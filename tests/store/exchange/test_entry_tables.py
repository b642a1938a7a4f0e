"""Entries as flat tables: every kind of matter comes back equal; what is wrong is named."""

import dataclasses
from datetime import date, datetime, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.entry_strategies import KINDS, drafts, entry_of, values_of
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.logbook.entries import Area, Draft, Entry, PartAdded, Remark
from tintop.store.exchange import entry_tables
from tintop.store.exchange.entry_fields import fields_of
from tintop.store.exchange.entry_tables import drafts_from, entries_from, table_of


def where(place: int, path: str) -> str:
    return f"entry {place + 1}, {path}"


def problems_of(**table: object) -> list[str]:
    with pytest.raises(BadInput) as refusal:
        drafts_from([{"key": "k", "day": date(2026, 5, 2), "who": "R"} | table], where)
    return [str(problem) for problem in refusal.value.problems]


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
@given(data=st.data())
@settings(max_examples=25, deadline=None)
def test_every_kind_comes_back_equal(kind: type, data: st.DataObject) -> None:
    draft = data.draw(drafts(values_of(kind)))
    entry = entry_of(draft, 7, 3)
    assert drafts_from([table_of(draft)], where) == (draft,)
    assert entries_from([table_of(entry)], where) == (entry,)


def test_header_and_matter_share_no_name_and_every_header_field_has_its_place() -> None:
    header = {field.name for field in fields_of(Entry)}
    assert header == {*entry_tables.BEFORE, *entry_tables.AFTER}
    assert {field.name for field in dataclasses.fields(Draft)} == header - {"number", "written_at"} | {
        "matter"
    }
    for kind in KINDS:
        assert not header & {field.name for field in fields_of(kind)}, kind


def test_what_is_usual_is_left_out_and_a_known_number_is_a_table() -> None:
    mass = Known(value=7.4, uncertainty=0.1, origin=Origin.MEASURED)
    part = PartAdded(part="door", name="Door", family="doors", area=Area.OUTSIDE, mass=mass)
    table = table_of(Draft(key="k", day=date(2026, 5, 2), who="R", matter=part))
    assert table == {
        "day": date(2026, 5, 2),
        "kind": "part added",
        "part": "door",
        "name": "Door",
        "family": "doors",
        "area": "outside",
        "mass": {"value": 7.4, "uncertainty": 0.1, "origin": "measured"},
        "who": "R",
        "key": "k",
    }


def test_a_number_in_whole_steps_is_a_number_but_money_in_parts_of_cents_is_none() -> None:
    (draft,) = drafts_from(
        [{"key": "k", "day": date(2026, 5, 2), "who": "R", "kind": "road driven", "distance": 5}], where
    )
    assert draft.matter.distance == 5.0 and isinstance(draft.matter.distance, float)
    (problem,) = problems_of(kind="cost", cost_kind="fuel", cents=12.5, what="petrol")
    assert problem == "entry 1, cents: found 12.5; expected a whole number."


@pytest.mark.parametrize(
    ("table", "sentence"),
    [
        ({}, "entry 1, kind: found nothing; expected one of part added, "),
        ({"kind": "redaing"}, "Did you mean reading?"),
        ({"kind": "remark"}, "entry 1, text: found nothing; expected text in quotes."),
        ({"kind": "answer given"}, "entry 1, revisions: found nothing; expected a table."),
        (
            {"kind": "remark", "text": "x", "abuot": "y"},
            "of an unknown name; expected one of text, about",
        ),
        ({"kind": "remark", "text": "x", "abuot": "y"}, "Did you mean about?"),
        ({"kind": "remark", "text": 3}, "entry 1, text: found 3; expected text in quotes."),
        (
            {"kind": "remark", "text": "x", "day": "2 May"},
            "entry 1, day: found '2 May'; expected a day",
        ),
        (
            {"kind": "remark", "text": "x", "day": datetime(2026, 5, 2, 9)},  # noqa: DTZ001
            "entry 1, day: found 2026-05-02 09:00:00; expected a day such as",
        ),
        (
            {"kind": "remark", "text": "x", "clock": time(14, 5)},
            "clock: found 14:05:00; expected text",
        ),
        ({"kind": "remark", "text": "x", "corrects": 0}, "entry 1, corrects: found 0; expected 1 or more."),
        ({"kind": "remark", "text": "x", "who": None}, "entry 1, who: found None; expected text in quotes."),
        (
            {"kind": "remark", "text": "x", "key": ""},
            "key: found ''; expected text that is not empty.",
        ),
        ({"kind": "road driven", "distance": "5"}, "entry 1, distance: found '5'; expected a number."),
        ({"kind": "road driven", "distance": True}, "entry 1, distance: found True; expected a number."),
        ({"kind": "road driven", "distance": float("nan")}, "distance: found nan; expected a finite number."),
        ({"kind": "reading", "measure": "torqe", "value": 1.0}, "Did you mean torque?"),
        ({"kind": "reading", "measure": "torque", "value": 1.0, "corner": "LF"}, 'one of "", FL, FR, RL, RR'),
        (
            {"kind": "event closed", "meeting": "a", "result": "b", "is_finished": 1},
            "expected true or",
        ),
    ],
)
def test_what_is_wrong_is_named(table: dict[str, object], sentence: str) -> None:
    assert any(sentence in problem for problem in problems_of(**table))


def test_what_is_wrong_deep_inside_is_named_too() -> None:
    found = problems_of(
        kind="part added",
        part="p",
        name="n",
        family="f",
        area="boot",
        mass={"value": 1.0, "uncertanty": 0.1, "origin": "guessed"},
        position=[1.0, 2.0],
        limits=[
            {"counter": "laps", "limit": 3.0, "basis": "rule"},
            {"counter": "lap", "limit": 3.0, "basis": "x"},
        ],
    )
    text = "\n".join(found)
    assert "entry 1, mass.uncertainty: found nothing; expected a number." in text
    assert "Did you mean uncertainty?" in text
    assert "mass.origin: found 'guessed'; expected one of measured, documented, estimated, assumed." in text
    assert "entry 1, position.3: found nothing; expected a number." in text
    assert "entry 1, limits.2.counter: found 'lap'; expected one of distance" in text
    assert "limits.2.basis" in text and "limits.1" not in text


def test_what_the_matter_itself_refuses_carries_its_place() -> None:
    good = {"key": "k", "day": date(2026, 5, 2), "who": "R", "kind": "remark", "text": "x"}
    bad = good | {"kind": "job done", "job": "j"}
    bad.pop("text")
    wrong = {
        "key": "w", "day": date(2026, 5, 2), "who": "R", "kind": "event planned", "meeting": "m", "name": "n",
        "first_day": date(2026, 5, 3), "last_day": date(2026, 5, 2),
    }  # fmt: skip
    with pytest.raises(BadInput, match="entry 3, last day: found 2026-05-02; expected the first day"):
        drafts_from([good, bad, wrong], where)


def test_a_table_that_is_none_is_refused() -> None:
    with pytest.raises(BadInput, match="a table of fields"):
        drafts_from(["remark"], where)  # type: ignore[list-item]


def test_entries_need_a_number_and_a_time_of_writing() -> None:
    table = table_of(Draft(key="k", day=date(2026, 5, 2), who="R", matter=Remark(text="x")))
    with pytest.raises(BadInput) as refusal:
        entries_from([table], where)
    assert [problem.where for problem in refusal.value.problems] == ["entry 1, number", "entry 1, written_at"]
