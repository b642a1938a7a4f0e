"""Four corners: the table on elastic legs, a network solved another way, and what statics keeps."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.physics.corner_loads import (
    FourCorners,
    lifts_for,
    responses,
    rounded_turns,
    under_load,
    warp_pattern,
)

HATCHBACK = FourCorners(
    wheelbase=2.558,
    track_front=1.476,
    track_rear=1.468,
    wheel_rate_front=63e3,
    wheel_rate_rear=38e3,
    tyre_rate_front=230e3,
    tyre_rate_rear=220e3,
    bar_front=14e3,
    bar_rear=22e3,
)
RATES = st.floats(1.5e4, 2e5)
CARS = st.builds(
    FourCorners,
    wheelbase=st.floats(2.0, 3.2),
    track_front=st.floats(1.2, 1.7),
    track_rear=st.floats(1.2, 1.7),
    wheel_rate_front=RATES,
    wheel_rate_rear=RATES,
    tyre_rate_front=st.floats(1e5, 4e5),
    tyre_rate_rear=st.floats(1e5, 4e5),
    bar_front=st.floats(0.0, 4e4),
    bar_rear=st.floats(0.0, 4e4),
    base_front=st.just(1.0),
    base_rear=st.just(1.0),
)


def network(car: FourCorners, lifts: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The same car as eight heights, four hubs and four spring tops, the tops tied into one plane.

    The energy of every spring is written down, the tie as an equation with a multiplier.
    """
    hubs, tops = range(0, 4), range(4, 8)
    size = 8
    energy = np.zeros((size, size))
    force = np.zeros(size)

    def spring(rate: float, row: np.ndarray, offset: float = 0.0) -> None:
        energy[:] += rate * np.outer(row, row)
        force[:] -= rate * offset * row

    def at(**places: float) -> np.ndarray:
        row = np.zeros(size)
        for name, value in places.items():
            row[int(name[1:])] += value
        return row

    rates = (car.wheel_rate_front, car.wheel_rate_front, car.wheel_rate_rear, car.wheel_rate_rear)
    tyres = (car.tyre_rate_front, car.tyre_rate_front, car.tyre_rate_rear, car.tyre_rate_rear)
    for hub, top, rate, tyre, lift in zip(hubs, tops, rates, tyres, lifts, strict=True):
        spring(tyre, at(**{f"n{hub}": 1.0}))
        spring(rate, at(**{f"n{hub}": 1.0, f"n{top}": -1.0}), lift)
    for left, bar, track in ((0, car.bar_front, car.track_front), (2, car.bar_rear, car.track_rear)):
        row = at(**{f"n{left}": 1.0, f"n{left + 4}": -1.0}) - at(
            **{f"n{left + 1}": 1.0, f"n{left + 5}": -1.0}
        )
        spring(bar / track**2, row)
    # the four tops lie in one plane: corner minus its neighbour, weighted by the tracks
    plane = at(
        n4=1.0 / car.track_front, n5=-1.0 / car.track_front, n6=-1.0 / car.track_rear, n7=1.0 / car.track_rear
    )
    matrix = np.block([[energy, plane[:, None]], [plane[None, :], np.zeros((1, 1))]])
    found = np.linalg.lstsq(matrix, np.append(force, 0.0), rcond=None)[0]
    return -np.array(tyres) * found[:4], found[4:8]


@given(CARS, st.lists(st.floats(-0.02, 0.02), min_size=4, max_size=4))
def test_a_network_built_and_solved_another_way_agrees(car, lifts):
    lifts = np.array(lifts)
    loads, heights = network(car, lifts)
    found = responses(car)
    assert found.loads @ lifts == pytest.approx(loads, rel=1e-7, abs=1e-6)
    assert found.heights @ lifts == pytest.approx(heights, rel=1e-7, abs=1e-10)


@given(CARS)
def test_a_lift_changes_no_sum_and_only_warps(car):
    """Total, pitch moment and roll moment stay, so that every change of load is the one pattern there is."""
    loads = responses(car).loads
    pattern = warp_pattern(car.track_front, car.track_rear)
    for column in loads.T:
        cross = column[1] + column[2]
        assert column == pytest.approx(cross * pattern, rel=1e-6, abs=1e-4)
    assert loads[0, 0] > 0.0 and loads[1, 0] < 0.0 and loads[2, 0] < 0.0 and loads[3, 0] > 0.0


def test_a_table_on_four_elastic_legs_with_one_shimmed():
    """Each of four equal legs of rate k takes k d / 4 when one is made d longer: one redundant."""
    table = FourCorners(1.0, 1.0, 1.0, 1e5, 1e5, 1e12, 1e12)
    found = responses(table).loads @ np.array([0.001, 0.0, 0.0, 0.0])
    assert found == pytest.approx([25.0, -25.0, -25.0, 25.0], rel=1e-6)


def test_a_table_loaded_off_its_middle():
    """Load P at (a, b) on a rectangle 2c × 2d of equal legs: P/4 (1 ± a/c ± b/d)."""
    table = FourCorners(2.0, 1.0, 1.0, 1e5, 1e5, 1e12, 1e12)
    found = under_load(table, 400.0, 0.25, -0.1)
    assert found.loads == pytest.approx(
        [100 * (1 + 0.25 - 0.2), 100 * (1 + 0.25 + 0.2), 100 * (1 - 0.25 - 0.2), 100 * (1 - 0.25 + 0.2)]
    )


@given(CARS, st.floats(-1500.0, 1500.0))
def test_four_perches_reach_the_cross_and_keep_every_height(car, wanted):
    found = responses(car)
    lifts = lifts_for(found, wanted)
    loads = found.loads @ lifts
    assert loads[1] + loads[2] == pytest.approx(wanted, rel=1e-6, abs=1e-6)
    assert found.heights @ lifts == pytest.approx(np.zeros(4), abs=1e-9)


def test_without_bars_each_perch_moves_its_load_over_the_ride_rate():
    """Heights held, spring and tyre of a corner stand in series: lift = load (1/k wheel + 1/k tyre)."""
    car = HATCHBACK._replace(bar_front=0.0, bar_rear=0.0)
    loads = 200.0 * warp_pattern(car.track_front, car.track_rear)
    series = np.array([1 / 63e3 + 1 / 230e3] * 2 + [1 / 38e3 + 1 / 220e3] * 2)
    assert lifts_for(responses(car), 200.0) == pytest.approx(loads * series, rel=1e-3)


def test_bars_hooked_on_make_each_turn_move_more_load():
    loose = HATCHBACK._replace(bar_front=0.0, bar_rear=0.0)
    assert responses(HATCHBACK).loads[0, 0] > 1.02 * responses(loose).loads[0, 0]


@given(CARS, st.floats(20.0, 800.0))
def test_a_diagonal_pair_reaches_the_cross_too_but_tilts_the_body(car, wanted):
    found = responses(car)
    lifts = lifts_for(found, wanted, (1, 2))
    assert lifts[0] == lifts[3] == 0.0
    loads = found.loads @ lifts
    assert loads[1] + loads[2] == pytest.approx(wanted, rel=1e-6)
    assert np.abs(found.heights @ lifts).max() > 1e-7


@given(CARS, st.floats(-800.0, 800.0))
def test_whole_steps_stay_near_the_exact_turns(car, wanted):
    found = responses(car)
    per_turn = np.full(4, 0.0016)
    turns = lifts_for(found, wanted) / per_turn
    steps = rounded_turns(found, turns, per_turn, wanted)
    assert steps / 0.25 == pytest.approx(np.round(steps / 0.25), abs=1e-9)
    assert np.abs(steps - turns).max() <= 0.5 + 1e-9

    def cost(chosen: np.ndarray) -> float:
        lifts = chosen * per_turn
        loads = found.loads @ lifts
        return (loads[1] + loads[2] - wanted) ** 2 + float(
            np.sum((found.heights @ (lifts - turns * per_turn) / 5e-5) ** 2)
        )

    assert cost(steps) <= cost(0.25 * np.round(turns / 0.25)) + 1e-6


def test_a_solid_axle_with_its_springs_at_the_wheels_is_an_independent_one_and_inboard_turns_do_less():
    car = FourCorners(2.6, 1.48, 1.46, 28e3, 26e3, 2e5, 2e5)
    at_wheels = responses(car._replace(base_rear=1.0))
    assert np.array_equal(at_wheels.loads, responses(car).loads)
    inboard = responses(car._replace(base_rear=0.7))
    cross = inboard.loads[1] + inboard.loads[2]
    usual = at_wheels.loads[1] + at_wheels.loads[2]
    assert 0.0 < cross[2] < usual[2]
    assert np.allclose(inboard.loads.sum(axis=0), 0.0, atol=1e-6)


def test_one_perch_of_a_solid_axle_on_rigid_tyres_by_hand():
    """A lift shared by a spring inboard: half the base of it goes across, all of it up (statics)."""
    base, rate = 0.7, 26e3
    car = FourCorners(2.6, 1.5, 1.5, 1e-3, rate, 1e12, 1e12, base_rear=base)
    across = responses(car).heights
    lift = 0.01
    heave = 0.5 * (across[2] + across[3]) @ np.array([0.0, 0.0, lift, 0.0])
    lean = (across[2] - across[3]) @ np.array([0.0, 0.0, lift, 0.0])
    assert heave == pytest.approx(0.5 * lift, rel=1e-3)
    assert lean == pytest.approx(lift / base, rel=1e-3)  # the lift over the springs' base, at the track
