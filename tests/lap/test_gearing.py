"""Gearings by whole laps: kinematics along the lap, what a limiter costs, and the order of the list."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from demo_cars import demo_circuit, demo_lane
from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap, lap_time
from tintop.lap.gearing import Round, compared, driven, gears_of, setups_to_compare, with_rev_limit
from tintop.lap.spring_map import smooth_fit

CAR, CHASSIS, SETUP, DAY = car_by_hand(), chassis_by_hand(), dry_by_hand(), Weather()
LARKMOOR = Round(circuit=demo_circuit(5.0), path=demo_lane(5.0), weather=DAY)
FIT = smooth_fit(CAR, CHASSIS, DAY)
RPM = math.pi / 30.0


def test_time_in_the_gears_is_the_lap_and_engine_speed_follows_the_wheels() -> None:
    found = driven(CAR, LARKMOOR, Conditions())
    assert sum(found.time_in_gear) == pytest.approx(found.lap_time, rel=1e-9)
    assert found.lap_time == pytest.approx(lap_time(CAR, LARKMOOR.path, DAY), rel=1e-12)
    for end in found.straights:
        ratio = CAR.gearbox.ratios[end.gear - 1] * CAR.gearbox.final_drive / CAR.tyre_front.radius
        assert end.engine_speed == pytest.approx(end.speed * ratio, rel=0.03)  # of the segment that follows
        assert end.before.startswith("corner ")
    speeds = [end.speed for end in found.straights]
    assert speeds == sorted(speeds, reverse=True)
    assert found.longest is not None
    assert found.longest.speed == pytest.approx(flying_lap(CAR, LARKMOOR.path, DAY).speed.max())


def test_the_mean_lap_is_that_of_slightly_other_grip() -> None:
    found = driven(CAR, LARKMOOR, Conditions())
    assert abs(found.mean_lap_time / found.lap_time - 1.0) < 5e-3
    assert driven(CAR, LARKMOOR, Conditions(grip=(0.9,) * 4)).mean_lap_time > found.mean_lap_time


def test_fewer_revolutions_cost_time_and_save_fuel() -> None:
    own = driven(CAR, LARKMOOR, Conditions())
    fewer = driven(with_rev_limit(CAR, CAR.engine.limiter_speed - 1000.0 * RPM), LARKMOOR, Conditions())
    assert fewer.mean_lap_time > own.mean_lap_time
    assert fewer.mean_engine_speed < own.mean_engine_speed
    assert fewer.fuel < own.fuel


def test_a_top_gear_too_short_sits_on_the_limiter() -> None:
    short = replace(CAR, gearbox=replace(CAR.gearbox, final_drive=6.5))
    found = driven(short, LARKMOOR, Conditions())
    assert found.limiter_time > 5.0 > 0.0
    assert found.longest is not None
    assert found.longest.limiter_share > 0.99
    assert found.lap_time > driven(CAR, LARKMOOR, Conditions()).lap_time


def test_gearings_are_ranked_by_what_they_lose_over_all_circuits() -> None:
    other = Round(circuit=demo_circuit(8.0), path=demo_lane(8.0), weather=DAY)
    setups = setups_to_compare(CHASSIS, SETUP, (4.9,))
    assert [(one.final_drive, one.tyres) for one in setups] == [
        (drive, tyres) for tyres in ("road tyres", "semi-slicks") for drive in (4.1, 4.4, 4.9)
    ]
    heard: list[float] = []
    found = compared(FIT, setups, (None,), {"here": LARKMOOR, "there": other}, SETUP, heard.append)
    assert heard == sorted(heard)
    assert heard[-1] == 1.0
    assert [one.behind for one in found] == sorted(one.behind for one in found)
    assert sum(one.is_now for one in found) == 1
    best = {name: min(one.laps[name].mean_lap_time for one in found) for name in ("here", "there")}
    for one in found:
        lost = sum(lap.mean_lap_time - best[name] for name, lap in one.laps.items())
        assert one.behind == pytest.approx(lost, abs=1e-12)


def test_only_tyres_of_the_same_kind_are_compared() -> None:
    wet = replace(CHASSIS.tyre_sets[0].front, kind="wet")
    sets = (replace(CHASSIS.tyre_sets[0], front=wet), CHASSIS.tyre_sets[1])
    setups = setups_to_compare(replace(CHASSIS, tyre_sets=sets), SETUP)
    assert {one.tyres for one in setups} == {"semi-slicks"}


def test_gears_by_kinematics_and_no_shift_after_the_limiter() -> None:
    gears = gears_of(CAR, DAY)
    for gear, ratio in zip(gears, CAR.gearbox.ratios, strict=True):
        speed = CAR.engine.limiter_speed * CAR.tyre_front.radius / (ratio * CAR.gearbox.final_drive)
        assert gear.speed_at_limiter == pytest.approx(speed, rel=1e-9)
    for gear, after in itertools.pairwise(gears):
        assert gear.shift_engine_speed is not None
        assert gear.engine_speed_left is not None
        assert gear.shift_engine_speed <= CAR.engine.limiter_speed * (1.0 + 1e-9)
        assert gear.engine_speed_left / gear.shift_engine_speed == pytest.approx(after.ratio / gear.ratio)
    assert gears[-1].shift_speed is None
    assert np.all(np.diff([gear.speed_at_limiter for gear in gears]) > 0.0)
