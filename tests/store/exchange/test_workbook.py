"""The workbook file as two independent readers see it: numbers exact, days days, text never a formula."""

import zipfile
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from tintop.store.exchange.workbook import Sheet, column_letters, kept_text, text_of, write_workbook

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
same_folder = settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None
)


def book(folder: Path, *rows: list[Any]) -> Path:
    path = folder / "book.xlsx"
    width = max(map(len, rows))
    sheet = Sheet(title="one & only", widths=[12.0] * width, height=len(rows) + 1, rows=[["head"], *rows])
    write_workbook(path, [sheet])
    return path


def by_calamine(path: Path) -> list[list[Any]]:
    return CalamineWorkbook.from_path(path).get_sheet_by_name("one & only").to_python()[1:]


def by_openpyxl(path: Path) -> list[tuple[Any, ...]]:
    return list(openpyxl.load_workbook(path)["one & only"].iter_rows(min_row=2, values_only=True))


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=1, max_size=20))
@same_folder
def test_every_number_is_read_back_equal_by_both(tmp_path: Path, numbers: list[float]) -> None:
    path = book(tmp_path, numbers)
    assert by_calamine(path) == [numbers]
    assert [float(value) for value in by_openpyxl(path)[0]] == numbers


@given(st.lists(st.integers(-(10**13), 10**13), min_size=1, max_size=20))
@same_folder
def test_every_amount_of_money_is_the_nearest_number_and_gives_its_hundredths_back(
    tmp_path: Path, cents: list[int]
) -> None:
    path = book(tmp_path, [Decimal(one).scaleb(-2) for one in cents])
    assert by_calamine(path) == [[one / 100 for one in cents]]
    assert [round(value * 100) for value in by_calamine(path)[0]] == cents


@given(st.lists(st.text(st.characters(exclude_categories=("Cs", "Cc"), exclude_characters="\ufffe\uffff"))))
@same_folder
def test_every_text_is_text(tmp_path: Path, texts: list[str]) -> None:
    path = book(tmp_path, [*texts, "end"])
    assert [text_of(value or "") for value in by_openpyxl(path)[0]] == [*texts, "end"]


@pytest.mark.parametrize(
    "text", ["=1+1", "+44 20", "-3", "@home", '=HYPERLINK("x")', "#N/A", "1e5", "TRUE", "2026-05-02"]
)
def test_text_that_looks_like_something_else_stays_text(tmp_path: Path, text: str) -> None:
    path = book(tmp_path, [text])
    assert by_calamine(path) == [[text]]
    cell = openpyxl.load_workbook(path).active["A2"]
    assert (cell.value, cell.data_type) == (text, "s")


def test_lines_tabs_and_blanks_are_kept_and_control_characters_marked(tmp_path: Path) -> None:
    path = book(tmp_path, ["  a\n\tb ", "a\x00b\x1bc\r", "\ufffe"])
    assert by_calamine(path) == [["  a\n\tb ", "a�b�c�", "�"]]


@given(st.text(st.characters(exclude_categories=("Cs", "Cc"))))
def test_the_escape_of_the_format_is_itself_escaped(text: str) -> None:
    for piece in (text, f"_x0041_{text}_x005F_", f"{text}_x00"):
        assert text_of(kept_text(piece)) == piece.replace("\ufffe", "�").replace("\uffff", "�")


def test_an_escape_is_written_as_the_standard_says(tmp_path: Path) -> None:
    """ECMA-376 part 1, 22.9.2.19: the text _x0041_ is stored as _x005F_x0041_."""
    with zipfile.ZipFile(book(tmp_path, ["_x0041_"])) as package:
        texts = ElementTree.fromstring(package.read("xl/sharedStrings.xml"))
    assert [found.text for found in texts.iter(f"{MAIN}t")] == ["head", "_x005F_x0041_"]


@given(st.dates(date(1900, 1, 1), date(2200, 12, 31)))
@same_folder
def test_days_are_days(tmp_path: Path, day: date) -> None:
    path = book(tmp_path, [day])
    found = by_calamine(path)[0][0]
    if day < date(1900, 3, 1):
        assert found == day.isoformat()
        return
    assert found == day
    assert by_openpyxl(path) == [(datetime(day.year, day.month, day.day),)]  # noqa: DTZ001


def test_yes_and_no_nothing_and_very_large_numbers(tmp_path: Path) -> None:
    path = book(tmp_path, [True, False, None, 2**53, 2**53 + 1, "end"])
    assert by_calamine(path) == [[True, False, "", float(2**53), str(2**53 + 1), "end"]]


def test_money_and_days_wear_their_format(tmp_path: Path) -> None:
    page = openpyxl.load_workbook(book(tmp_path, [Decimal("12.50"), date(2026, 5, 2)])).active
    assert page["A2"].number_format == "0.00"
    assert page["B2"].is_date and page["A1"].font.bold
    assert page.freeze_panes == "B2"


def test_the_same_values_give_the_same_bytes(tmp_path: Path) -> None:
    first = book(tmp_path, ["a", 1.5]).read_bytes()
    assert book(tmp_path, ["a", 1.5]).read_bytes() == first


def test_columns_are_named_as_openpyxl_names_them() -> None:
    places = [1, 26, 27, 52, 53, 702, 703, 16384]
    assert [column_letters(place) for place in places] == [
        openpyxl.utils.get_column_letter(place) for place in places
    ]
