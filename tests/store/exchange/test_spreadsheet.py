"""The logbook as a spreadsheet, read back by an independent reader and by our own."""

import dataclasses
import zipfile
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from logbook.entry_strategies import KINDS, books, drafts, entry_of, values_of
from tintop.errors import BadInput
from tintop.logbook.entries import (
    AnswerGiven,
    CostKind,
    CostPaid,
    Draft,
    Entry,
    Matter,
    Measure,
    Reading,
    Remark,
    RoadDriven,
    SessionRun,
    Withdrawn,
)
from tintop.store.exchange import spreadsheet, spreadsheet_reading
from tintop.store.exchange.sheets import UNIT_OF_MEASURE, kind_sheets
from tintop.store.exchange.spreadsheet import logbook_to_spreadsheet
from tintop.store.exchange.spreadsheet_reading import logbook_from_spreadsheet

TODAY = date(2026, 5, 9)
same_folder = settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40, deadline=None
)


def export(folder: Path, *entries: Entry) -> Path:
    path = folder / "logbook.xlsx"
    logbook_to_spreadsheet(entries, path, title="Lantern", currency="£", today=TODAY)
    return path


def entry(number: int, matter: Matter, corrects: int | None = None) -> Entry:
    return entry_of(Draft(key="k", day=date(2026, 5, 2), who="Robin", matter=matter), number, corrects)


def a_race(*lap_times: float) -> SessionRun:
    return SessionRun(
        session="s",
        meeting="m",
        name="n",
        session_kind="race",
        duration=sum(lap_times),
        laps=len(lap_times),
        distance=3000.0 * len(lap_times),
        lap_times=lap_times,
    )


def pages(path: Path) -> dict[str, list[list[Any]]]:
    book = CalamineWorkbook.from_path(path)
    return {name: book.get_sheet_by_name(name).to_python() for name in book.sheet_names}


def rows(path: Path, sheet: str) -> list[dict[str, Any]]:
    heads, *found = pages(path)[sheet]
    return [dict(zip(heads, row, strict=True)) for row in found]


def changed(path: Path, sheet: str, cell: str, value: object) -> Path:
    book = openpyxl.load_workbook(path)
    book[sheet][cell] = value
    book.save(path)
    return path


def numbers_in(value: Any) -> list[float]:
    if isinstance(value, bool):
        return []
    if isinstance(value, (int, float)):
        return [float(value)]
    if dataclasses.is_dataclass(value):
        return [
            number
            for field in dataclasses.fields(value)
            for number in numbers_in(
                getattr(value, field.name) / 100
                if field.name.endswith("cents") and getattr(value, field.name) is not None
                else getattr(value, field.name)
            )
        ]
    if isinstance(value, dict):
        value = tuple(value.values())
    return [number for one in value for number in numbers_in(one)] if isinstance(value, tuple) else []


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
@given(data=st.data())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=15, deadline=None)
def test_every_number_of_every_kind_is_read_back_equal_by_an_independent_reader(
    tmp_path: Path, kind: type, data: st.DataObject
) -> None:
    one = entry_of(data.draw(drafts(values_of(kind))), 1)
    path = export(tmp_path, one)
    found = [
        cell
        for name, page in pages(path).items()
        if name != "read me"
        for row in page[1:]
        for cell in (row[2:] if ", " in name else row[1:])
        if isinstance(cell, float) and not isinstance(cell, bool)
    ]
    assert sorted(found) == sorted(numbers_in(one.matter))
    assert logbook_from_spreadsheet(path) == (one,)


@given(books())
@same_folder
def test_a_book_comes_back_equal(tmp_path: Path, entries: tuple[Entry, ...]) -> None:
    assert logbook_from_spreadsheet(export(tmp_path, *entries)) == entries


def test_the_first_sheet_says_what_this_is(tmp_path: Path) -> None:
    page = dict(pages(export(tmp_path, entry(1, Remark(text="x"))))["read me"])
    assert (page["garage"], page["written on"], page["entries"]) == ("Lantern", TODAY, 1.0)
    assert "Pa" in page["units"] and "£" in page["money"]


def test_a_reading_is_a_row_with_its_unit_and_corrected_ones_are_marked(tmp_path: Path) -> None:
    wrong, right = (
        Reading(measure=Measure.PRESSURE_HOT, value=value, corner="FL") for value in (2.3e5, 2.1e5)
    )
    path = export(
        tmp_path, entry(1, wrong), entry(2, right, 1), entry(3, Remark(text="x")), entry(4, Withdrawn(), 3)
    )
    found = rows(path, "reading")
    assert [(row["entry"], row["value (SI)"], row["unit"], row["stands"]) for row in found] == [
        (1.0, 2.3e5, "Pa", "no, corrected by entry 2"),
        (2.0, 2.1e5, "Pa", "yes"),
    ]
    assert rows(path, "remark")[0]["stands"] == "no, withdrawn by entry 4"
    assert found[0]["day"] == date(2026, 5, 2)


def test_every_measure_but_other_has_its_unit() -> None:
    assert set(UNIT_OF_MEASURE) == set(Measure) - {Measure.OTHER}


def test_heads_are_words_that_come_once() -> None:
    for sheet in kind_sheets():
        for columns in (sheet.columns, *(one.columns for one in sheet.lists)):
            heads = [column.head for column in columns]
            assert len(set(heads)) == len(heads) and not any("_" in head for head in heads)
        assert all(len(title) <= 31 for title in (sheet.kind, *(one.title for one in sheet.lists)))


def test_money_is_a_number_with_two_decimals(tmp_path: Path) -> None:
    path = export(tmp_path, entry(1, CostPaid(cost_kind=CostKind.FUEL, cents=-12_305, what="=sold")))
    (row,) = rows(path, "cost")
    assert (row["amount [£]"], row["what"]) == (-123.05, "=sold")
    assert openpyxl.load_workbook(path)["cost"]["E2"].number_format == "0.00"


def test_lap_times_are_numbers_on_a_sheet_of_their_own(tmp_path: Path) -> None:
    found = rows(export(tmp_path, entry(5, a_race(104.2, 103.1, 103.2))), "session run, lap times")
    assert [(row["entry"], row["place"], row["value [s]"]) for row in found] == [
        (5.0, 1.0, 104.2),
        (5.0, 2.0, 103.1),
        (5.0, 3.0, 103.2),
    ]


def test_a_long_answer_goes_on_in_further_columns(tmp_path: Path) -> None:
    content = "".join(chr(0x4E00 + place % 5000) for place in range(50_000))
    given = AnswerGiven(
        question="ready", meeting="m", content=content, revisions={"car.toml": "ab"}, last_entry=3
    )
    short = dataclasses.replace(given, content="{}")
    path = export(tmp_path, entry(1, given), entry(2, short))
    assert {"content", "content (2)", "content (3)", "content (4)"} <= rows(path, "answer given")[0].keys()
    assert [one.matter.content for one in logbook_from_spreadsheet(path)] == [content, "{}"]  # type: ignore[union-attr]


def test_more_rows_than_a_spreadsheet_holds_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(spreadsheet, "MOST_ROWS", 4)
    three = [entry(number, Remark(text="x")) for number in (1, 2, 3)]
    export(tmp_path, *three).unlink()
    with pytest.raises(
        BadInput, match=r"the sheet 'remark': found 4 rows; expected at most 3, .* folder of text"
    ):
        export(tmp_path, *three, entry(4, Remark(text="x")))
    assert list(tmp_path.iterdir()) == []
    run = a_race(1.0, 1.0, 1.0, 1.0)
    with pytest.raises(BadInput, match="the sheet 'session run, lap times': found 4 rows"):
        export(tmp_path, entry(1, run))


def test_what_a_person_typed_into_the_sheet_is_read(tmp_path: Path) -> None:
    path = export(
        tmp_path, entry(1, CostPaid(cost_kind=CostKind.FUEL, cents=5, what="x")), entry(2, Remark(text="y"))
    )
    changed(path, "cost", "E2", 19.9)
    changed(path, "cost", "F2", 7)
    changed(path, "remark", "B2", date(2026, 6, 1))
    cost, remark = logbook_from_spreadsheet(path)
    assert isinstance(cost.matter, CostPaid)
    assert (cost.matter.cents, cost.matter.what, remark.day) == (1990, "7", date(2026, 6, 1))


@pytest.mark.parametrize(
    ("sheet", "cell", "value", "sentence"),
    [
        (
            "road driven",
            "D2",
            "5 km",
            "sheet 'road driven' row 2, distance: found '5 km'; expected a number.",
        ),
        ("session run", "I2", -5, "row 2, laps: found -5; expected zero or more"),
        (
            "road driven",
            "D1",
            "distnce [m]",
            "row 1: found a column 'distnce [m]'; expected the columns of the export.",
        ),
        ("road driven", "D1", "distance [km]", "found a column 'distance [km]'"),
        ("road driven", "D1", None, "row 1: found no column 'distance [m]'"),
        ("road driven", "A2", 2, "found entry 2 a second time"),
        ("road driven", "A2", None, "row 2, entry: found None; expected the number of the entry"),
        ("road driven", "B2", "soon", "row 2, day: found 'soon'; expected a day such as"),
        ("cost", "E2", 1.005, "row 2, amount: found 1.005; expected an amount with two decimals at most"),
        ("cost", "E2", "a lot", "found 'a lot'; expected an amount"),
        ("cost", "D2", "feul", "found 'feul'; expected one of the car, "),
        (
            "session run, lap times",
            "A2",
            1,
            "found 1; expected the number of an entry on the sheet 'session run'",
        ),
        ("session run, lap times", "B2", 2, "expected a place that comes once"),
        ("session run, lap times", "C2", "slow", "lap_times.1: found 'slow'; expected a number"),
        ("reading", "A1", "x", "a sheet of an unknown name"),
    ],
)
def test_what_does_not_fit_is_named_by_its_place(
    tmp_path: Path, sheet: str, cell: str, value: object, sentence: str
) -> None:
    run = a_race(1.0, 2.0)
    cost = CostPaid(cost_kind=CostKind.FUEL, cents=5, what="x")
    path = export(tmp_path, entry(1, RoadDriven(distance=5.0)), entry(2, cost), entry(3, run))
    if sheet == "reading":
        book = openpyxl.load_workbook(path)
        book.create_sheet("raeding")
        book.save(path)
    else:
        changed(path, sheet, cell, value)
    with pytest.raises(BadInput) as refusal:
        logbook_from_spreadsheet(path)
    assert sentence in str(refusal.value)


@pytest.mark.parametrize("content", [b"", b"hello", b"PK\x03\x04 cut short"])
def test_what_is_no_spreadsheet_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "logbook.xlsx"
    path.write_bytes(content)
    with pytest.raises(BadInput, match="no spreadsheet"):
        logbook_from_spreadsheet(path)


def test_the_name_of_the_file_does_not_matter(tmp_path: Path) -> None:
    one = entry(1, Remark(text="x"))
    renamed = export(tmp_path, one).rename(tmp_path / "season.backup")
    assert logbook_from_spreadsheet(renamed) == (one,)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no such file"):
        logbook_from_spreadsheet(tmp_path / "none.xlsx")


def with_part(path: Path, name: str, change: Callable[[bytes], bytes]) -> None:
    with zipfile.ZipFile(path) as package:
        parts = {one: package.read(one) for one in package.namelist()}
    parts[name] = change(parts[name])
    with zipfile.ZipFile(path, "w") as package:
        for one, content in parts.items():
            package.writestr(one, content)


@given(st.data())
@same_folder
def test_damage_to_any_part_is_refused_in_words_or_read(tmp_path: Path, data: st.DataObject) -> None:
    path = export(tmp_path, entry(1, a_race(104.2, 103.1)), entry(2, Remark(text="x")))
    with zipfile.ZipFile(path) as package:
        name = data.draw(st.sampled_from(package.namelist()))
        size = len(package.read(name))
    place, cut = data.draw(st.integers(0, size)), data.draw(st.integers(0, 30))
    put = data.draw(st.sampled_from([b"", b"<", b'"', b"-1", b"1e999", b"&x;", b"99999999"]))
    with_part(path, name, lambda content: content[:place] + put + content[place + cut :])
    with suppress(BadInput):
        assert logbook_from_spreadsheet(path)


def test_a_text_that_swells_is_refused(tmp_path: Path) -> None:
    path = export(tmp_path, entry(1, Remark(text="x")))
    bomb = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "xx"><!ENTITY c "&b;&b;">]>'
    with_part(
        path, "xl/sharedStrings.xml", lambda content: content.replace(content[: content.index(b"<sst")], bomb)
    )
    with pytest.raises(BadInput, match="no spreadsheet"):
        logbook_from_spreadsheet(path)


def test_a_spreadsheet_that_unpacks_to_too_much_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = export(tmp_path, entry(1, Remark(text="x")))
    monkeypatch.setattr(spreadsheet_reading, "LARGEST", 1000)
    with pytest.raises(BadInput, match="MB unpacked"):
        logbook_from_spreadsheet(path)


def test_a_sheet_that_got_lost_is_told(tmp_path: Path) -> None:
    path = export(tmp_path, entry(1, a_race(104.2, 103.1)), entry(2, Remark(text="x")))
    book = openpyxl.load_workbook(path)
    del book["remark"]
    book.save(path)
    with pytest.raises(BadInput, match="2 entries told and 1 in the other sheets"):
        logbook_from_spreadsheet(path)
    book["read me"]["B3"] = 1
    book.save(path)
    assert len(logbook_from_spreadsheet(path)) == 1
