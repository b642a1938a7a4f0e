"""The set-up item by item: by the sheet put on last, by what was changed since, by entries alone without."""

import math

import pytest

from benches import demo_bench
from books import Writer, on
from tintop.logbook.entries import SetupChanged
from tintop.logbook.setup import SetupItem, setup_on
from tintop.logbook.setup_by_sheet import setup_items
from tintop.logbook.setup_today import setup_today

BENCH = demo_bench()
DAY = on("2026-06-10")
OLD_CAMBER = SetupChanged(item="camber", corner="FL", value=math.radians(-2.9), quantity="angle")


def _items(*changes: SetupChanged) -> dict[tuple[str, str], SetupItem]:
    writer = Writer()
    writer.write("2026-05-01", OLD_CAMBER)
    writer.write("2026-05-01", SetupChanged(item="wing", written="flat"))
    for change in changes:
        writer.write("2026-06-05", change)
    today = setup_today(BENCH.as_written, writer.book, DAY, BENCH.chassis)
    return {(one.item, one.corner): one for one in setup_items(today, writer.book, DAY, BENCH.chassis)}


WET_ON = SetupChanged(item="set-up", written="wet")


def test_the_sheet_put_on_ends_what_was_written_before_and_says_so():
    wet, found = BENCH.as_written["wet"], _items(WET_ON)
    for place, corner in enumerate(("FL", "FR", "RL", "RR")):
        wheel = wet.corners[place]
        assert found["camber", corner].value == wheel.camber
        assert found["ride height", corner].value == wheel.ride_height
        assert found["cold pressure", corner].value == wheel.pressure_cold
        assert found["damper, bump", corner].written == f"{wheel.bump} from full soft"
    camber = found["camber", "FL"]
    assert camber.is_by_sheet and camber.since == on("2026-06-05")
    assert camber.reason == f"by the sheet {wet.name}"
    assert found["tyres", ""].written == "wets"
    assert found["wing", ""].written == "flat", "what no sheet has stands as it was"


def test_toe_comes_back_as_the_length_over_the_rim_that_the_sheet_wrote():
    assert _items(SetupChanged(item="set-up", written="dry"))["toe", "FL"].value == pytest.approx(-0.001)


def test_a_change_after_it_stands_as_changed_at_its_corner_alone():
    change = SetupChanged(
        item="camber", corner="FL", value=math.radians(-1.0), quantity="angle", reason="strings"
    )
    found = _items(WET_ON, change)
    assert found["camber", "FL"].value == pytest.approx(math.radians(-1.0))
    assert (found["camber", "FL"].is_by_sheet, found["camber", "FL"].reason) == (False, "strings")
    assert found["camber", "FR"].is_by_sheet


def test_a_change_that_could_not_be_read_stands_as_written():
    found = _items(WET_ON, SetupChanged(item="brake balance", value=0.85, written="85 % front"))
    assert found["brake bias", ""].written == "85 % front"
    assert not found["brake bias", ""].is_by_sheet


def test_without_a_sheet_the_entries_alone_stand():
    found = _items()
    assert set(found) == {("camber", "FL"), ("wing", "")}
    writer = Writer()
    writer.write("2026-05-01", OLD_CAMBER)
    assert setup_items(None, writer.book, DAY, BENCH.chassis) == setup_on(writer.book, DAY)
