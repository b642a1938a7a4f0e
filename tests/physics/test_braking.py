import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import braking
from tintop.physics.braking import BrakedCar

cars = st.builds(BrakedCar, st.floats(2.2, 3.0), st.floats(0.35, 0.65), st.floats(0.42, 0.65))


@pytest.mark.parametrize("case_id", [f"V4-{n:02d}" for n in (1, 2, 3, 4, 5, 6, 7, 9, 10, 11, 12, 13, 14, 15)])
def test_published_case(case_id):
    check(case_id)


@given(cars, st.floats(0.05, 1.2))
def test_at_the_ideal_share_both_axles_need_the_braking_rate(car, rate):
    front, rear = braking.adhesion_used(car, braking.ideal_front_brake_share(car, rate), rate)
    assert front == pytest.approx(rate, rel=1e-9)
    assert rear == pytest.approx(rate, rel=1e-9)


@given(cars, st.floats(0.55, 0.9), st.floats(0.1, 1.2))
def test_locking_and_adhesion_used_are_inverse(car, share, friction):
    front, rear = braking.braking_at_locking(car, share, friction)
    first = min(front, rear)
    used = braking.adhesion_used(car, share, first)
    assert max(used) == pytest.approx(friction, rel=1e-9)
    assert braking.braking_efficiency(car, share, first) == pytest.approx(first / friction, rel=1e-9)


@given(cars, st.floats(0.66, 0.9))
def test_the_rear_locks_first_only_above_the_critical_rate(car, share):
    critical = braking.critical_braking(car, share)
    front, rear = braking.adhesion_used(car, share, 0.98 * critical)
    assert front > rear
    front, rear = braking.adhesion_used(car, share, 1.02 * critical)
    assert rear > front


def test_a_front_axle_without_brakes_never_locks():
    front, rear = braking.braking_at_locking(BrakedCar(2.5, 0.5, 0.6), 0.0, 0.8)
    assert front == math.inf
    assert rear < 0.8


@given(st.floats(20.0, 70.0), st.floats(0.1, 0.9), st.floats(0.1, 0.9))
def test_braking_with_drag_keeps_energy(speed, share, drag):
    mass, force, end = 1100.0, 10e3, share * speed
    distance, time = braking.braking_with_drag(mass, force, drag, speed, end)
    steps = 2000
    width = (speed - end) / steps
    speeds = [end + (n + 0.5) * width for n in range(steps)]
    drag_work = sum(drag * v**2 * mass * v / (force + drag * v**2) * width for v in speeds)
    assert force * distance + drag_work == pytest.approx(braking.kinetic_energy(mass, speed, end), rel=1e-4)
    assert time == pytest.approx(sum(mass / (force + drag * v**2) * width for v in speeds), rel=1e-4)


@given(st.floats(10.0, 200.0), st.integers(1, 40), st.floats(1e-4, 2e-2), st.floats(5.0, 120.0))
def test_repeated_stops_follow_from_single_steps(rise, stops, cooling, interval):
    temp = 0.0
    for number in range(stops):
        temp = temp * (math.exp(-cooling * interval) if number else 1.0) + rise
    found = braking.repeated_stop_rise(rise, stops, cooling, interval)
    assert found == pytest.approx(temp, rel=1e-9)
    assert found <= braking.repeated_stop_limit(rise, cooling, interval) * (1.0 + 1e-12)


@given(st.floats(100.0, 1000.0), st.floats(1.1, 2.0))
def test_pressure_falls_with_a_larger_master_cylinder(force, factor):
    small = braking.line_pressure(force, 4.0, 3.0, 3e-4)
    assert braking.line_pressure(force, 4.0, 3.0, factor * 3e-4) == pytest.approx(small / factor)


def test_approval_distances_grow_with_speed_and_agree_in_shape():
    assert braking.approval_distance_71_320(80.0) > braking.approval_distance_r13h(80.0)
    assert braking.approval_distance_r13h(100.0) == pytest.approx(70.0)


@given(cars, st.floats(0.0, 1.0))
def test_the_parabola_is_the_ideal_at_every_rate(car, rate):
    front = rate * braking.ideal_front_brake_share(car, rate)
    assert braking.ideal_rear_force(car, front) == pytest.approx(rate - front, abs=1e-9)


@given(cars, st.floats(0.55, 0.95))
def test_the_rear_is_never_first_exactly_where_the_critical_rate_is_above_the_rule(car, share):
    rates = [0.01 * step for step in range(15, 81)]
    used = [braking.adhesion_used(car, share, rate) for rate in rates]
    first = braking.rear_first_rates(rates, [f for f, _ in used], [r for _, r in used])
    critical = braking.critical_braking(car, share)
    assert bool(first) == (critical < 0.80 - 1e-9) or abs(critical - 0.80) < 1e-9
    assert all(rate > critical - 1e-9 for rate in first)


def test_rates_outside_the_rule_are_not_judged():
    assert braking.rear_first_rates([0.1, 0.9], [0.1, 0.9], [0.2, 1.0]) == ()
    assert braking.weak_rates([0.05], [0.19], [0.05]) == ()
    assert braking.weak_rates([0.30], [0.50], [0.20]) == (0.30,)


@given(st.floats(0.0, 2e7), st.floats(0.0, 6e6), st.floats(0.0, 1.0))
def test_a_rear_valve_never_adds_and_joins_at_its_knee(pressure, knee, share):
    out = braking.valve_pressure(pressure, knee, share)
    assert 0.0 <= out <= pressure + 1e-6
    assert braking.valve_pressure(knee, knee, share) == pytest.approx(knee)


def test_a_longer_gap_and_a_softer_hose_make_a_longer_pedal():
    stiff = braking.fluid_moved(22.9e-4, 0.10e-3, 60e5, 2e-14)
    soft = braking.fluid_moved(22.9e-4, 0.15e-3, 60e5, 4e-14)
    travels = [braking.pedal_travel(fluid, 3.88e-4, 4.1) for fluid in (stiff, soft)]
    assert travels[0] < travels[1]
    assert stiff == pytest.approx(0.458e-6 + 0.12e-6)


def test_the_example_worked_by_hand():
    """Of docs/theory/brake_balance.md."""
    car = BrakedCar(2.50, 0.50, 0.60)
    wet = braking.braking_at_locking(car, 0.72, 0.5)
    assert wet == pytest.approx((0.4839, 0.5263), abs=5e-5)
    assert braking.ideal_front_brake_share(car, wet[0]) == pytest.approx(0.6968, abs=5e-5)
    dry = braking.braking_at_locking(car, 0.72, 1.0)
    assert dry == pytest.approx((1.1538, 0.8333), abs=5e-5)
    assert braking.ideal_front_brake_share(car, dry[1]) == pytest.approx(0.7667, abs=5e-5)
    assert braking.critical_braking(car, 0.72) == pytest.approx(0.60)


@given(cars, st.floats(0.5, 0.9), st.floats(0.2, 1.2))
def test_the_pedal_at_locking_gives_the_rate_at_locking(car, share, friction):
    weight, whole = 11e3, 90.0
    pedals = braking.pedal_at_locking(car, weight, friction, share * whole, 0.0, (1.0 - share) * whole)
    rates = braking.braking_at_locking(car, share, friction)
    assert [whole * pedal / weight for pedal in pedals] == pytest.approx(list(rates))
