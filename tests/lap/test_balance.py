"""Which axle slides first, against hand arithmetic, the lap's own corner speed, and what must hold."""

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cars import front_driven_hatchback, rear_driven_coupe
from demo_cars import demo_car
from tintop.car.body_roll import body_roll
from tintop.car.car import Car
from tintop.car.powertrain import DifferentialKind
from tintop.event import Weather
from tintop.lap.balance import limit_balance
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import GRAVITY, numbers_for
from tintop.physics.four_wheels import worst_use_square
from tintop.physics.steady_corner import axle_slips, steady_wheels

AIR = Weather()
CARS = [front_driven_hatchback(), rear_driven_coupe(), demo_car()]
SPEEDS = st.floats(8.0, 45.0)


def _with_roll(car: Car, front: float, rear: float) -> Car:
    suspension = replace(car.suspension, roll_stiffness_front=front, roll_stiffness_rear=rear)
    return replace(car, suspension=suspension)


def _plain(car: Car) -> Car:
    """Low, without lift, drag, rolling resistance, camber loss: what can be done by hand, wheels down."""
    tyre = replace(car.tyre_front, camber_loss=0.0, rolling_resistance=0.0)
    return replace(
        car,
        masses=replace(car.masses, cg_height=0.33),
        aero=replace(car.aero, drag_area=0.0, lift_area_front=0.0, lift_area_rear=0.0),
        tyre_front=tyre,
        tyre_rear=tyre,
    )


@pytest.mark.parametrize("car", CARS, ids=lambda car: car.name)
def test_the_limits_are_where_the_laps_tyres_slide(car: Car) -> None:
    found = limit_balance(car, AIR, 25.0)
    vehicle = numbers_for(car, AIR, Conditions()).vehicle
    for limit, end in ((found.front_limit, 0), (found.rear_limit, 1)):
        below = steady_wheels(vehicle, 25.0, limit * (1.0 - 1e-4), GRAVITY)[end]
        above = steady_wheels(vehicle, 25.0, limit * (1.0 + 1e-4), GRAVITY)[end]
        assert below.used_square <= 1.0 < above.used_square


@pytest.mark.parametrize("car", CARS, ids=lambda car: car.name)
def test_the_lower_limit_is_the_laps_own(car: Car) -> None:
    """A lap tests the hardest worked of all wheels; at the lower limit that is wholly used."""
    found = limit_balance(car, AIR, 25.0)
    vehicle = numbers_for(car, AIR, Conditions()).vehicle
    at = found.limit * (1.0 - 1e-6)
    wheels = steady_wheels(vehicle, 25.0, at, GRAVITY)
    force = sum(one.force_left + one.force_right for one in wheels)
    assert worst_use_square(vehicle, 25.0, force, at, GRAVITY) == pytest.approx(1.0, abs=2e-2)


def test_an_undriven_axle_slides_where_hand_arithmetic_says() -> None:
    """Rear of a front-driven car: mu(inner) × inner + mu(outer) × outer load = its share of mass × a."""
    car = _plain(front_driven_hatchback())
    open_one = replace(car.gearbox.differential, kind=DifferentialKind.OPEN)
    car = replace(car, gearbox=replace(car.gearbox, differential=open_one))
    found = limit_balance(car, AIR, 20.0)
    tyre, body = car.tyre_rear, body_roll(car)
    still = body.mass * GRAVITY * body.cg_to_front / car.dimensions.wheelbase
    vehicle = numbers_for(car, AIR, Conditions()).vehicle
    front, _ = steady_wheels(vehicle, 20.0, found.rear_limit, GRAVITY)
    assert front.load_left > 0.0
    pull = front.force_left + front.force_right
    load = still + pull * body.cg_height / car.dimensions.wheelbase

    def friction(one: float) -> float:
        return tyre.friction_lateral * (1.0 + tyre.load_sensitivity * (one / tyre.reference_load - 1.0))

    moved = body.rear.transfer * found.rear_limit
    inner, outer = 0.5 * load - moved, 0.5 * load + moved
    assert inner > 0.0
    held = friction(inner) * inner + friction(outer) * outer
    assert held / (still / GRAVITY) == pytest.approx(found.rear_limit, rel=1e-6)


def test_the_gentle_gradient_is_load_over_stiffness() -> None:
    """Brush model: stiffness at no slip = 3 × grip ÷ slide_slip; Gillespie's K = W_f/C_f - W_r/C_r."""
    car = _plain(front_driven_hatchback())
    car = replace(
        car,
        tyre_front=replace(car.tyre_front, slide_slip=0.16, load_sensitivity=0.0),
        tyre_rear=replace(car.tyre_rear, slide_slip=0.12, load_sensitivity=0.0),
    )
    vehicle = numbers_for(car, AIR, Conditions()).vehicle
    gentle = 0.02
    front, rear = axle_slips(vehicle, 20.0, gentle, GRAVITY)
    grip = car.tyre_front.friction_lateral * GRAVITY
    assert (front - rear) / gentle == pytest.approx((0.16 - 0.12) / (3.0 * grip), rel=5e-3)


@settings(deadline=None, max_examples=25)
@given(speed=SPEEDS, share=st.floats(0.4, 0.55), more=st.floats(0.05, 0.15))
def test_more_roll_stiffness_in_front_gives_understeer(speed: float, share: float, more: float) -> None:
    car, whole = _plain(rear_driven_coupe()), 1e5
    soft = limit_balance(_with_roll(car, share * whole, (1.0 - share) * whole), AIR, speed)
    stiff = limit_balance(_with_roll(car, (share + more) * whole, (1.0 - share - more) * whole), AIR, speed)
    assert stiff.balance > soft.balance
    assert stiff.understeer_gradient > soft.understeer_gradient


@settings(deadline=None, max_examples=15)
@given(speed=SPEEDS, wetness=st.floats(0.2, 1.0))
def test_a_wet_road_lowers_both_limits(speed: float, wetness: float) -> None:
    dry = limit_balance(demo_car(), AIR, speed)
    wet = limit_balance(demo_car(), replace(AIR, wetness=wetness), speed)
    assert wet.front_limit < dry.front_limit
    assert wet.rear_limit < dry.rear_limit
    assert wet.roll < dry.roll


@settings(deadline=None, max_examples=40)
@given(
    front=st.floats(2e4, 2e5),
    rear=st.floats(2e4, 2e5),
    fuel=st.floats(0.0, 60.0),
    centre=st.floats(-0.05, 0.3),
)
def test_the_parts_of_the_transfer_are_the_laps_transfer(
    front: float, rear: float, fuel: float, centre: float
) -> None:
    car = _with_roll(demo_car(), front, rear)
    car = replace(car, suspension=replace(car.suspension, roll_centre_height_front=centre))
    body = body_roll(car, fuel)
    vehicle = numbers_for(car, AIR, Conditions(fuel_mass=fuel)).vehicle
    for moments, axle in ((body.front, vehicle.front), (body.rear, vehicle.rear)):
        assert (moments.elastic + moments.geometric + moments.unsprung) / moments.track == axle.transfer


@cache
def _stiff() -> Car:
    return _with_roll(demo_car(), 9e5, 9e5)


def test_the_moments_about_the_ground_balance() -> None:
    """All moments together are the weight's about the ground: mass × height, and the body's lean."""
    body = body_roll(_stiff(), 30.0)
    leaned = body.sprung_mass * GRAVITY * body.arm * body.roll_per_acceleration
    whole = sum(body.front[:3]) + sum(body.rear[:3])
    assert whole == pytest.approx(body.mass * body.cg_height + leaned, rel=1e-12)


def test_the_car_rolls_by_its_limit() -> None:
    found = limit_balance(demo_car(), AIR, 30.0)
    assert 1.0 < math.degrees(found.roll) < 5.0
    assert found.limit == min(found.front_limit, found.rear_limit)
    assert np.sign(found.balance) == np.sign(found.rear_limit - found.front_limit)
    assert found.words in ("understeer", "oversteer", "neutral")
