"""The set-up sheet: each value with its boxes, what changed marked, one page whatever it holds."""

import io
from dataclasses import replace
from datetime import date

from pypdf import PdfReader

from setups_by_hand import chassis_by_hand, dry_by_hand, setup_by_hand
from tintop.car.setup_differences import differences
from tintop.papers.setup_paper import SetupPaper, setup_paper
from tintop.papers.typeset import set_setup_sheet

DAY, UNITS = date(2026, 6, 19), {"pressure": "bar"}


def _paper(**more: object) -> SetupPaper:
    return setup_paper(dry_by_hand(), chassis_by_hand(), car="Lantern", day=DAY, units=UNITS, **more)  # type: ignore[arg-type]


def test_what_changed_says_what_it_was() -> None:
    road, dry = setup_by_hand(), dry_by_hand()
    paper = _paper(before=road, changed=differences(road, dry, chassis_by_hand()))
    corners = {corner: {row.name: row for row in rows} for corner, rows in paper.corners}
    assert corners["FL"]["cold pressure"].value == "1.70 bar"
    assert corners["FL"]["cold pressure"].was == "1.90 bar"
    assert corners["RL"]["camber"].was == ""
    assert corners["FL"]["clicks, from soft"].value == "10"
    assert paper.changed_from == "road" and paper.torque == "110 N·m"
    whole = {row.name: (row.value, row.was) for row in paper.whole}
    assert whole["tyres"] == ("semi-slicks", "road tyres") and whole["ballast"] == ("none", "")


def test_one_page_whatever_it_holds() -> None:
    long = replace(
        dry_by_hand(), name="A very long name of a set-up " * 3, note="kerbs flat, bumps at the bridge " * 20
    )
    road = setup_by_hand()
    two = replace(long, front=replace(long.front, damper="two knobs"))
    paper = setup_paper(
        two,
        chassis_by_hand(),
        car="Lantern",
        day=DAY,
        units=UNITS,
        before=road,
        changed=differences(road, two, chassis_by_hand()),
    )
    (page,) = PdfReader(io.BytesIO(set_setup_sheet(paper))).pages
    text = " ".join(page.extract_text().split())
    for words in (
        "bump, from soft",
        "rebound, from soft",
        "set down",
        "corner loads",
        "% cross",
        "Wheel nuts",
    ):
        assert words in text


def test_the_same_sheet_is_the_same_paper() -> None:
    assert set_setup_sheet(_paper()) == set_setup_sheet(_paper())
