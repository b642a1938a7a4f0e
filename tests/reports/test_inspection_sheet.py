"""The inspection as a sheet and as plain content: worst on top, nothing left out of the content."""

import json
from dataclasses import replace
from datetime import date

import pytest

from findings_by_hand import BOOK, clause, finding, inspection, millimetres, proven
from tintop.questions.is_it_legal import is_it_legal
from tintop.reports.inspection_sheet import exit_code, inspection_content, inspection_sheet
from tintop.rules.book import Read, Severity
from tintop.rules.facts import FactKey
from tintop.rules.findings import Ruling

MET = finding("seat", Ruling.PASS, evidence=(proven("seat.label"),), margin=millimetres(4.0, 0.1))
FAILED = finding("belts", Ruling.FAIL, to_do="Fit new belts.")
DATED = finding("helmet", Ruling.PASS, expires=date(2026, 8, 1))
GONE = finding("net", Ruling.EXPIRES, Severity.MEND, expires=date(2026, 6, 1))
OPEN = finding("lamp", Ruling.NOT_PROVEN, missing=(FactKey("lamp.height"),))
UNVERIFIED = finding("post", Ruling.NOT_PROVEN, on=clause("post", read=Read.MEMORY), is_unverified=True)


def tables(*findings, has_all: bool = False):
    found = inspection(*findings)
    sheet = inspection_sheet(is_it_legal(None, found), found, has_all)
    return sheet, {table.title: table.rows for table in sheet.tables}


def test_what_is_not_met_stands_worst_first_with_rule_and_what_to_do():
    sheet, found = tables(MET, OPEN, GONE, FAILED, UNVERIFIED)
    rows = found["Not met, or not proven"]
    assert [row[0] for row in rows] == [
        "✗ fail, stops the car",
        "† expires before the event",
        "? not proven, may stop the car",
    ]
    assert rows[0][2:] == (f"art. 5, {BOOK.id}", "Fit new belts.")
    (unverified,) = found["Met by figures from memory, which prove nothing until you have looked them up"]
    assert unverified[2] == f"art. 4, {BOOK.id}, from memory"
    assert sheet.sentences[1] == "1 fail, 1 expires before the event, 2 not proven, 1 pass."
    assert set(sheet.cautions) >= set(BOOK.cautions)


def test_dates_stand_by_day_and_books_with_their_edition():
    _, found = tables(DATED, GONE)
    assert found["Dates"] == [("2026-06-01", "Net", "-20"), ("2026-08-01", "Helmet", "41")]
    assert found["Rule books, the lowest first"] == [(BOOK.id, BOOK.title, BOOK.edition, "2026-01-01 to …")]


def test_what_is_met_is_listed_only_when_asked_with_its_proof():
    assert "Met, or not applicable" not in tables(MET, FAILED)[1]
    rows = tables(MET, FAILED, has_all=True)[1]["Met, or not applicable"]
    assert rows[0][3:] == ("4 mm", "label, 2026-05-01, entry 7")


@pytest.mark.parametrize(
    ("findings", "code"),
    [((MET,), 0), ((MET, GONE), 0), ((MET, OPEN), 3), ((OPEN, FAILED), 1), ((), 3)],
)
def test_the_exit_code(findings, code):
    assert exit_code(inspection(*findings)) == code


def test_books_of_some_figures_only_are_called_so():
    found = replace(inspection(MET), books=(replace(BOOK, is_partial=True),))
    sheet = inspection_sheet(is_it_legal(None, found), found)
    assert any("holds only some figures" in sentence for sentence in sheet.sentences)
    (books,) = [table for table in sheet.tables if table.title.startswith("Rule books")]
    assert books.rows[0][1].endswith("(some figures only)")
    assert exit_code(found) == 3


def test_the_content_holds_every_clause_and_is_plain():
    found = inspection(MET, OPEN, GONE, FAILED)
    content = json.loads(json.dumps(inspection_content(is_it_legal(None, found), found), allow_nan=False))
    assert [each["id"].partition(":")[2] for each in content["clauses"]] == ["belts", "net", "lamp", "seat"]
    assert content["counts"] == {
        "fail": 1, "expires before the event": 1, "not proven": 1, "advised against": 0, "pass": 1,
        "not applicable": 0,
    }  # fmt: skip
    assert content["stops_racing"] == [f"{BOOK.id}:belts"] and content["left_open"] == [f"{BOOK.id}:lamp"]
    assert content["clauses"][1]["severity"] == "must be mended"
