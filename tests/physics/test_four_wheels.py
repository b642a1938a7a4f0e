"""The four tyres at one point: loads, transfer, ellipse, slip, and the force that is held."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cars import front_driven_hatchback, rear_driven_coupe
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import numbers_for
from tintop.physics.four_wheels import (
    Driveline,
    Vehicle,
    Wheels,
    drive_at,
    gear_at,
    grip_beside,
    held_force,
    resistance_force,
    slip,
    tyres,
    used_square,
    worst_use_square,
)
from tintop.physics.load_transfer import lateral_load_transfer
from tintop.proof.lap_cases import point_mass

G = 9.80665
CARS = {
    car.name: numbers_for(car, Weather(), Conditions(fuel_mass=20.0))
    for car in (front_driven_hatchback(), rear_driven_coupe())
}
vehicles = st.sampled_from([numbers.vehicle for numbers in CARS.values()])


def loads(pair: tuple[Wheels, Wheels]) -> list[float]:
    return [load for axle in pair for load in (axle.load_left, axle.load_right)]


@settings(max_examples=150, deadline=None)
@given(
    vehicle=vehicles,
    speed=st.floats(0.0, 60.0),
    pull=st.floats(-8.0, 5.0),
    lateral=st.floats(-14.0, 14.0),
    normal=st.floats(6.0, 14.0),
    lift=st.floats(-1.5, 0.1),
)
def test_wheel_loads_sum_to_weight_and_downforce(
    vehicle: Vehicle, speed: float, pull: float, lateral: float, normal: float, lift: float
) -> None:
    vehicle = vehicle._replace(
        front=vehicle.front._replace(lift=lift), rear=vehicle.rear._replace(lift=0.7 * lift)
    )
    found = tyres(vehicle, speed, pull * vehicle.mass, lateral, normal)
    assume(min(f.load_left + f.load_right for f in found) > 0.0)  # neither axle is off the road
    assert sum(loads(found)) == pytest.approx(vehicle.mass * normal - 1.7 * lift * speed**2, rel=1e-9)
    assert min(loads(found)) >= 0.0


@settings(max_examples=100, deadline=None)
@given(vehicle=vehicles, pull=st.floats(-8.0, 4.0), lateral=st.floats(0.1, 6.0))
def test_moments_about_the_ground_balance(vehicle: Vehicle, pull: float, lateral: float) -> None:
    """Pitch: load on the rear = share of weight + force × height ÷ wheelbase; roll: moved load × track."""
    force = pull * vehicle.mass
    front, rear = tyres(vehicle, 0.0, force, lateral, G)
    assume(min(loads((front, rear))) > 1.0)
    on_rear = rear.load_left + rear.load_right
    share = vehicle.mass * G * vehicle.rear_load_share + force * vehicle.height_share
    assert on_rear == pytest.approx(share, rel=1e-9)
    moved = [0.5 * (axle.load_right - axle.load_left) for axle in (front, rear)]
    assert moved == pytest.approx([vehicle.front.transfer * lateral, vehicle.rear.transfer * lateral])


def test_transfer_is_the_published_one_body_form_with_unsprung_masses_added() -> None:
    """V1-06 variant b, from load_transfer.py: the same car with next to no unsprung mass."""
    car = front_driven_hatchback()
    masses = replace(car.masses, unsprung_front=10.0, unsprung_rear=10.0)
    car = replace(car, masses=masses)
    vehicle = numbers_for(car, Weather(), Conditions()).vehicle
    mass, height = masses.without_fuel, masses.cg_height
    radius = car.tyre_front.radius
    sprung = mass - 20.0
    sprung_height = (mass * height - 20.0 * radius) / sprung
    sprung_front = (mass * masses.front_share - 10.0) / sprung
    published = lateral_load_transfer(
        weight=sprung * G,
        front_share=sprung_front,
        cg_height=sprung_height,
        roll_centre_front=car.suspension.roll_centre_height_front,
        roll_centre_rear=car.suspension.roll_centre_height_rear,
        track_front=car.dimensions.track_front,
        track_rear=car.dimensions.track_rear,
        roll_stiffness_front=car.suspension.roll_stiffness_front,
        roll_stiffness_rear=car.suspension.roll_stiffness_rear,
        acceleration_y=3.0,
        gravity=G,
    )
    unsprung = 10.0 * 3.0 * radius
    assert vehicle.front.transfer * 3.0 == pytest.approx(
        published.front + unsprung / car.dimensions.track_front, rel=1e-6
    )
    assert vehicle.rear.transfer * 3.0 == pytest.approx(
        published.rear + unsprung / car.dimensions.track_rear, rel=1e-6
    )


def test_a_lifted_wheel_hands_the_rest_to_the_other_axle() -> None:
    """Once the inner rear is in the air, the moment about the ground is kept by the front."""
    vehicle = CARS["front-driven hatchback of the tests"].vehicle
    lateral = 11.0
    front, rear = tyres(vehicle, 0.0, 0.0, lateral, G)
    assert rear.load_left == 0.0
    moment = 0.5 * (front.load_right - front.load_left) * vehicle.front.track
    moment += 0.5 * (rear.load_right - rear.load_left) * vehicle.rear.track
    wanted = lateral * (
        vehicle.front.transfer * vehicle.front.track + vehicle.rear.transfer * vehicle.rear.track
    )
    assert moment == pytest.approx(wanted, rel=1e-9)


@settings(max_examples=100, deadline=None)
@given(
    vehicle=vehicles,
    speed=st.floats(1.0, 60.0),
    pull=st.floats(-9.0, 4.0),
    lateral=st.floats(-12.0, 12.0),
)
def test_left_and_right_are_mirror_images(
    vehicle: Vehicle, speed: float, pull: float, lateral: float
) -> None:
    one = tyres(vehicle, speed, pull * vehicle.mass, lateral, G)
    other = tyres(vehicle, speed, pull * vehicle.mass, -lateral, G)
    for a, b in zip(one, other, strict=True):
        assert a.load_left == pytest.approx(b.load_right, abs=1e-6)
        assert a.force_left == pytest.approx(b.force_right, abs=1e-6)
        assert a.used_square == pytest.approx(b.used_square, rel=1e-9)


@settings(max_examples=100, deadline=None)
@given(vehicle=vehicles, speed=st.floats(1.0, 60.0), pull=st.floats(-9.0, 4.0), lateral=st.floats(-9.0, 9.0))
def test_forces_add_up_to_what_is_asked(vehicle: Vehicle, speed: float, pull: float, lateral: float) -> None:
    force = pull * vehicle.mass
    front, rear = tyres(vehicle, speed, force, lateral, G)
    given = front.force_left + front.force_right + rear.force_left + rear.force_right
    assert given == pytest.approx(force, rel=1e-9, abs=1e-6)
    assert front.demand + rear.demand == pytest.approx(vehicle.mass * lateral, rel=1e-9, abs=1e-6)
    # moments about the vertical axis through the centre of gravity vanish: the car turns steadily
    arm_rear = vehicle.wheelbase * (1.0 - vehicle.rear_load_share)
    arm_front = vehicle.wheelbase * vehicle.rear_load_share
    moment = front.demand * arm_front - rear.demand * arm_rear
    moment += 0.5 * (front.force_right - front.force_left) * vehicle.front.track
    moment += 0.5 * (rear.force_right - rear.force_left) * vehicle.rear.track
    assert moment == pytest.approx(0.0, abs=1e-5 * vehicle.mass * G)


@given(share=st.floats(0.0, 0.999))
def test_the_ellipse_is_closed(share: float) -> None:
    """Longitudinal share x and all the lateral grip beside it lie on the ellipse: grip used 1."""
    beside = grip_beside(1000.0, share) / 1000.0
    assert share**2 + beside**2 == pytest.approx(1.0)
    assert used_square(share, 1000.0, 1.0) == pytest.approx(1.0)


def test_a_point_mass_has_a_friction_circle() -> None:
    vehicle, _ = point_mass(mass=1000.0, friction=1.2)
    for angle in np.linspace(0.0, math.pi, 13):
        pull, lateral = 1.2 * G * math.cos(angle), 1.2 * G * math.sin(angle)
        assert worst_use_square(vehicle, 0.0, pull * 1000.0, lateral, G) == pytest.approx(1.0, rel=1e-6)


def test_brush_slip_is_the_inverse_of_its_curve() -> None:
    """Used = 1 - (1 - s/s0)³; the library's cube root to within 7e-5 of the sliding slip."""
    used = np.concatenate((np.linspace(0.0, 1.0, 5001), 1.0 - np.logspace(-12, -2, 100)))
    found = np.array([slip(0.15, float(one)) for one in used])
    assert found == pytest.approx(0.15 * (1.0 - np.cbrt(1.0 - used)), abs=0.15 * 7e-5)
    assert np.all(np.diff(found[:5001]) >= 0.0)
    assert slip(0.15, 1.5) == 0.15


@settings(max_examples=200, deadline=None)
@given(
    vehicle=vehicles,
    speed=st.floats(3.0, 58.0),
    lateral=st.floats(0.0, 10.0),
    wanted=st.sampled_from([-25e3, -15e3, 8e3, 4e3, 2e3]),
    guess=st.floats(0.01, 1.2),
    slope=st.floats(0.0, 1e-3),
)
def test_the_force_held_is_the_most_there_is(
    vehicle: Vehicle, speed: float, lateral: float, wanted: float, guess: float, slope: float
) -> None:
    assume(worst_use_square(vehicle, speed, 0.0, lateral, G) < 0.98)
    force, _, front, rear = held_force(
        vehicle, speed, lateral, G, wanted, guess * wanted, math.copysign(slope, wanted)
    )
    assert 0.0 <= force / wanted <= 1.0
    used = math.sqrt(max(front.used_square, rear.used_square))
    assert used <= 1.0 + 2e-5
    if force != wanted:
        assert used >= 1.0 - 2e-5
        assert worst_use_square(vehicle, speed, 1.01 * force + 0.002 * wanted, lateral, G) > 1.0


@pytest.mark.parametrize("share", np.linspace(0.0, 0.9, 10))
def test_braking_with_an_inner_rear_wheel_in_the_air(share: float) -> None:
    """Without any guess the search must not stop short where a wheel lifts on the way."""
    vehicle = CARS["front-driven hatchback of the tests"].vehicle
    lateral = 10.3 * share
    force, _, _, _ = held_force(vehicle, 32.0, lateral, G, -25e3, 0.0, 0.0)
    shares = np.linspace(0.0, 1.0, 2001)
    uses = np.array([worst_use_square(vehicle, 32.0, -25e3 * float(s), lateral, G) for s in shares])
    first_beyond = float(shares[int(np.argmax(uses > 1.0))])
    assert force == pytest.approx(-25e3 * first_beyond, abs=25e3 / 1000.0)


def test_resistance_is_drag_rolling_and_grade() -> None:
    vehicle, _ = point_mass(mass=1200.0, friction=1.0, drag=0.4, rolling_resistance=0.012, downforce=0.3)
    rolling = 0.012 * (1200.0 * G + 0.3 * 900.0)
    climbing = 1200.0 * G * math.sin(0.03)
    assert resistance_force(vehicle, 30.0, G, -G * math.sin(0.03)) == pytest.approx(
        0.4 * 900.0 + rolling + climbing
    )


@pytest.mark.parametrize("name", CARS)
def test_drive_is_torque_times_ratio_in_the_best_gear(name: str) -> None:
    driveline: Driveline = CARS[name].driveline
    for speed in np.linspace(8.0, driveline.top_speed - 0.3, 40):
        gear = gear_at(driveline, float(speed))
        best = max(drive_at(driveline, k, float(speed)) for k in range(driveline.force.shape[0]))
        assert drive_at(driveline, gear, float(speed)) == pytest.approx(best, rel=0.03)
