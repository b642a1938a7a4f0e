"""The drive in time beside the spectra, with its curves; kerbs and what they do."""

import os
from dataclasses import replace

import pytest

from dampers_by_hand import chassis_measured, setup_measured
from setups_by_hand import car_by_hand
from tintop.car.chassis import End
from tintop.car.ride_in_time import drive_over, kerb_strike
from tintop.car.ride_quality import ride_quality
from tintop.car.setup import Purpose
from tintop.errors import BadInput
from tintop.physics.road_profile import Kerb, RoadClass

pytestmark = pytest.mark.skipif(os.environ.get("NUMBA_DISABLE_JIT") == "1", reason="kernels run plain")
CAR, CHASSIS = car_by_hand(), chassis_measured()


@pytest.mark.parametrize("click", [2, 8])
def test_curves_in_time_against_their_plain_damping(click):
    """Statistical linearisation stands for the curves: within 6 % of the same road driven with them."""
    setup = setup_measured(Purpose.ROAD, click, click)
    driven = drive_over(CAR, CHASSIS, setup, RoadClass.B, 22.2, seed=2)
    said = ride_quality(CAR, CHASSIS, setup, RoadClass.B, 22.2)
    assert sum(driven.load_variation[:2]) / 2.0 == pytest.approx(said.road_variation_front, rel=0.06)
    assert sum(driven.load_variation[2:]) / 2.0 == pytest.approx(said.road_variation_rear, rel=0.06)
    assert driven.comfort == pytest.approx(said.comfort, rel=0.08)
    assert all(0.0 < heat < 200.0 for heat in driven.damper_heat)


def test_the_same_seed_is_the_same_drive_and_a_rougher_road_leaves_the_ground():
    one, again = (
        drive_over(CAR, CHASSIS, setup_measured(), RoadClass.A, 30.0, seconds=5.0) for _ in range(2)
    )
    assert one == again and one.in_air == (0.0, 0.0, 0.0, 0.0)
    rough = drive_over(CAR, CHASSIS, setup_measured(), RoadClass.E, 30.0, seconds=5.0)
    assert max(rough.in_air) > 0.01 and max(rough.on_stops) > 0.0


def test_a_kerb_lifts_the_struck_wheels_and_mirrors():
    kerb = Kerb(height=0.07, flat=1.0, ramp=0.4)
    left = kerb_strike(CAR, CHASSIS, setup_measured(), kerb, 30.0)
    right = kerb_strike(CAR, CHASSIS, setup_measured(), kerb, 30.0, is_left=False)
    assert left.in_air[0] > 0.0 and left.in_air[1] == 0.0
    assert right.in_air == pytest.approx((left.in_air[1], left.in_air[0], left.in_air[3], left.in_air[2]))
    assert left.most_load[0] > left.most_load[1]
    assert left.settled is not None and 0.0 < left.settled < 3.0
    low = kerb_strike(CAR, CHASSIS, setup_measured(), Kerb(height=0.01), 10.0)
    assert max(low.in_air) == 0.0 and not any(low.on_stop)
    assert low.most_felt < left.most_felt


def test_softer_dampers_settle_later():
    kerb = Kerb(height=0.05)
    soft, firm = (kerb_strike(CAR, CHASSIS, setup_measured(Purpose.DRY, c, c), kerb, 25.0) for c in (0, 7))
    assert firm.settled is not None
    assert soft.settled is None or soft.settled > firm.settled


def test_unknown_dampers_are_refused():
    bare = replace(CHASSIS, front=replace(CHASSIS.front, dampers=()))
    nameless = replace(setup_measured(), front=replace(setup_measured().front, damper=""))
    with pytest.raises(BadInput, match=f"{End.FRONT} dampers"):
        kerb_strike(CAR, bare, nameless, Kerb(), 20.0)
    with pytest.raises(BadInput, match="time on the road"):
        drive_over(CAR, CHASSIS, setup_measured(), RoadClass.A, 30.0, seconds=1.0)
