"""Which gearing: the ranking in words, what a tachometer should read, and what less engine speed costs."""

import math
from dataclasses import replace
from functools import cache

import pytest

from demo_cars import demo_circuit, demo_lane
from setups_by_hand import chassis_by_hand, dry_by_hand
from tintop.car.described import DescribedCar
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.lap.gearing import Round
from tintop.questions.which_gearing import GearingAnswer, which_gearing
from tintop.store.demo import demo_path
from tintop.store.documents.car_reader import read_car

RPM = math.pi / 30.0
ROUNDS = {"larkmoor": Round(circuit=demo_circuit(5.0), path=demo_lane(5.0), weather=Weather())}


@cache
def described() -> DescribedCar:
    return read_car(demo_path("car.toml"))


def asked(final_drive: float, *more: float) -> GearingAnswer:
    chassis = replace(chassis_by_hand(), final_drives=(4.1, 5.6), tyre_sets=chassis_by_hand().tyre_sets[1:])
    return which_gearing(
        described(), chassis, replace(dry_by_hand(), final_drive=final_drive), ROUNDS, more=more
    )


def test_a_far_too_short_final_drive_is_told_to_go_with_its_gain_and_range() -> None:
    found = asked(5.6)
    gain, low, high = found.gain
    assert 0.0 < low < gain < high
    assert found.answer.next_thing.startswith("Fit 4.1 on semi-slicks")
    assert f"{gain:.2f} s quicker" in found.answer.sentence
    assert found.ranked[0].final_drive == 4.1
    assert found.now.final_drive == 5.6


def test_the_gain_is_that_of_whole_laps() -> None:
    found = asked(5.6)
    before, after = (one.laps["larkmoor"].mean_lap_time for one in (found.now, found.ranked[0]))
    assert found.gain[0] == pytest.approx(before - after, abs=1e-12)


def test_a_good_one_is_left_and_the_tachometer_is_to_be_read() -> None:
    found = asked(4.1)
    assert found.answer.next_thing.startswith("Leave 4.1 on semi-slicks")
    (speeds,) = found.engine_speeds
    assert speeds.low < speeds.end.engine_speed < speeds.high
    assert f"{speeds.low / RPM:.0f} to {speeds.high / RPM:.0f} rpm" in found.answer.next_thing


def test_500_less_costs_time_and_says_what_it_takes_off() -> None:
    found = asked(4.1)
    assert found.fewer.limiter_speed == pytest.approx(found.now.limiter_speed - 500.0 * RPM)
    costs = found.fewer.laps["larkmoor"].mean_lap_time - found.now.laps["larkmoor"].mean_lap_time
    figures = {one.name: one for one in found.answer.figures}
    assert figures["lost with 500 rpm less"].value == pytest.approx(costs)
    assert any("takes 14 % off the inertia loads" in why for why in found.answer.why)


def test_a_final_drive_more_is_compared_too() -> None:
    assert {one.final_drive for one in asked(4.1, 3.7).ranked} == {3.7, 4.1, 5.6}


def test_no_circuit_and_a_gear_that_cannot_pull_are_refused() -> None:
    with pytest.raises(BadInput, match="at least one to drive round"):
        which_gearing(described(), chassis_by_hand(), dry_by_hand(), {})
    with pytest.raises(BadInput, match="final_drive"):
        asked(4.1, 0.1)
