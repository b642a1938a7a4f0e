"""Dampers at their clicks: between curves, ratios by the outside case, unknown said so."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dampers_by_hand import SHAPE, SPEEDS, chassis_measured, measured_damper, setup_measured, side
from setups_by_hand import car_by_hand
from tintop.car.chassis import Damper, DamperSide, End
from tintop.car.damping import (
    WHEEL_SPEEDS,
    DampersKnown,
    axle_damping,
    clicks_of,
    critical_of,
    damper_force,
    damper_of,
    dampers_known,
    motion_ratios,
    wheel_table,
)
from tintop.car.ride_quality import ride_car
from tintop.car.setup import Purpose
from tintop.errors import BadInput
from tintop.physics.ride_frequency import RideCar

CAR, CHASSIS, SETUP = car_by_hand(), chassis_measured(), setup_measured()
RIDE = ride_car(CAR, CHASSIS, SETUP)


def test_forces_between_the_clicks_and_speeds_measured():
    found = damper_force(side(300.0, 900.0), 6.0, np.array(SPEEDS))
    assert found == pytest.approx([600.0 * share for share in SHAPE])
    between = damper_force(side(300.0, 900.0), 7.5, np.array([0.195]))
    assert between == pytest.approx([675.0 * 0.5 * (0.55 + 0.80)])


@settings(max_examples=30, deadline=None)
@given(click=st.floats(0.0, 12.0), speed=st.floats(0.0, 2.0))
def test_a_harder_click_and_a_higher_speed_never_give_less(click, speed):
    one = side(200.0, 1500.0)
    force = damper_force(one, click, np.array([speed, speed + 0.05]))
    harder = damper_force(one, min(click + 1.0, 12.0), np.array([speed, speed + 0.05]))
    assert force[1] >= force[0] >= 0.0
    assert np.all(harder >= force)


def test_a_click_there_is_not_is_refused():
    with pytest.raises(BadInput, match=r"13.*0 \(full soft\) to 12"):
        damper_force(side(200.0, 900.0), 13.0, np.array([0.1]))
    with pytest.raises(BadInput, match="no force curve"):
        damper_force(DamperSide(most_clicks=4, clicks=(0, 4), ratios=(0.2, 0.8)), 2.0, np.array([0.1]))


def test_a_table_at_the_wheel_has_the_motion_ratio_in_it_twice():
    axle = replace(CHASSIS.front, damper_motion_ratio=0.5)
    table = wheel_table(measured_damper(), (6.0, 6.0), axle, 1.0)
    still = len(WHEEL_SPEEDS) // 2
    assert table[still] == 0.0
    at = int(np.searchsorted(WHEEL_SPEEDS, 0.52 - 1e-9))
    bump = damper_force(measured_damper().bump, 6.0, np.array([0.26]))[0]
    rebound = damper_force(measured_damper().rebound, 6.0, np.array([0.26]))[0]
    assert table[at] == pytest.approx(0.5 * bump)
    assert table[2 * still - at] == pytest.approx(-0.5 * rebound)


def test_ratio_of_a_mid_size_saloon():
    """V1-05: Althoff and Würsching, CommonRoad vehicle models 2020, vehicle 2: 0.3499 front, 0.3999 rear."""
    ride = RideCar(
        965.7108098804, 1200.0, 350.0, 1.1561957064, 1.4227170936, 1.5, 1.5, 30.0, 30.0,
        24453.1378797, 19635.5047452, 0.0, 0.0, 158294.14, 158294.14, 0.0, 0.0,
    )  # fmt: skip
    assert motion_ratios(ride, End.FRONT, 1786.2441002).heave == pytest.approx(0.3499, rel=5e-4)
    assert motion_ratios(ride, End.REAR, 1649.0833035).heave == pytest.approx(0.3999, rel=5e-4)


def test_pitch_and_roll_take_their_lever_and_their_bar():
    """With the mass at the axles pitch damps like heave; a bar stiffens roll, so its ratio is lower."""
    index_one = RIDE._replace(
        pitch_inertia=RIDE.sprung_mass * RIDE.cg_to_front * RIDE.cg_to_rear, bar_front=0.0
    )
    ratios = motion_ratios(index_one, End.FRONT, 2000.0)
    assert ratios.pitch == pytest.approx(ratios.heave)
    barred = motion_ratios(index_one._replace(bar_front=2e4), End.FRONT, 2000.0)
    assert barred.roll < ratios.roll and barred.heave == ratios.heave


def test_an_end_says_bump_rebound_and_how_known():
    found = axle_damping(RIDE, CHASSIS, SETUP, End.FRONT)
    assert found is not None and found.known is DampersKnown.CURVE
    assert found.rebound_to_bump == pytest.approx(850.0 / 460.0)
    assert found.bump.heave == pytest.approx(found.bump_damping / critical_of(RIDE, End.FRONT))
    faster = axle_damping(RIDE, CHASSIS, SETUP, End.FRONT, 0.26)
    assert faster is not None and faster.bump_damping < found.bump_damping


def test_ratios_stand_for_a_curve_that_is_not_known():
    setup = replace(SETUP, front=replace(SETUP.front, damper="two knobs"))
    setup = setup.with_pair(End.FRONT, bump=12, rebound=24)
    found = axle_damping(RIDE, CHASSIS, setup, End.FRONT)
    assert found is not None and found.known is DampersKnown.RATIO
    assert found.bump.heave == pytest.approx(0.55) and found.rebound.heave == pytest.approx(0.9)


def test_one_knob_turns_both_by_the_rebounds_clicks():
    damper = replace(measured_damper(), is_linked=True)
    assert clicks_of(damper, SETUP.with_pair(End.FRONT, bump=1, rebound=9), End.FRONT) == (9.0, 9.0)


def test_beyond_what_was_measured_is_said():
    narrow = DamperSide(most_clicks=12, clicks=(3, 6), speeds=(0.1, 0.2), forces=((1.0, 2.0), (2.0, 3.0)))
    damper = Damper(name="narrow", bump=narrow, rebound=narrow)
    assert dampers_known(damper, (4.0, 6.0)) is DampersKnown.CURVE
    assert dampers_known(damper, (4.0, 9.0)) is DampersKnown.BEYOND
    assert damper_force(narrow, 9.0, np.array([0.1])) == pytest.approx([2.0])


def test_no_dampers_described_is_unknown_and_a_wrong_name_a_refusal():
    bare = replace(CHASSIS, front=replace(CHASSIS.front, dampers=()))
    nameless = replace(SETUP, front=replace(SETUP.front, damper=""))
    assert damper_of(bare, nameless, End.FRONT) is None
    assert axle_damping(RIDE, bare, nameless, End.FRONT) is None
    assert dampers_known(None) is DampersKnown.UNKNOWN
    with pytest.raises(BadInput, match="one of"):
        damper_of(CHASSIS, replace(SETUP, front=replace(SETUP.front, damper="measurd")), End.FRONT)
    assert setup_measured(Purpose.WET).purpose is Purpose.WET
