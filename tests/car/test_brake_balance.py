"""The example of docs/theory/brake_balance.md is worked here with the same numbers."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cars import front_driven_hatchback
from tintop.car.brake_balance import (
    BrakeAsk,
    brake_balance,
    braked_car,
    engine_braking_rear,
    usual_friction,
)
from tintop.car.car import DrivenAxle
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.lap.conditions import Conditions
from tintop.lap.vehicle import brake_forces
from tintop.physics.braking import adhesion_used, braking_at_locking, critical_braking
from tintop.physics.constants import STANDARD_GRAVITY

CAR = front_driven_hatchback()
DRY = BrakeAsk(friction=1.0, front_temp=300.0, rear_temp=200.0)
WET = replace(DRY, friction=0.5, front_temp=150.0, rear_temp=100.0)
frictions, temps = st.floats(0.25, 1.3), st.floats(20.0, 650.0)


def with_bar(share=0.5):
    return replace(CAR, brakes=replace(CAR.brakes, is_tandem_cylinder=False, bar_front_share=share))


def test_the_share_is_the_one_the_lap_brakes_with():
    found = brake_balance(CAR, DRY)
    share, force = brake_forces(CAR, Conditions(pad_friction=found.pad_friction))
    assert found.at_limit.front_share == pytest.approx(share)
    weight = found.mass * STANDARD_GRAVITY
    assert found.at_limit.rate * weight == pytest.approx(
        force * found.at_limit.pedal_force / CAR.brakes.pedal_force
    )
    assert found.hardest_rate * weight == pytest.approx(force)


@given(frictions, temps, temps, st.floats(0.0, 40.0))
def test_without_a_knee_the_limit_is_the_closed_form_of_a_fixed_share(friction, front, rear, fuel):
    found = brake_balance(CAR, BrakeAsk(friction=friction, front_temp=front, rear_temp=rear, fuel_mass=fuel))
    locking = braking_at_locking(found.braked, found.at_limit.front_share, friction)
    assert found.at_limit.rate == pytest.approx(min(locking), rel=1e-9)
    assert max(found.at_limit.front_used, found.at_limit.rear_used) == pytest.approx(friction, rel=1e-9)
    assert (found.margin < 0.0) == (locking[1] < locking[0])
    assert found.efficiency <= 1.0 + 1e-9


@given(frictions, st.floats(0.0, 1.5e7), st.floats(0.1, 1.0))
def test_a_valve_with_a_knee_holds_back_the_rear_above_it_alone(friction, knee, share):
    car = replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=share))
    found = brake_balance(car, replace(DRY, friction=friction, valve_knee=knee))
    open_car = replace(CAR, brakes=replace(CAR.brakes, rear_valve_share=1.0))
    opened = brake_balance(open_car, replace(DRY, friction=friction))
    assert max(found.at_limit.front_used, found.at_limit.rear_used) == pytest.approx(friction, rel=1e-9)
    for point, other in zip(found.points, opened.points, strict=True):
        if point.pressure_front <= knee:
            assert point.front_share == pytest.approx(other.front_share)
        assert point.front_share >= other.front_share - 1e-9
        used = adhesion_used(found.braked, point.front_share, point.rate)
        assert (point.front_used, point.rear_used) == pytest.approx(used)
    assert [point.rate for point in found.points] == pytest.approx([0.01 * n for n in range(1, 131)])


def test_the_critical_rate_is_where_the_closed_form_has_it():
    found = brake_balance(CAR, DRY)
    critical = critical_braking(found.braked, found.at_limit.front_share)
    assert critical - 0.01 <= found.critical_rate <= critical  # rounded down, never up
    assert found.rear_first_by_rule[0] == pytest.approx(found.critical_rate + 0.01)


def test_less_grip_and_a_fuller_tank_are_the_safer_side():
    wet, dry = brake_balance(CAR, replace(DRY, friction=0.4)), brake_balance(CAR, DRY)
    assert wet.margin > dry.margin
    assert brake_balance(CAR, replace(DRY, fuel_mass=35.0)).margin > dry.margin


def test_a_bar_moves_the_front_share_and_a_tandem_does_not_feel_it():
    more = brake_balance(with_bar(0.6), DRY).at_limit.front_share
    assert more > brake_balance(with_bar(0.5), DRY).at_limit.front_share
    assert brake_balance(with_bar(0.5), DRY).at_limit.front_share == pytest.approx(
        brake_balance(CAR, DRY).at_limit.front_share
    )


def test_the_doubt_grows_with_what_is_not_known():
    def known(**more):
        values = {"masses.front_share": (0.6, 0.004), "brakes.front.pad.frictions": (1.0, 0.08), **more}
        return {
            path: Known(value=value, uncertainty=off, origin=Origin.ESTIMATED)
            for path, (value, off) in values.items()
        }

    little = brake_balance(CAR, DRY, known())
    share = little.at_limit.front_share
    assert little.doubt == pytest.approx(math.hypot(0.004, share * (1.0 - share) * 0.08))
    assert brake_balance(CAR, DRY, known(**{"masses.cg_height": (0.5, 0.03)})).doubt > little.doubt
    assert brake_balance(CAR, DRY).doubt == 0.0


def driven(axle):
    return replace(CAR, driven_axle=axle, gearbox=replace(CAR.gearbox, front_drive_share=0.4))


def test_the_engine_brakes_a_driven_rear_axle_and_takes_its_margin():
    """The example of the theory: 50 N·m of overrun in third brakes by about 0.075 g, 4.5 points at 1.2 g."""
    engine = replace(CAR.engine, displacement=2e-3, friction_pressure=4.0 * math.pi * 50.0 / 2e-3 - 7e4)
    box = replace(CAR.gearbox, ratios=(3.4, 2.0, 1.4, 1.0), final_drive=4.0, efficiency=1.0)
    ask = replace(DRY, friction=1.25)
    front, rear = (
        replace(CAR, driven_axle=axle, engine=engine, gearbox=box)
        for axle in (DrivenAxle.FRONT, DrivenAxle.REAR)
    )
    force = engine_braking_rear(rear)
    assert force == pytest.approx(50.0 * 1.4 * 4.0 / CAR.tyre_rear.radius)
    without, by_engine = brake_balance(front, ask), brake_balance(rear, ask)
    assert engine_braking_rear(front) == 0.0
    assert force / by_engine.mass / STANDARD_GRAVITY == pytest.approx(0.075, abs=0.01)
    assert -0.06 < by_engine.margin - without.margin < -0.03
    assert by_engine.at_limit.engine_share == pytest.approx(
        force / by_engine.at_limit.rate / by_engine.mass / STANDARD_GRAVITY
    )
    assert by_engine.rear_first_by_rule == without.rear_first_by_rule  # the rule asks of the brakes alone


@given(frictions, st.floats(0.0, 1.5e7), st.floats(0.3, 1.0))
def test_with_the_engine_the_first_axle_still_locks_at_the_roads_grip(friction, knee, share):
    car = replace(driven(DrivenAxle.REAR), brakes=replace(CAR.brakes, rear_valve_share=share))
    found = brake_balance(car, replace(DRY, friction=friction, valve_knee=knee))
    limit = found.at_limit
    assert max(limit.front_used, limit.rear_used) == pytest.approx(friction, rel=1e-9)
    assert (found.margin < 0.0) == (limit.rear_used > limit.front_used)
    assert limit.pedal_force >= 0.0


def test_an_engine_that_drives_both_axles_brakes_the_rear_by_its_share():
    whole, part = engine_braking_rear(driven(DrivenAxle.REAR)), engine_braking_rear(driven(DrivenAxle.FOUR))
    assert part == pytest.approx(0.6 * whole)


def test_how_well_the_engines_braking_is_known_is_part_of_the_doubt():
    drag = {"engine.friction_pressure": Known(value=1.5e5, uncertainty=0.3e5, origin=Origin.ASSUMED)}
    found = brake_balance(driven(DrivenAxle.REAR), DRY, drag)
    limit = found.at_limit
    assert found.doubt == pytest.approx(limit.front_share * limit.engine_share * math.hypot(0.2, 0.3))
    assert brake_balance(CAR, DRY, drag).doubt == 0.0


def test_the_example_worked_by_hand():
    braked, mass = braked_car(CAR)
    found = brake_balance(CAR, WET)
    lever = braked.cg_height / braked.wheelbase
    gain = CAR.brakes.torque_gain_front * found.pad_friction[0] / CAR.tyre_front.radius
    rear = CAR.brakes.torque_gain_rear * found.pad_friction[1] / CAR.tyre_rear.radius
    share = gain / (gain + rear)
    front_locks = 0.5 * braked.front_share / (share - 0.5 * lever)
    rear_locks = 0.5 * (1.0 - braked.front_share) / (1.0 - share + 0.5 * lever)
    assert found.at_limit.rate == pytest.approx(min(front_locks, rear_locks))
    pedal = min(front_locks, rear_locks) * mass * STANDARD_GRAVITY / (gain + rear)
    assert found.at_limit.pedal_force == pytest.approx(pedal)


def test_pedal_travel_of_a_tandem_is_the_sum_of_its_strokes():
    tandem, bar = brake_balance(CAR, DRY), brake_balance(with_bar(0.5), DRY)
    assert 0.005 < tandem.pedal_travel < 0.06
    assert bar.pedal_travel < tandem.pedal_travel


def test_usual_friction_is_that_of_the_worse_axle():
    assert usual_friction(CAR, 0.0) == min(
        CAR.tyre_front.friction_longitudinal, CAR.tyre_rear.friction_longitudinal
    )
    assert usual_friction(CAR, 1.0) == pytest.approx(0.48 * usual_friction(CAR, 0.0))


@pytest.mark.parametrize("wrong", [{"friction": 3.0}, {"front_temp": 2000.0}, {"valve_knee": -1.0}])
def test_nonsense_is_refused(wrong):
    with pytest.raises(BadInput):
        replace(DRY, **wrong)
