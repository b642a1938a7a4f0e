"""Springs and bars of a car, against hand arithmetic, an independent eigen-solution, and what must hold."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand, setup_by_hand
from tintop.car.chassis import End, Spring
from tintop.car.ride_quality import ride_car
from tintop.car.springs_and_bars import (
    SpringsAndBars,
    springs_and_bars,
    sprung_corner_mass,
)
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import numbers_for
from tintop.physics.ride_modes import modes_of

CAR, CHASSIS, DAY = car_by_hand(), chassis_by_hand(), Weather()


def found(**front: object) -> SpringsAndBars:
    setup = dry_by_hand()
    return springs_and_bars(CAR, CHASSIS, replace(setup, front=replace(setup.front, **front)), DAY)  # type: ignore[arg-type]


def test_the_motion_ratio_is_squared() -> None:
    assert found().front.wheel_rate == pytest.approx(30e3 * 0.95**2, rel=1e-12)
    assert found().rear.wheel_rate == pytest.approx(30e3 * 0.7**2, rel=1e-12)


def test_a_corner_by_hand() -> None:
    """Wheel rate and tyre in series, frequency, springs, bar and tyres in roll."""
    front = found(bar_hole=2).front
    series = 1.0 / (1.0 / 27075.0 + 1.0 / 2.1e5)
    assert front.ride_rate == pytest.approx(series, rel=1e-12)
    assert front.frequency == pytest.approx(math.sqrt(series / front.sprung_mass) / (2.0 * math.pi))
    springs, tyres = 0.5 * 27075.0 * 1.476**2, 0.5 * 2.1e5 * 1.476**2
    hung = springs + 2e4
    assert front.roll_of_springs == pytest.approx(springs, rel=1e-12)
    assert front.roll_stiffness == pytest.approx(hung * tyres / (hung + tyres), rel=1e-12)
    assert front.bar_share == pytest.approx(2e4 / hung)
    assert front.tyre_share_of_roll == pytest.approx(front.roll_stiffness / tyres)


def test_the_masses_on_the_springs_are_the_car_less_its_wheels() -> None:
    both = found()
    whole = 2.0 * (sprung_corner_mass(both.body, End.FRONT) + sprung_corner_mass(both.body, End.REAR))
    fuel = 0.045 * CAR.fuel.density
    unsprung = CAR.masses.unsprung_front + CAR.masses.unsprung_rear
    assert whole == pytest.approx(CAR.masses.without_fuel + fuel - unsprung, rel=1e-12)


def test_bounce_and_pitch_are_the_eigenvalues_of_the_plane_body() -> None:
    """An eigen-solution of mass and stiffness matrices by numpy, from the axle rates alone."""
    both = found()
    mass = both.body.sprung_mass
    behind = both.body.sprung_rear_share * CAR.dimensions.wheelbase
    ahead = CAR.dimensions.wheelbase - behind
    arms = np.array([[1.0, -behind], [1.0, ahead]])  # heave up, pitch nose down about the centre of gravity
    rates = np.diag([2.0 * both.front.ride_rate, 2.0 * both.rear.ride_rate])
    stiffness = arms.T @ rates @ arms
    squares = np.linalg.eigvals(np.linalg.solve(np.diag([mass, CHASSIS.pitch_inertia]), stiffness))
    slow, fast = np.sqrt(np.sort(squares.real)) / (2.0 * math.pi)
    assert both.slow.frequency == pytest.approx(slow, rel=1e-9)
    assert both.fast.frequency == pytest.approx(fast, rel=1e-9)


@settings(deadline=None, max_examples=30)
@given(hole_front=st.integers(0, 3), hole_rear=st.integers(0, 3), fuel=st.floats(0.0, 0.05))
def test_the_parts_of_the_load_moved_are_the_laps(hole_front: int, hole_rear: int, fuel: float) -> None:
    setup = dry_by_hand()
    setup = replace(
        setup,
        fuel_volume=fuel,
        front=replace(setup.front, bar_hole=hole_front),
        rear=replace(setup.rear, bar_hole=hole_rear),
    )
    both = springs_and_bars(CAR, CHASSIS, setup, DAY)
    vehicle = numbers_for(both.car, DAY, Conditions(fuel_mass=fuel * CAR.fuel.density)).vehicle
    for axle, lap in ((both.front, vehicle.front), (both.rear, vehicle.rear)):
        moments = axle.moments
        assert (moments.elastic + moments.geometric + moments.unsprung) / moments.track == lap.transfer


@settings(deadline=None, max_examples=20)
@given(hole=st.integers(0, 2))
def test_a_stiffer_hole_rolls_less_and_moves_load_to_its_end(hole: int) -> None:
    soft, stiff = found(bar_hole=hole), found(bar_hole=hole + 1)
    assert stiff.roll_gradient < soft.roll_gradient
    assert stiff.front_roll_share > soft.front_roll_share
    assert stiff.body.front_share > soft.body.front_share
    assert stiff.front.frequency == soft.front.frequency
    assert stiff.roll_frequency > soft.roll_frequency


def test_the_roll_gradient_is_the_moment_over_the_stiffness() -> None:
    """Milliken: W h / (K - W h) per g, W the sprung weight, h its arm above the roll axis."""
    both = found()
    weight = both.body.sprung_mass * 9.80665
    moment = weight * both.body.arm
    stiffness = both.front.roll_stiffness + both.rear.roll_stiffness - moment
    assert both.roll_gradient == pytest.approx(moment / stiffness, rel=1e-12)


def test_a_spring_is_loose_where_droop_takes_all_its_load() -> None:
    soft = found()
    assert soft.front.loose_by == 0.0
    stiff = found(spring="stiff").front
    weight = stiff.sprung_mass * 9.80665 / 0.95
    assert stiff.droop_force == pytest.approx(weight - 60e3 * 0.95 * stiff.droop_left)
    assert stiff.loose_by == pytest.approx(-stiff.droop_force / 60e3)
    assert stiff.loose_by > 0.03


def test_a_lower_car_has_less_bump_and_more_droop() -> None:
    high = springs_and_bars(CAR, CHASSIS, setup_by_hand(), DAY).front
    low = found().front
    assert high.bump_left - low.bump_left == pytest.approx(0.020)
    assert low.droop_left - high.droop_left == pytest.approx(0.020)


def test_a_solid_axles_springs_hold_roll_at_their_own_base() -> None:
    """115 lb/in springs 40 in apart: 92 000 lb·in/rad (T. D. Gillespie, 1992, ch. 7; case V1-07)."""
    pound_force, inch = 4.4482216152605, 0.0254
    spring = Spring(name="leaf", rate=115.0 * pound_force / inch)
    rear = replace(CHASSIS.rear, motion_ratio=1.0, spring_base=40.0 * inch, springs=(spring,))
    setup = dry_by_hand()
    setup = replace(setup, rear=replace(setup.rear, spring="leaf", bar_hole=0))
    solid = springs_and_bars(CAR, replace(CHASSIS, rear=rear), setup, DAY).rear
    assert solid.roll_of_springs == pytest.approx(92000.0 * pound_force * inch, rel=1e-12)
    tyres = 0.5 * rear.tyre_rate * CAR.dimensions.track_rear**2
    hung = solid.roll_of_springs + solid.roll_of_bar
    assert solid.roll_stiffness == pytest.approx(hung * tyres / (hung + tyres), rel=1e-12)
    independent = springs_and_bars(
        CAR, replace(CHASSIS, rear=replace(rear, spring_base=None)), setup, DAY
    ).rear
    assert independent.wheel_rate == solid.wheel_rate
    narrow = (40.0 * inch / CAR.dimensions.track_rear) ** 2
    assert solid.roll_of_springs == pytest.approx(narrow * independent.roll_of_springs, rel=1e-12)


def test_the_ride_model_rolls_on_the_solid_axles_base_and_heaves_as_before() -> None:
    rear = replace(CHASSIS.rear, spring_base=1.0)
    setup = dry_by_hand()
    solid, usual = (ride_car(CAR, replace(CHASSIS, rear=one), setup) for one in (rear, CHASSIS.rear))
    held = 0.5 * solid.wheel_rate_rear * solid.track_rear**2 + solid.bar_rear
    bar = usual.bar_rear
    assert held == pytest.approx(0.5 * solid.wheel_rate_rear * 1.0**2 + bar, rel=1e-12)
    softer, before = (modes_of(one, 1500.0, 1500.0) for one in (solid, usual))
    assert softer.heave == pytest.approx(before.heave)
    assert softer.roll.frequency < before.roll.frequency
