"""Bump travel along a lap, against statics and what must hold."""

from dataclasses import replace

import numpy as np
import pytest

from demo_cars import demo_circuit, demo_lane, mirrored
from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand
from tintop.car.springs_and_bars import SpringsAndBars, springs_and_bars
from tintop.circuit.circuit import Path
from tintop.errors import BadInput
from tintop.event import Weather
from tintop.lap.bump_travel import (
    TravelUsed,
    lap_with_fuel,
    least_travel_left,
    place_words,
    travel_used,
)
from tintop.lap.flying_lap import lap_time
from tintop.lap.trace import LapTrace
from tintop.lap.vehicle import GRAVITY

CAR, DAY = car_by_hand(), Weather()
LANE, CIRCUIT = demo_lane(3.0), demo_circuit(3.0)


def driven(path: Path = LANE, **front: object) -> tuple[LapTrace, SpringsAndBars, TravelUsed]:
    setup = dry_by_hand()
    setup = replace(setup, front=replace(setup.front, **front))  # type: ignore[arg-type]
    springs = springs_and_bars(CAR, chassis_by_hand(), setup, DAY)
    lap = lap_with_fuel(springs, setup, path, DAY)
    return lap, springs, travel_used(lap, springs, CIRCUIT)


def test_a_car_standing_still_uses_no_travel() -> None:
    lap, springs, _ = driven()
    body, wheelbase = springs.body, springs.car.dimensions.wheelbase
    rear = 0.5 * body.mass * GRAVITY * body.cg_to_front / wheelbase
    front = 0.5 * body.mass * GRAVITY - rear
    load = np.tile([front, front, rear, rear], (lap.speed.size, 1))
    still = replace(lap, channels={**lap.channels, "wheel_load": load})
    assert np.abs(travel_used(still, springs, CIRCUIT).compression).max() < 1e-12


def test_heave_follows_the_wheel_rate_and_lean_the_roll_of_the_body() -> None:
    """Left to right, the axle's difference is what the body's roll, less the tyres', makes of the track."""
    lap, springs, used = driven()
    at = int(np.argmin(np.abs(lap.lateral_acceleration - 4.0)))
    side = lap.lateral_acceleration[at]
    lean = springs.body.roll_per_acceleration * side * (1.0 - springs.front.tyre_share_of_roll)
    difference = used.compression[at, 1] - used.compression[at, 0]
    assert difference == pytest.approx(lean * springs.car.dimensions.track_front, rel=1e-9)
    load = lap.channel("wheel_load")[at]
    body = springs.body
    still = body.mass * GRAVITY * (1.0 - body.cg_to_front / springs.car.dimensions.wheelbase)
    sunk = 0.5 * (load[0] + load[1] - still) / springs.front.wheel_rate
    assert 0.5 * (used.compression[at, 0] + used.compression[at, 1]) == pytest.approx(sunk, rel=1e-9)


def test_a_mirrored_circuit_mirrors_the_wheels() -> None:
    most = driven()[2].most
    other = driven(mirrored(LANE))[2].most
    assert other == pytest.approx((most[1], most[0], most[3], most[2]), rel=1e-6)


def test_a_stiffer_spring_uses_less_and_touches_fewer_stops() -> None:
    soft, stiff = driven()[2], driven(spring="stiff", bar_hole=3)[2]
    assert max(stiff.most[:2]) < max(soft.most[:2])
    assert len(stiff.touches) < len(soft.touches)
    assert all(touch.asked > touch.left for touch in soft.touches)
    assert soft.touches[0].asked - soft.touches[0].left == max(
        touch.asked - touch.left for touch in soft.touches
    )
    assert soft.where[soft.fullest].startswith(("corner", "after corner"))


def test_the_least_travel_left_is_that_of_the_fullest_wheel() -> None:
    used, setup = driven()[2], dry_by_hand()
    least = least_travel_left(CAR, chassis_by_hand(), setup, LANE, DAY)
    assert least == pytest.approx(used.left[used.fullest] - used.most[used.fullest], abs=1e-12)


def test_a_stop_that_comes_sooner_leaves_less_down_to_a_touch() -> None:
    """Travel asked for is the same whatever there is, so what is left falls by what is taken away."""
    chassis = chassis_by_hand()
    least = least_travel_left(CAR, chassis, dry_by_hand(), LANE, DAY)
    short = replace(chassis, front=replace(chassis.front, bump_travel=0.030))
    touching = least_travel_left(CAR, short, dry_by_hand(), LANE, DAY)
    assert touching < 0.0
    shorter = replace(chassis, front=replace(chassis.front, bump_travel=0.025))
    assert least_travel_left(CAR, shorter, dry_by_hand(), LANE, DAY) == pytest.approx(touching - 0.005)
    assert touching < least


def test_the_lap_carries_the_fuel_of_the_set_up() -> None:
    lap, springs, _ = driven()
    assert lap.lap_time > lap_time(springs.car, LANE, DAY)


def test_places_are_named_by_corner() -> None:
    first, second = CIRCUIT.corners[:2]
    assert place_words(CIRCUIT, round(first.apex / CIRCUIT.step)) == "corner 1"
    between = round(0.5 * (first.end + second.start) / CIRCUIT.step)
    assert place_words(CIRCUIT, between) in ("after corner 1", "corner 1", "corner 2")
    assert place_words(replace(CIRCUIT, corners=()), 10) == "30 m from the line"


def test_a_lap_of_another_circuit_is_refused() -> None:
    lap, springs, _ = driven()
    with pytest.raises(BadInput, match="points"):
        travel_used(lap, springs, demo_circuit(5.0))
