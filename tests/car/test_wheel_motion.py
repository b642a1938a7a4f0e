"""Camber, toe and roll centre of moving wheels: closed forms of planar links first."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.car.strut_top import top_moved
from tintop.car.wheel_motion import (
    bump_curve,
    camber_recovery,
    linkage_of,
    wheel_at,
    wheels_at,
)
from tintop.car.wheel_path_check import check_wheel_path
from tintop.car.wheel_paths import WheelTable, Wishbones
from tintop.errors import BadInput
from tintop.physics.linkage import poses_at
from wheel_paths import STRUT, TWIST_BEAM, WISHBONES, planar_strut

DEGREE = math.pi / 180.0


def turned(point, about, angle):
    y, z = point[0] - about[0], point[1] - about[1]
    return (
        about[0] + y * math.cos(angle) - z * math.sin(angle),
        about[1] + y * math.sin(angle) + z * math.cos(angle),
    )


@pytest.mark.parametrize("arm_turn", [-0.15, -0.05, 0.04, 0.12])
def test_planar_strut_is_a_triangle(arm_turn):
    """Arm turned by an angle; the upright turns by that of the line from ball joint to top, and the angle
    under which the slider's axis, a fixed distance from the ball joint, is seen from the top."""
    strut = planar_strut()
    pivot, joint = strut.arm_front[1:], strut.ball_joint[1:]
    top, axis, wheel = strut.top[1:], strut.strut_axis[1:], strut.wheel_centre[1:]

    def axis_angle(at):
        along = (top[0] - axis[0], top[1] - axis[1])
        offset = (along[0] * (joint[1] - axis[1]) - along[1] * (joint[0] - axis[0])) / math.hypot(*along)
        reach = (top[0] - at[0], top[1] - at[1])
        return math.atan2(reach[1], reach[0]) + math.asin(offset / math.hypot(*reach))

    assert axis_angle(joint) == pytest.approx(math.atan2(top[1] - axis[1], top[0] - axis[0]))
    moved = turned(joint, pivot, arm_turn)
    turn = axis_angle(moved) - axis_angle(joint)
    arm = turned((wheel[0] - joint[0], wheel[1] - joint[1]), (0.0, 0.0), turn)
    travel = moved[1] + arm[1] - wheel[1]
    pose = wheel_at(strut, travel)
    assert pose.camber == pytest.approx(-turn, abs=1e-12)
    assert pose.toe == pytest.approx(0.0, abs=1e-12)
    assert pose.residual < 1e-9


def instant_centre(strut):
    """Where the arm's line meets the line through the top, square to the strut."""
    (ay, az), (by, bz) = strut.arm_front[1:], strut.ball_joint[1:]
    (ty, tz), (sy, sz) = strut.top[1:], strut.strut_axis[1:]
    slope = (bz - az) / (by - ay)
    square = -(ty - sy) / (tz - sz)
    y = (tz - az + slope * ay - square * ty) / (slope - square)
    return y, az + slope * (y - ay)


def test_camber_gain_is_one_over_the_virtual_swing_arm():
    strut = planar_strut()
    y, _ = instant_centre(strut)
    pose = wheel_at(strut, 0.0)
    assert pose.swing_arm == pytest.approx(strut.wheel_centre[1] - y, rel=1e-9)
    assert pose.camber_rate == pytest.approx(-1.0 / (strut.wheel_centre[1] - y), rel=1e-9)


def test_roll_centre_lies_on_the_line_from_contact_to_instant_centre():
    strut = planar_strut()
    y, z = instant_centre(strut)
    half_track = strut.wheel_centre[1]
    assert wheel_at(strut, 0.0).roll_centre_height == pytest.approx(
        z * half_track / (half_track - y), rel=1e-9
    )


def test_equal_parallel_level_wishbones_neither_lean_nor_roll():
    arms = Wishbones(
        upper_front=(0.1, 0.4, 0.45), upper_rear=(-0.1, 0.4, 0.45), upper_ball_joint=(0.0, 0.7, 0.45),
        lower_front=(0.1, 0.4, 0.20), lower_rear=(-0.1, 0.4, 0.20), lower_ball_joint=(0.0, 0.7, 0.20),
        track_rod_inner=(-0.1, 0.4, 0.30), track_rod_outer=(-0.1, 0.7, 0.30), wheel_centre=(0.0, 0.75, 0.30),
    )  # fmt: skip
    for pose in bump_curve(arms, (-0.05, 0.0, 0.05)):
        assert pose.camber == pytest.approx(0.0, abs=1e-12)
        assert pose.toe == pytest.approx(0.0, abs=1e-12)
    assert wheel_at(arms, 0.0).roll_centre_height == pytest.approx(0.0, abs=1e-12)
    assert camber_recovery(arms, 1.5, 1.0) == pytest.approx(0.0, abs=1e-9)


def test_a_swing_arm_of_half_the_track_keeps_the_wheel_upright():
    """Milliken, Race Car Vehicle Dynamics, ch. 17 (from memory): an arm to the car's middle leans nothing."""
    table = WheelTable(
        travel=(-0.1, 0.1), camber=(0.1 / 0.75, -0.1 / 0.75), toe=(0.0, 0.0),
        leans_with_body=1.0, roll_centre_height=0.1,
    )  # fmt: skip
    assert camber_recovery(table, 1.5, 1.0) == pytest.approx(1.0)
    assert camber_recovery(table, 1.5, 0.8) == pytest.approx(0.8)  # the tyres' part of the roll is not mended


def test_a_table_leans_by_the_share_it_states():
    table = WheelTable(
        travel=(-0.1, 0.1), camber=(-0.03, -0.03), toe=(0.0, 0.0), leans_with_body=0.6, roll_centre_height=0.1
    )
    assert camber_recovery(table, 1.5, 0.85) == pytest.approx(0.4)


def test_recovery_is_track_over_twice_the_swing_arm():
    strut = planar_strut()
    arm = wheel_at(strut, 0.0).swing_arm
    assert camber_recovery(strut, 1.47, 1.0, roll=1e-4) == pytest.approx(0.5 * 1.47 / arm, rel=1e-5)


def test_top_inwards_is_about_a_degree_in_ten_millimetres():
    """Common practice, no source: the range of a degree either way of a third."""
    move = top_moved(STRUT, 0.010)
    assert -1.34 * DEGREE < move.camber < -0.66 * DEGREE
    # by hand: the top turns the strut about the ball joint
    height = STRUT.top[2] - STRUT.ball_joint[2]
    assert move.camber == pytest.approx(-math.atan(0.010 / height), rel=0.12)


def test_the_toe_that_comes_with_the_camber_goes_back_with_the_track_rod():
    move = top_moved(STRUT, 0.008, rim_diameter=0.42, pitch=1.5e-3)
    assert abs(move.toe_at_rim) > 0.3e-3
    assert move.toe_at_rim == pytest.approx(0.42 * math.sin(move.toe))
    assert move.turns == pytest.approx(move.rod_longer / 1.5e-3)
    linkage = linkage_of(STRUT)
    lengths = linkage.lengths + np.array([0.0, 0.0, move.rod_longer])
    rebuilt = poses_at(
        linkage._replace(lengths=lengths), np.zeros(1), np.zeros(1), np.array([[0.0, -0.008, 0.0]])
    )
    axle = rebuilt.rotation[0, :, 1]
    assert math.atan2(axle[0], axle[1]) == pytest.approx(0.0, abs=1e-9)
    assert -math.asin(axle[2]) == pytest.approx(move.camber_with_toe_back, abs=1e-9)
    moved_back = top_moved(replace(STRUT, top=(STRUT.top[0], STRUT.top[1] - 0.008, STRUT.top[2])), -0.008)
    assert moved_back.camber == pytest.approx(-move.camber, rel=0.03)


def test_no_move_does_nothing():
    move = top_moved(STRUT, 0.0)
    assert (move.camber, move.toe, move.turns) == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)


def test_caster_inclination_scrub_and_trail_by_hand():
    pose = wheel_at(STRUT, 0.0)
    rise = 0.860 - 0.195
    assert pose.caster == pytest.approx(math.atan((0.003 + 0.045) / rise))
    assert pose.kingpin_inclination == pytest.approx(math.atan((0.690 - 0.545) / rise))
    assert pose.scrub_radius == pytest.approx(0.735 - (0.690 + 0.195 / rise * (0.690 - 0.545)))
    assert pose.trail == pytest.approx(0.003 + 0.195 / rise * (0.003 + 0.045))
    assert pose.contact == pytest.approx((0.0, 0.735, 0.0))


@pytest.mark.parametrize("degrees", [-3.0, 0.0, 1.5])
def test_the_contact_of_a_leaning_wheel_lies_where_its_middle_plane_meets_the_ground(degrees):
    """Closed form: the centre is as high as measured, so the contact is out by height × tan camber."""
    camber = math.radians(degrees)
    pose, upright = (wheel_at(replace(STRUT, camber=one), 0.0) for one in (camber, 0.0))
    outward = -STRUT.wheel_centre[2] * math.tan(camber)
    assert pose.contact == pytest.approx((0.0, 0.735 + outward, 0.0), abs=1e-12)
    assert pose.scrub_radius == pytest.approx(upright.scrub_radius + outward, abs=1e-12)
    assert pose.trail == pytest.approx(upright.trail, abs=1e-12)
    assert (pose.camber, pose.toe) == pytest.approx((0.0, 0.0), abs=1e-12)


def test_the_roll_centre_of_a_leaning_wheel_is_seen_from_its_contact():
    strut = replace(planar_strut(), camber=math.radians(-3.0))
    y, z = instant_centre(strut)
    half_track = strut.wheel_centre[1] + strut.wheel_centre[2] * math.tan(math.radians(3.0))
    assert wheel_at(strut, 0.0).roll_centre_height == pytest.approx(
        z * half_track / (half_track - y), rel=1e-9
    )


def test_a_wheel_measured_leaning_goes_on_leaning_as_its_upright_turns():
    """In a plane the upright's turn is the change of camber, from wherever it began."""
    strut, leaning = planar_strut(), replace(planar_strut(), camber=math.radians(-3.0))
    for straight, leant in zip(
        bump_curve(strut, (-0.04, 0.03)), bump_curve(leaning, (-0.04, 0.03)), strict=True
    ):
        assert leant.camber == pytest.approx(straight.camber, abs=1e-12)
        assert leant.camber_rate == pytest.approx(straight.camber_rate, abs=1e-9)


def test_caster_leans_the_outer_wheel_into_the_corner():
    """With its front pointing inwards, as the outer wheel steers, the left wheel gains negative camber."""
    outer = next(one for one in wheels_at(STRUT, (0.0, 0.0), (-0.02, 0.02)) if one.toe > 0.0)
    assert outer.camber < 0.0


@given(path=st.sampled_from([STRUT, WISHBONES]), travel=st.floats(-0.05, 0.05))
def test_rates_are_slopes(path, travel):
    step = 1e-5
    behind, here, ahead = bump_curve(path, (travel - step, travel, travel + step))
    assert here.camber_rate == pytest.approx((ahead.camber - behind.camber) / (2 * step), abs=1e-5)
    assert here.toe_rate == pytest.approx((ahead.toe - behind.toe) / (2 * step), abs=1e-5)
    assert here.residual < 1e-9


def test_nothing_moves_at_rest():
    for path in (STRUT, WISHBONES, TWIST_BEAM):
        pose = wheel_at(path, 0.0)
        assert (pose.camber, pose.toe) == pytest.approx((0.0, 0.0), abs=1e-12)


def test_a_table_is_read_between_and_told_beyond():
    pose = wheel_at(TWIST_BEAM, 0.025)
    assert pose.camber == pytest.approx(math.radians(-0.15))
    assert not pose.is_beyond_table
    beyond = wheel_at(TWIST_BEAM, 0.06)
    assert beyond.camber == pytest.approx(math.radians(-0.36))
    assert beyond.is_beyond_table


@pytest.mark.parametrize("path", [WISHBONES, TWIST_BEAM], ids=["wishbones", "table"])
def test_there_is_no_top_to_move(path):
    with pytest.raises(BadInput, match="strut top"):
        wheel_at(path, 0.0, 0.0, 0.005)


def test_points_as_they_should_be_are_let_by():
    for path in (STRUT, WISHBONES, TWIST_BEAM, planar_strut()):
        check_wheel_path(path, "front suspension")


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"arm_front": (0.0, 0.66, 0.2), "arm_rear": (-0.02, 0.66, 0.2)}, "cannot meet"),
        ({"ball_joint": (0.03, 0.36, 0.205)}, "same point"),
        ({"wheel_centre": (0.0, -0.735, 0.296)}, "left wheel"),
        ({"top": (-0.045, 0.545, 0.12)}, "above the lower ball joint"),
        ({"strut_axis": (-0.008, 0.62, 0.9)}, "beneath its top"),
        ({"top": (-45.0, 545.0, 860.0)}, "strut top, x"),
        ({"slots_inward": 15.0}, "slots inward"),
        ({"top": (float("nan"), 0.5, 0.8)}, "strut top, x"),
    ],
)
def test_points_that_cannot_be_are_refused_in_a_sentence(changes, says):
    with pytest.raises(BadInput, match=says) as refusal:
        check_wheel_path(replace(STRUT, **changes), "front suspension", 0.06, 0.08)
    assert "front suspension" in str(refusal.value)
