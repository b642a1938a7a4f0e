"""The ride model in time: closed forms, energy, rest, mirrors, stops, wheels off the ground."""

import os

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ride_cars import EVEN, HATCHBACK, cars, quarter_car
from tintop.errors import BadInput
from tintop.physics.constants import STANDARD_GRAVITY
from tintop.physics.ride_frequency import on_road
from tintop.physics.ride_model import Stops, ride_over
from tintop.physics.road_profile import Kerb, RoadClass, RoadProfile, road_of_class, road_with_kerb

TOP = 2.0
GRID = np.linspace(-TOP, TOP, 401)
FREE = Stops(1.0, 1.0, 1.0, 1.0, 0.0, 0.0)
STOPS = Stops(0.05, 0.05, 0.05, 0.05, 1e5, 1e5)
COMPILED = pytest.mark.skipif(
    os.environ.get("NUMBA_DISABLE_JIT") == "1", reason="kernels run plain: NUMBA_DISABLE_JIT is set"
)
KERB = Kerb(height=0.06, flat=0.8, ramp=0.4)


def plain(front: float, rear: float) -> np.ndarray:
    return np.stack([front * GRID, front * GRID, rear * GRID, rear * GRID])


def digressive(front: float = 1.0, rear: float = 1.0) -> np.ndarray:
    one = np.where(GRID > 0.0, 600.0, 1200.0) * np.tanh(GRID / 0.15) + 900.0 * GRID
    return np.stack([front * one, front * one, rear * one, rear * one])


@COMPILED
@pytest.mark.parametrize("waves", [2, 5, 12])
def test_quarter_car_transfer_within_a_thousandth(waves):
    """Sine of a whole number of waves in the wheelbase, so that both axles ride alike: four quarter cars."""
    speed, length, step = 10.0, EVEN.wheelbase / waves, 0.002
    frequency, amplitude = speed / length, 1e-3
    place = np.arange(round(130.0 / step)) * step
    height = amplitude * np.sin(2.0 * np.pi * place / length)
    road = RoadProfile(step=step, left=height, right=height)
    record = ride_over(EVEN, FREE, plain(2000.0, 2000.0), TOP, road, speed, 12.5)
    settled = record.time > 7.0
    wave = np.exp(-2j * np.pi * frequency * record.time[settled])

    def size(values: np.ndarray) -> float:
        basis = np.stack([wave.real, wave.imag, np.ones(len(wave))], axis=1)
        (a, b, _), *_ = np.linalg.lstsq(basis, values, rcond=None)
        return float(np.hypot(a, b))

    body, wheel = quarter_car(frequency, EVEN.sprung_mass / 4.0, 38.0, 25e3, 2000.0, 2.1e5)
    assert size(record.body[settled, 0]) == pytest.approx(amplitude * abs(body), rel=1e-3)
    assert size(record.hubs[settled, 0]) == pytest.approx(amplitude * abs(wheel), rel=1e-3)
    assert size(record.loads[settled, 3]) == pytest.approx(amplitude * 2.1e5 * abs(1.0 - wheel), rel=1e-3)


@COMPILED
def test_a_drawn_road_against_its_spectrum():
    """Linear car, a road of class A once round after one round to settle: r.m.s. as the spectra say."""
    speed, length = 30.0, 600.0
    road = road_of_class(RoadClass.A, length, 1.47, seed=4)
    twice = RoadProfile(
        step=road.step, left=np.r_[road.left[:-1], road.left], right=np.r_[road.right[:-1], road.right]
    )
    record = ride_over(HATCHBACK, FREE, plain(2200.0, 2000.0), TOP, twice, speed, 2.0 * length / speed)
    last = record.time >= length / speed
    said = on_road(HATCHBACK, np.array(2200.0), np.array(2000.0), RoadClass.A.roughness, speed)
    loads = record.loads[last].std(axis=0)
    assert 0.5 * (loads[0] + loads[1]) == pytest.approx(float(said.load_front), rel=0.03)
    assert 0.5 * (loads[2] + loads[3]) == pytest.approx(float(said.load_rear), rel=0.03)
    found = record.acceleration[last].std(axis=0)
    assert found == pytest.approx([float(said.heave), float(said.pitch), float(said.roll)], rel=0.05)


@COMPILED
@settings(max_examples=10, deadline=None)
@given(car=cars())
def test_at_rest_it_stays_at_rest(car):
    flat = RoadProfile(step=0.5, left=np.zeros(200), right=np.zeros(200))
    record = ride_over(car, STOPS, digressive(), TOP, flat, 20.0, 1.0)
    assert np.max(np.abs(record.body)) < 1e-12
    weight = (car.sprung_mass + 2.0 * (car.unsprung_front + car.unsprung_rear)) * STANDARD_GRAVITY
    assert np.sum(record.loads, axis=1) == pytest.approx(weight)


@COMPILED
@settings(max_examples=8, deadline=None)
@given(car=cars(), speed=st.floats(8.0, 40.0))
def test_work_done_by_the_road_is_taken_up_or_stored(car, speed):
    """Over a kerb with stops and a wheel in the air: work in = dampers + tyres + stored, to 0.1 %."""
    road = road_with_kerb(KERB, run_up=1.0, run_off=1.0, is_left=True)
    record = ride_over(car, STOPS, digressive(), TOP, road, speed, 8.0 / speed + 1.0)
    balance = record.work_in - record.taken.sum(axis=1) - record.stored
    assert np.max(np.abs(balance)) < 1e-3 * np.max(record.stored + record.taken.sum(axis=1))
    assert np.all(np.diff(record.taken[:, :4], axis=0) > -1e-9)
    assert np.all(np.diff(record.taken[:, 4]) > -1e-6 * max(record.taken[-1].sum(), 1.0))


def test_mirrored_road_gives_a_mirrored_ride():
    left, right = (road_with_kerb(KERB, run_up=1.0, run_off=1.0, is_left=side) for side in (True, False))
    one, other = (ride_over(HATCHBACK, STOPS, digressive(), TOP, road, 25.0, 0.5) for road in (left, right))
    swapped = [1, 0, 3, 2]
    np.testing.assert_allclose(one.loads, other.loads[:, swapped], atol=1e-6)
    np.testing.assert_allclose(one.body, other.body * [1.0, 1.0, -1.0], atol=1e-10)
    assert np.max(one.body[:, 2]) > 0.001  # the left side goes up first: positive roll


@COMPILED
def test_a_tyre_pushes_and_never_pulls():
    """A kerb taken fast: the wheel leaves the ground, carries nothing there, and falls back to it."""
    road = road_with_kerb(Kerb(height=0.1, flat=0.3, ramp=0.3), run_up=1.0, run_off=1.0, is_left=True)
    record = ride_over(HATCHBACK, STOPS, digressive(), TOP, road, 35.0, 2.0)
    assert record.loads.min() == 0.0
    air = record.time_in_air()
    assert 0.02 < air[0] < 0.5 and 0.02 < air[2] < 0.5 and air[1] == 0.0
    assert record.loads[-1] == pytest.approx(record.loads[0], rel=0.05)


@COMPILED
def test_a_free_wheel_falls_as_its_weight_and_spring_push_it():
    """Off the ground the hub's acceleration is what weight and suspension give, no tyre in it."""
    road = road_with_kerb(Kerb(height=0.1, flat=0.3, ramp=0.3), run_up=1.0, run_off=1.0, is_left=True)
    record = ride_over(HATCHBACK, FREE, plain(0.0, 0.0), TOP, road, 35.0, 1.0)
    speeds = np.gradient(record.hubs[:, 0], record.record_step)
    found = np.gradient(speeds, record.record_step)
    across = record.travel[:, 0] - record.travel[:, 1]
    push = 26e3 * record.travel[:, 0] + 9e3 / 1.48**2 * across
    expected = (-HATCHBACK.static_load_front - push) / 40.0
    in_air = record.loads[:, 0] == 0.0
    inside = in_air & np.roll(in_air, 2) & np.roll(in_air, -2)
    assert np.sum(inside) > 5
    np.testing.assert_allclose(found[inside], expected[inside], rtol=0.02, atol=0.5)


@COMPILED
def test_a_bump_stop_holds_the_wheel():
    road = road_with_kerb(Kerb(height=0.08, flat=1.0, ramp=0.4), run_up=1.0, run_off=1.0, is_left=True)
    without, with_stop = (
        ride_over(HATCHBACK, stops, digressive(0.3, 0.3), TOP, road, 25.0, 1.0)
        for stops in (FREE, Stops(0.03, 0.03, 0.06, 0.06, 3e5, 3e5))
    )
    assert with_stop.travel[:, 0].max() < without.travel[:, 0].max()
    assert with_stop.acceleration[:, 0].max() > without.acceleration[:, 0].max()


@COMPILED
def test_dampers_stiffer_than_any_stay_stable():
    """The step follows the quickest thing there is."""
    road = road_with_kerb(KERB, run_up=1.0, run_off=1.0, is_left=False)
    record = ride_over(HATCHBACK, STOPS, plain(4e4, 4e4), TOP, road, 25.0, 1.0)
    assert np.all(np.isfinite(record.loads)) and np.max(np.abs(record.body[:, 0])) < 0.2
    assert abs(record.body[-1, 0]) < 0.01


def test_a_drive_too_long_is_refused():
    flat = RoadProfile(step=0.5, left=np.zeros(9), right=np.zeros(9))
    with pytest.raises(BadInput, match="time on the road"):
        ride_over(HATCHBACK, STOPS, digressive(), TOP, flat, 20.0, 1e4)
    with pytest.raises(BadInput, match="speed"):
        ride_over(HATCHBACK, STOPS, digressive(), TOP, flat, 0.0, 1.0)
