"""Single changes of springs and bars, and how surely they gain."""

import pytest

from demo_cars import demo_lane
from setups_by_hand import car_by_hand, chassis_by_hand, dry_by_hand
from tintop.event import Weather
from tintop.known import Known, Origin
from tintop.lap.spring_map import smooth_fit, trial_on
from tintop.lap.spring_steps import doubted, gain_spread, spread, steps

CAR, CHASSIS, SETUP, DAY = car_by_hand(), chassis_by_hand(), dry_by_hand(), Weather()
LANE = demo_lane(5.0)
TRIAL = trial_on(smooth_fit(CAR, CHASSIS, DAY), LANE, DAY, 25.0)


def test_steps_are_single_changes_with_the_best_first() -> None:
    found = steps(CHASSIS, SETUP, TRIAL)
    assert len(found) == 2 * (2 + 3)
    gains = [step.gain for step in found]
    assert gains == sorted(gains, reverse=True)
    now = TRIAL(SETUP).lap_time
    for step in found:
        assert (step.setup.front == SETUP.front) != (step.setup.rear == SETUP.rear)
        assert step.gain == now - step.tried.lap_time


def test_the_range_of_a_gain_grows_with_what_is_not_known() -> None:
    step = steps(CHASSIS, SETUP, TRIAL)[0]

    def known(doubt: float) -> dict[str, Known]:
        return {
            "masses.cg_height": Known(value=CAR.masses.cg_height, uncertainty=doubt, origin=Origin.ESTIMATED)
        }

    def half(doubt: float) -> float:
        doubts = doubted(CAR, CHASSIS, known(doubt), {})
        return gain_spread(CAR, CHASSIS, (SETUP, step.setup), doubts, LANE, DAY)

    assert half(0.0) == 0.0
    assert 0.0 < half(0.01) < half(0.03)


def test_a_doubt_of_the_chassis_moves_the_chassis() -> None:
    doubt = Known(value=0.95, uncertainty=0.03, origin=Origin.ESTIMATED)
    ((car, chassis),) = doubted(CAR, CHASSIS, {}, {"front.motion_ratio": doubt})
    assert car == CAR
    assert chassis.front.motion_ratio == pytest.approx(0.98)


def test_independent_changes_add_as_squares() -> None:
    assert spread(1.0, (1.03, 0.96)) == pytest.approx(1.96 * 0.05)
