"""What was read on the pads, and what cannot have been."""

from dataclasses import replace

import pytest

from setups_by_hand import car_by_hand, chassis_by_hand, setup_by_hand
from tintop.car.chassis import End
from tintop.car.on_scales import (
    Lifted,
    OnScales,
    believable_total,
    centre_on_pads,
    raised_height,
    stated_total,
)
from tintop.errors import BadInput
from tintop.physics.weighing import front_load_lifted

CAR = car_by_hand()
SCALES = OnScales(loads=(345.0, 352.0, 219.0, 226.0), pad_doubt=0.25)
HEIGHT = 0.52


def lifted(**changed) -> Lifted:
    base, hub = CAR.dimensions.wheelbase, CAR.tyre_front.radius
    to_front = (1.0 - SCALES.corners.front_share) * base
    down = front_load_lifted(SCALES.total, base, to_front, HEIGHT, hub, 0.4)
    values = {"raised": End.REAR, "down": (down / 2.0, down / 2.0), "lift": 0.4, **changed}
    return Lifted(**values)


def height(scales=SCALES, **changed):
    return raised_height(scales, lifted(**changed), CAR, chassis_by_hand(), setup_by_hand())


def test_the_height_comes_back_with_its_doubt():
    found = height()
    assert found.height == pytest.approx(HEIGHT)
    assert found.doubt > 0.0 and max(found.parts, key=found.parts.get) == "scales"
    assert height(replace(SCALES, pad_doubt=1.0)).doubt > 2.0 * found.doubt


def test_springs_left_free_are_taken_off_and_doubted():
    found = height(is_locked=False)
    assert 0.0 < found.free_springs < 0.02
    assert found.height == pytest.approx(HEIGHT - found.free_springs)
    assert found.doubt > height().doubt
    with pytest.raises(BadInput, match="locked, for nothing says how stiff"):
        raised_height(SCALES, lifted(is_locked=False), CAR, None, None)


def test_no_lift_higher_than_is_safe_is_asked_for():
    found = height()
    assert found.surer_lift is None or found.surer_lift <= 0.6


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"lift": 0.0}, "lift: found 0 m; expected 0.1 to 1.2 m"),
        ({"down": (340.0, 340.0)}, "17.0 kg less than level.*was the other end raised"),
        ({"down": (348.5, 348.5)}, "0.0 kg less than level"),
        ({"down": (450.0, 450.0)}, "a gain of 203.0 kg, which puts the centre of gravity"),
        ({"down": (349.0, 349.0)}, "expected one between 350 and 800 mm"),
        ({"down": (-10.0, 349.0)}, "front scale, rear raised: found -10 kg"),
        ({"raised": End.FRONT, "down": (355.0, 364.0)}, "which puts the centre of gravity"),
    ],
)
def test_a_raised_weighing_that_cannot_be_is_refused(changed, words):
    with pytest.raises(BadInput, match=words):
        height(**changed)


@pytest.mark.parametrize("load", [0.0, -12.0, 5000.0, float("nan")])
def test_a_load_that_cannot_be_is_refused_at_its_scale(load):
    with pytest.raises(BadInput, match="scale RL"):
        OnScales(loads=(345.0, 352.0, load, 226.0))


def test_scales_that_do_not_sum_are_refused():
    stated_total(SCALES, 1142.9)
    with pytest.raises(BadInput, match=r"add up to 1142\.0 kg, and a stated total of 1180\.0 kg"):
        stated_total(SCALES, 1180.0)


def test_pounds_read_as_kilograms_are_refused_with_what_to_write():
    believable_total(SCALES, 1130.0)
    pounds = OnScales(loads=(760.0, 776.0, 483.0, 498.0))
    with pytest.raises(BadInput, match="Were they pounds"):
        believable_total(pounds, 1140.0)
    with pytest.raises(BadInput, match="one for each wheel"):
        believable_total(OnScales(loads=(760.0,) * 4), 1140.0)


def test_the_centre_by_moments():
    x, y = centre_on_pads(SCALES, CAR)
    assert x == pytest.approx(-CAR.dimensions.wheelbase * 445.0 / 1142.0)
    front, rear = CAR.dimensions.track_front, CAR.dimensions.track_rear
    assert y == pytest.approx((0.5 * front * -7.0 + 0.5 * rear * -7.0) / 1142.0)
