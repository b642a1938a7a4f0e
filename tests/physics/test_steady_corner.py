"""A steady corner: where an axle slides and how far it slips, against closed forms."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tintop.physics.four_wheels import Axle, Vehicle
from tintop.physics.steady_corner import axle_limit, axle_slips, steady_wheels

G = 9.81
PLAIN = Axle(
    track=1.5,
    transfer=0.0,
    lift=0.0,
    friction_x_left=1.0,
    friction_x_right=1.0,
    friction_y_left=1.0,
    friction_y_right=1.0,
    grip_offset=1.0,
    grip_slope=0.0,
    camber=0.0,
    camber_per_acceleration=0.0,
    camber_best=0.0,
    camber_loss=0.0,
    slide_slip=0.12,
    rolling_resistance=0.0,
    drive_share=0.0,
    brake_share=0.5,
)


def car(front: Axle, rear: Axle, drag: float = 0.0, height_share: float = 0.0) -> Vehicle:
    return Vehicle(
        mass=1000.0,
        wheelbase=2.5,
        rear_load_share=0.4,
        height_share=height_share,
        drag=drag,
        front=front,
        rear=rear,
        lock_share=0.0,
        lock_force=0.0,
        brake_force=1e4,
        rolling_mass=0.0,
        shift_time=0.0,
        lowest_friction=1.0,
    )


@settings(deadline=None, max_examples=20)
@given(friction=st.floats(0.3, 1.6), speed=st.floats(5.0, 60.0))
def test_without_anything_else_an_axle_slides_at_its_friction(friction: float, speed: float) -> None:
    front = PLAIN._replace(friction_y_left=friction, friction_y_right=friction)
    found = axle_limit(car(front, PLAIN._replace(drive_share=1.0)), speed, G, True)
    assert found == pytest.approx(friction * G, rel=1e-9)


def test_downforce_adds_its_load() -> None:
    """Lift of -1 N/(m/s)² on an axle of 600 kg at 40 m/s: 1,600 N more to hold 600 kg with."""
    front = PLAIN._replace(lift=-1.0)
    found = axle_limit(car(front, PLAIN._replace(drive_share=1.0)), 40.0, G, True)
    assert found == pytest.approx((600.0 * G + 1600.0) / 600.0, rel=1e-9)


def test_load_that_moves_costs_what_its_square_says() -> None:
    """Grip (1 - k F) F of two wheels loses 2 k d² when d moves: a quadratic in the acceleration."""
    slope, transfer = 2e-5, 120.0
    front = PLAIN._replace(grip_slope=-slope, transfer=transfer)
    found = axle_limit(car(front, PLAIN._replace(drive_share=1.0)), 20.0, G, True)
    load = 600.0 * G
    still = load - 0.5 * slope * load**2
    a, b, c = 2.0 * slope * transfer**2, 600.0, -still
    assert found == pytest.approx((-b + math.sqrt(b * b - 4.0 * a * c)) / (2.0 * a), rel=1e-9)


def test_the_drive_holds_the_speed_against_drag_and_the_corner() -> None:
    """1000 kg at 5 m/s² and half the grip: slip 0.12 (1 - (1 - u)^(1/3)) drags by side force × slip."""
    vehicle = car(PLAIN, PLAIN._replace(drive_share=1.0), drag=0.5)
    front, rear = steady_wheels(vehicle, 30.0, 5.0, G)
    force = rear.force_left + rear.force_right
    slips = [0.12 * (1.0 - (1.0 - one.share_y) ** (1.0 / 3.0)) for one in (front, rear)]
    expected = 0.5 * 900.0 + 600.0 * 5.0 * slips[0] + 400.0 * 5.0 * slips[1]
    assert force == pytest.approx(expected, rel=2e-4)
    assert front.share_y == pytest.approx(5.0 / G, rel=1e-9)


@settings(deadline=None, max_examples=20)
@given(side=st.floats(0.5, 9.0))
def test_slip_is_the_brush_models(side: float) -> None:
    front, _ = axle_slips(car(PLAIN, PLAIN._replace(drive_share=1.0)), 20.0, side, G)
    assert front == pytest.approx(0.12 * (1.0 - (1.0 - side / G) ** (1.0 / 3.0)), abs=2e-5)


def test_drive_takes_side_grip_from_its_axle() -> None:
    driven, free = PLAIN._replace(drive_share=1.0), PLAIN
    with_drag = axle_limit(car(free, driven, drag=1.0), 40.0, G, False)
    assert with_drag < axle_limit(car(free, driven), 40.0, G, False) < G


def test_an_axle_that_cannot_hold_its_drive_holds_nothing_sideways() -> None:
    assert axle_limit(car(PLAIN, PLAIN._replace(drive_share=1.0), drag=10.0), 40.0, G, False) == 0.0
