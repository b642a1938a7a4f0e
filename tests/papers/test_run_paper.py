"""The run sheet to fill in by hand: empty where nothing is known, with targets where a set-up is named."""

import io
from datetime import date

from pypdf import PdfReader

from setups_by_hand import dry_by_hand
from tintop.papers.run_paper import LAP_ROWS, run_paper
from tintop.papers.typeset import set_run_sheet

DAY, UNITS = date(2026, 6, 19), {"pressure": "bar"}


def test_targets_stand_beside_the_boxes() -> None:
    paper = run_paper(day=DAY, units=UNITS, setup=dry_by_hand(), hot=(2.2e5, 2.2e5, 2.1e5, None))
    assert paper.cold == ("1.70 bar", "1.70 bar", "1.80 bar", "1.80 bar")
    assert paper.hot == ("2.20 bar", "2.20 bar", "2.10 bar", "")
    assert (paper.setup, paper.tyres) == ("dry", "semi-slicks")


def test_an_empty_sheet_claims_nothing() -> None:
    paper = run_paper(day=DAY, units=UNITS)
    assert paper.cold == paper.hot == ("",) * 4
    (page,) = PdfReader(io.BytesIO(set_run_sheet(paper))).pages
    text = page.extract_text()
    assert "bar" not in text.replace("Session", "")
    assert str(LAP_ROWS) in text and "Change for the next run" in text


def test_one_page_with_long_names() -> None:
    paper = run_paper(
        day=DAY, units=UNITS, event="An event of a very long name " * 5, session="Practice " * 9
    )
    assert len(PdfReader(io.BytesIO(set_run_sheet(paper))).pages) == 1
