"""Invented suspension points for the tests: a strut, its planar sister, two wishbones, a twist beam."""

import math

from tintop.car.wheel_paths import Strut, WheelTable, Wishbones

STRUT = Strut(
    top=(-0.045, 0.545, 0.860),
    strut_axis=(-0.008, 0.620, 0.350),
    arm_front=(0.030, 0.360, 0.205),
    arm_rear=(-0.290, 0.370, 0.215),
    ball_joint=(0.003, 0.690, 0.195),
    track_rod_inner=(-0.130, 0.330, 0.245),
    track_rod_outer=(-0.130, 0.660, 0.235),
    wheel_centre=(0.000, 0.735, 0.296),
    slots_inward=0.015,
    slots_outward=0.005,
)
WISHBONES = Wishbones(
    upper_front=(0.110, 0.400, 0.430),
    upper_rear=(-0.120, 0.410, 0.420),
    upper_ball_joint=(-0.018, 0.640, 0.450),
    lower_front=(0.140, 0.330, 0.190),
    lower_rear=(-0.160, 0.340, 0.195),
    lower_ball_joint=(0.010, 0.690, 0.180),
    track_rod_inner=(-0.120, 0.340, 0.250),
    track_rod_outer=(-0.115, 0.660, 0.250),
    wheel_centre=(0.000, 0.730, 0.300),
)
TWIST_BEAM = WheelTable(
    travel=(-0.05, 0.0, 0.05),
    camber=(math.radians(0.3), 0.0, math.radians(-0.3)),
    toe=(math.radians(-0.05), 0.0, math.radians(0.05)),
    leans_with_body=0.6,
    roll_centre_height=0.12,
)


def planar_strut(
    pivot: tuple[float, float] = (0.36, 0.21),
    ball_joint: tuple[float, float] = (0.70, 0.19),
    axis: tuple[float, float] = (0.62, 0.36),
    top: tuple[float, float] = (0.55, 0.86),
) -> Strut:
    """A strut whose every link moves in a plane across the car; (y, z) [m]. Its track rod follows its arm."""
    return Strut(
        top=(0.0, *top),
        strut_axis=(0.0, *axis),
        arm_front=(0.15, *pivot),
        arm_rear=(-0.15, *pivot),
        ball_joint=(0.0, *ball_joint),
        track_rod_inner=(-0.12, *pivot),
        track_rod_outer=(-0.12, *ball_joint),
        wheel_centre=(0.0, 0.735, 0.30),
    )
