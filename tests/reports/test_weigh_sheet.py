"""The weighing on a sheet: every corner's turn, the ballast, the ledger, and the same in plain content."""

import json
from dataclasses import replace

import pytest

from benches import demo_bench
from books import Writer, kilograms, on
from tintop.car.chassis import CORNERS, End
from tintop.car.on_scales import Lifted, OnScales
from tintop.logbook.entries import Area, Measure
from tintop.logbook.mass_ledger import mass_ledger
from tintop.questions.what_does_it_weigh import Before, Weighed, what_does_it_weigh
from tintop.reports.answer_content import exit_code
from tintop.reports.weigh_sheet import weigh_content, weigh_sheet

SKEWED = OnScales(loads=(361.0, 335.5, 203.0, 246.5), is_driver_aboard=True, fuel_volume=0.032)


def weighed(scales: OnScales = SKEWED, **more) -> Weighed:
    bench = demo_bench()
    more = {"chassis": bench.chassis, "setup": bench.setup("dry"), **more}
    return what_does_it_weigh(scales, bench.described, **more)


def table(sheet, start):
    return next(each for each in sheet.tables if each.title.startswith(start))


def test_each_corner_has_its_load_and_its_turn():
    sheet = weigh_sheet(weighed())
    rows = table(sheet, "Cross-weight 46.99 %").rows
    assert [row[0] for row in rows] == list(CORNERS)
    assert rows[0][1] == "361.0" and rows[0][3].startswith("down") and rows[1][3].startswith("up")
    assert any(words.startswith("Next: FL down") for words in sheet.sentences)
    assert sheet.cautions


def test_without_a_chassis_the_corners_stand_alone():
    sheet = weigh_sheet(what_does_it_weigh(SKEWED, demo_bench().described))
    assert table(sheet, "At the corners").rows[0][3] == ""
    assert any("Describe chassis" in words for words in sheet.sentences)


def test_ballast_has_its_place_pull_and_bolts():
    short = replace(demo_bench().chassis, least_mass=1140.0)
    found = weighed(chassis=short)
    rows = table(weigh_sheet(found), "Ballast:").rows
    assert rows[0][0] in ("passenger's footwell", "spare wheel well")
    assert float(rows[0][2]) == pytest.approx(found.ballast.placed[0].mass * 25 * 9.80665 / 1e3, abs=0.06)
    assert exit_code(found.answer) == 1
    assert exit_code(weighed(replace(SKEWED, fuel_volume=None)).answer) == 3
    assert exit_code(weighed().answer) == 0


def test_the_ledger_stands_beside_the_scales():
    book = Writer()
    book.part("2026-01-01", "cage", area=Area.CAGE, mass=kilograms(38, 1.5))
    book.part("2026-01-01", "heater", area=Area.CABIN)
    book.read("2026-01-02", Measure.MASS, 1000)
    book.fit("2026-02-02", "cage")
    book.fit("2026-02-03", "heater")
    book.read("2026-03-02", Measure.MASS, 1040)
    sheet = weigh_sheet(weighed(before=Before(ledger=mass_ledger(book.book, on("2026-12-31")))))
    assert table(sheet, "Scales against").rows[1][:4] == ("2026-03-02", "1040.0", "1038.0", "+2.0")
    assert [row[1:3] for row in table(sheet, "Last parts").rows] == [("Heater", ""), ("Cage", "+38.0")]


def test_content_is_plain_and_names_its_units():
    found = weighed(lifted=Lifted(raised=End.REAR, down=(353.0, 362.5), lift=0.4))
    content = json.loads(json.dumps(weigh_content(found)))
    assert content["loads_kg"]["FL"] == 361.0
    assert content["cross_share"] == pytest.approx(538.5 / 1146.0)
    assert content["cg_height"]["height_m"] == pytest.approx(found.height.height)
    assert content["ballast"]["margin_kg"] == pytest.approx(found.ballast.margin)
    assert sum(content["turns"]["loads_kg"].values()) == pytest.approx(1146.0)
