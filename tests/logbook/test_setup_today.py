"""Which set-up is on the car: the one put on last, and what was changed since."""

import math
from dataclasses import replace

import pytest

from benches import demo_bench
from books import Writer, on
from tintop.car.chassis import End
from tintop.logbook.entries import SetupChanged
from tintop.logbook.setup_today import SetupToday, setup_today

DAY = "2026-06-10"


def _today(*changes: SetupChanged, put_on: str = "dry", day: str = DAY) -> SetupToday:
    writer = Writer()
    writer.write("2026-05-01", SetupChanged(item="camber", value=math.radians(-1.0), quantity="angle"))
    if put_on:
        writer.write("2026-06-01", SetupChanged(item="set-up", written=put_on))
    for change in changes:
        writer.write("2026-06-05", change)
    bench = demo_bench()
    return setup_today(bench.as_written, writer.book, on(day), bench.chassis)


def test_the_set_up_put_on_last_is_on_the_car_as_written():
    found = _today()
    assert (found.stem, found.since) == ("dry", on("2026-06-01"))
    assert found.setup == demo_bench().as_written["dry"], "what was changed before is no part of it"
    assert found.laid_over == () and found.unread == ()


def test_without_an_entry_nothing_is_said_to_be_on_the_car():
    found = _today(put_on="")
    assert (found.stem, found.setup, found.since) == ("", None, None)


def test_a_later_set_up_wins_and_a_day_before_knows_nothing_of_it():
    later = SetupChanged(item="set-up", written="wet")
    assert _today(later).stem == "wet"
    assert _today(later, day="2026-06-03").stem == "dry"


@pytest.mark.parametrize(
    ("change", "read", "value"),
    [
        (
            SetupChanged(item="camber", corner="FL", value=-0.055, quantity="angle"),
            lambda setup: setup.corner("FL").camber,
            -0.055,
        ),
        (
            SetupChanged(item="toe", corner="FR", value=-0.0015, quantity="length"),
            lambda setup: setup.corner("FR").toe,
            -math.asin(1.5 / 405.0),
        ),
        (
            SetupChanged(item="toe", value=0.002, quantity="angle"),
            lambda setup: setup.corner("RR").toe,
            0.002,
        ),
        (
            SetupChanged(item="damper, rebound", corner="RL", value=7.0, quantity="clicks"),
            lambda setup: setup.corner("RL").rebound,
            7,
        ),
        (
            SetupChanged(item="rear bar", value=2.0, written="2nd hole", quantity="number"),
            lambda setup: setup.rear.bar_hole,
            2,
        ),
        (
            SetupChanged(item="rear bar", written="1st hole"),
            lambda setup: setup.rear.bar_hole,
            1,
        ),
        (
            SetupChanged(item="front bar", written="22 mm, two holes"),
            lambda setup: setup.front.bar,
            "22 mm, two holes",
        ),
        (
            SetupChanged(item="spring", corner="FL", value=60000.0, written="60 N/mm"),
            lambda setup: setup.front.spring,
            "60 N/mm",
        ),
        (
            SetupChanged(item="ride height", corner="FL", value=0.130, quantity="length"),
            lambda setup: setup.corner("FL").ride_height,
            0.130,
        ),
        (SetupChanged(item="tyres", written="wets"), lambda setup: setup.tyres, "wets"),
        (
            SetupChanged(item="brake bias", value=-1.0, written="-1 turn", quantity="turns"),
            lambda setup: setup.brake_bias_turns,
            -1.0,
        ),
    ],
)
def test_a_change_since_is_laid_over_the_set_up(change, read, value):
    found = _today(change)
    assert found.unread == ()
    assert read(found.setup) == (value if isinstance(value, str) else pytest.approx(value))
    assert [each.item for each in found.laid_over] == [change.item]


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (SetupChanged(item="brake bias", value=0.7, written="70 % front"), "no number of turns"),
        (SetupChanged(item="brake bias", value=-13.0, written="-13 turns"), "-12 to 4 turns"),
        (SetupChanged(item="rear bar", written="4th hole", value=4.0), "0 (unhooked) to 3"),
        (SetupChanged(item="front bar", written="the thick one"), "neither a bar"),
        (SetupChanged(item="spring", corner="FL", value=55000.0), "no springs of this rate"),
        (SetupChanged(item="spring", value=60000.0), "which corner"),
        (SetupChanged(item="camber", corner="FL", written="a bit more"), "no number"),
        (SetupChanged(item="camber", corner="FL", value=-0.5, quantity="angle"), "camber"),
        (SetupChanged(item="damper, bump", corner="FL", value=99.0), "16"),
        (SetupChanged(item="damper, bump", corner="FL", value=3.5), "whole"),
        (SetupChanged(item="damper, bump", corner="FL", value=8.0, written="8"), "from full soft or"),
        (
            SetupChanged(item="damper, bump", corner="FL", value=17.0, written="17 from full hard"),
            "0 or more",
        ),
        (SetupChanged(item="tyres", written="slicks"), "one of: semi-slicks"),
        (SetupChanged(item="final drive", value=3.9), "4.06"),
        (SetupChanged(item="wing", written="flat"), "no part of a set-up's sheet"),
    ],
)
def test_a_change_that_cannot_be_laid_over_is_told_and_the_rest_stands(change, why):
    found = _today(change)
    assert found.setup == demo_bench().as_written["dry"] and found.laid_over == ()
    (unread,) = found.unread
    assert why in unread.why and unread.item == change.item


def test_clicks_counted_from_full_hard_are_turned_round():
    """16 clicks in all: 6 from full hard are 10 from full soft; 10 at the rear: 6 are 4."""
    hard = SetupChanged(
        item="damper, rebound", value=6.0, written="6 clicks from full hard", quantity="clicks"
    )
    found = _today(hard)
    assert found.unread == ()
    assert [corner.rebound for corner in found.setup.corners] == [10, 10, 4, 4]


def test_one_knob_turns_bump_and_rebound_together():
    bench = demo_bench()
    front = bench.chassis.front
    chassis = replace(
        bench.chassis, front=replace(front, dampers=(replace(front.dampers[0], is_linked=True),))
    )
    setups = {"dry": bench.as_written["dry"].with_pair(End.FRONT, bump=10)}
    writer = Writer()
    writer.write("2026-06-01", SetupChanged(item="set-up", written="dry"))
    writer.write(
        "2026-06-02", SetupChanged(item="damper, rebound", corner="FL", value=7.0, quantity="clicks")
    )
    found = setup_today(setups, writer.book, on(DAY), chassis)
    assert found.unread == ()
    assert (found.setup.corner("FL").bump, found.setup.corner("FL").rebound) == (7, 7)


def test_a_set_up_nobody_wrote_is_told():
    found = _today(put_on="dyr")
    assert found.setup is None and found.stem == ""
    assert "'dyr'" in found.unread[0].why
