"""Links in space against an independent solve that knows no rotation: distances between all points alone."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from tintop.car.wheel_motion import linkage_of
from tintop.car.wheel_paths import Strut
from tintop.physics.linkage import Poses, moved_points, poses_at
from wheel_paths import STRUT, WISHBONES


def pose_of(path, travel, rack=0.0, top=(0.0, 0.0, 0.0)) -> Poses:
    return poses_at(linkage_of(path), np.array([travel]), np.array([rack]), np.array([top]))


def upright_of(path) -> dict[str, np.ndarray]:
    names = ["track_rod_outer", "wheel_centre"]
    names += (
        ["ball_joint", "strut_axis"] if isinstance(path, Strut) else ["upper_ball_joint", "lower_ball_joint"]
    )
    return {name: np.array(getattr(path, name)) for name in names}


def by_distances(path, travel, rack=0.0, inward=0.0) -> dict[str, np.ndarray]:
    """Points of the upright found from their distances to one another and to the joints on the body."""
    points = upright_of(path)
    if isinstance(path, Strut):
        top = np.array(path.top)
        points["further down the axis"] = np.array(path.strut_axis) * 1.6 - top * 0.6
        rods = [("ball_joint", path.arm_front), ("ball_joint", path.arm_rear)]
    else:
        rods = [
            ("upper_ball_joint", path.upper_front),
            ("upper_ball_joint", path.upper_rear),
            ("lower_ball_joint", path.lower_front),
            ("lower_ball_joint", path.lower_rear),
        ]
    # four points may lie nearly in one plane: a fifth off it settles which way round the upright is
    points["off the plane"] = np.array(path.wheel_centre) + np.array([0.21, -0.17, 0.13])
    names = list(points)
    start = np.array([points[name] for name in names])
    rack_joint = np.array(path.track_rod_inner)
    wanted = [
        (i, j, float(np.linalg.norm(start[i] - start[j]))) for i, j in combinations(range(len(names)), 2)
    ]

    def misses(flat):
        now = flat.reshape(-1, 3)
        at = dict(zip(names, now, strict=True))
        found = [np.linalg.norm(now[i] - now[j]) - length for i, j, length in wanted]
        for name, joint in rods:
            found.append(np.linalg.norm(at[name] - joint) - np.linalg.norm(points[name] - np.array(joint)))
        length = np.linalg.norm(points["track_rod_outer"] - rack_joint)
        moved_joint = rack_joint + np.array([0.0, rack, 0.0])
        found.append(np.linalg.norm(at["track_rod_outer"] - moved_joint) - length)
        found.append(at["wheel_centre"][2] - points["wheel_centre"][2] - travel)
        if isinstance(path, Strut):
            moved_top = top - np.array([0.0, inward, 0.0])
            found += list(
                np.cross(at["further down the axis"] - at["strut_axis"], moved_top - at["strut_axis"])
            )
        return np.array(found)

    solved = least_squares(misses, start.ravel(), xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=200)
    assert np.max(np.abs(solved.fun)) < 1e-9, "the independent solve did not close"
    return dict(zip(names, solved.x.reshape(-1, 3), strict=True))


@pytest.mark.parametrize("path", [STRUT, WISHBONES], ids=["strut", "wishbones"])
@pytest.mark.parametrize(("travel", "rack"), [(0.055, 0.0), (-0.06, 0.0), (0.03, 0.025), (-0.02, -0.04)])
def test_every_joint_lies_where_an_independent_solve_puts_it(path, travel, rack):
    other = by_distances(path, travel, rack)
    names = list(upright_of(path))
    pose = pose_of(path, travel, rack)
    mine = moved_points(linkage_of(path), pose, np.array(list(upright_of(path).values())))[0]
    assert float(pose.residual[0]) < 1e-9
    for name, point in zip(names, mine, strict=True):
        assert point == pytest.approx(other[name], abs=2e-8), name


def test_a_moved_top_agrees_with_the_independent_solve():
    other = by_distances(STRUT, 0.0, 0.0, inward=0.012)
    pose = pose_of(STRUT, 0.0, top=(0.0, -0.012, 0.0))
    mine = moved_points(linkage_of(STRUT), pose, np.array([STRUT.track_rod_outer, STRUT.ball_joint]))[0]
    assert mine[0] == pytest.approx(other["track_rod_outer"], abs=2e-8)
    assert mine[1] == pytest.approx(other["ball_joint"], abs=2e-8)


@given(travel=st.floats(-0.06, 0.06), rack=st.floats(-0.04, 0.04), path=st.sampled_from([STRUT, WISHBONES]))
def test_links_keep_their_length_and_the_upright_its_shape(travel, rack, path):
    pose = pose_of(path, travel, rack)
    linkage = linkage_of(path)
    inner = linkage.inner.copy()
    inner[linkage.track_rod, 1] += rack
    outer = moved_points(linkage, pose, linkage.outer)[0]
    assert np.linalg.norm(outer - inner, axis=1) == pytest.approx(linkage.lengths, abs=1e-11)
    turn = pose.rotation[0]
    assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(turn) == pytest.approx(1.0)
    assert pose.shift[0, 2] == pytest.approx(travel, abs=1e-12)
    assert float(pose.residual[0]) < 1e-12


def test_the_way_there_does_not_matter():
    """A hundred poses walked together, and each walked alone, are the same."""
    travels = np.linspace(-0.06, 0.06, 25)
    together = poses_at(linkage_of(STRUT), travels, np.zeros(25), np.zeros((25, 3)))
    for travel, turn in zip(travels, together.rotation, strict=True):
        assert pose_of(STRUT, travel).rotation[0] == pytest.approx(turn, abs=1e-11)


@pytest.mark.parametrize("path", [STRUT, WISHBONES], ids=["strut", "wishbones"])
def test_rates_are_the_slopes_of_the_poses(path):
    step = 1e-5
    ahead, behind, here = (pose_of(path, 0.02 + by) for by in (step, -step, 0.0))
    assert here.shift_rate[0] == pytest.approx((ahead.shift[0] - behind.shift[0]) / (2 * step), abs=1e-7)
    spin = (ahead.rotation[0] - behind.rotation[0]) @ here.rotation[0].T / (2 * step)
    assert here.turn_rate[0] == pytest.approx((spin[2, 1], spin[0, 2], spin[1, 0]), abs=1e-6)


def test_links_that_cannot_reach_are_not_met():
    pose = pose_of(STRUT, -0.5)
    assert not pose.is_met[0]


def test_one_that_cannot_meet_leaves_the_others_be():
    poses = poses_at(linkage_of(STRUT), np.array([-0.5, 0.03]), np.zeros(2), np.zeros((2, 3)))
    assert list(poses.is_met) == [False, True]
    assert poses.rotation[1] == pytest.approx(pose_of(STRUT, 0.03).rotation[0], abs=1e-10)
