"""Load that moves between wheels when the car brakes, drives and corners; axes per ISO 8855."""

from typing import NamedTuple

from tintop.physics.constants import STANDARD_GRAVITY


class LateralTransfer(NamedTuple):
    """Roll angle of the body [rad] and the load that moves from inner to outer wheel per axle [N]."""

    roll: float
    front: float
    rear: float

    @property
    def front_share(self) -> float:
        """Front axle's share of all the load moved."""
        return self.front / (self.front + self.rear)


class WheelLoads(NamedTuple):
    """Vertical loads of the four wheels [N]."""

    front_left: float
    front_right: float
    rear_left: float
    rear_right: float


class AxleMoments(NamedTuple):
    """Roll moments about the ground that an axle takes per lateral acceleration [N·m/(m/s²)]; track [m].

    elastic through springs, bar and tyres as the body leans; geometric through the links, at once; unsprung
    from the wheels' own mass.
    """

    elastic: float
    geometric: float
    unsprung: float
    track: float

    @property
    def transfer(self) -> float:
        """Load that moves to the outer wheel per lateral acceleration [N/(m/s²)]."""
        return (self.elastic + self.geometric + self.unsprung) / self.track


def axle_moments(
    *,
    roll_stiffness: float,
    roll_per_acceleration: float,
    sprung_mass: float,
    roll_centre_height: float,
    unsprung_mass: float,
    unsprung_height: float,
    track: float,
) -> AxleMoments:
    """Give an axle's share of the roll moments.

    roll_stiffness [N·m/rad]; roll_per_acceleration of the body [rad/(m/s²)]; the sprung mass that stands on
    this axle, and the unsprung [kg]; lengths [m]. Source: W. F. and D. L. Milliken, Race Car Vehicle
    Dynamics, SAE 1995, ch. 18 (from memory).
    """
    return AxleMoments(
        elastic=roll_stiffness * roll_per_acceleration,
        geometric=sprung_mass * roll_centre_height,
        unsprung=unsprung_mass * unsprung_height,
        track=track,
    )


def cg_behind_front_axle(wheelbase: float, front_share: float) -> float:
    """Give how far the centre of gravity lies behind the front axle [m].

    wheelbase [m]; front_share of the weight on level ground. Source: statics.
    """
    return wheelbase * (1.0 - front_share)


def axle_loads(
    weight: float,
    wheelbase: float,
    cg_to_front: float,
    cg_height: float,
    acceleration_x: float,
    gravity: float,
) -> tuple[float, float]:
    """Give the front and rear axle load [N] under longitudinal acceleration, without aerodynamic load.

    weight [N]; lengths [m]; acceleration_x [m/s²], forwards positive; gravity [m/s²].
    Source: T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, ch. 1 (from memory).
    """
    rear = weight * (cg_to_front + cg_height * acceleration_x / gravity) / wheelbase
    return weight - rear, rear


def lateral_load_transfer(
    *,
    weight: float,
    front_share: float,
    cg_height: float,
    roll_centre_front: float,
    roll_centre_rear: float,
    track_front: float,
    track_rear: float,
    roll_stiffness_front: float,
    roll_stiffness_rear: float,
    acceleration_y: float,
    gravity: float = STANDARD_GRAVITY,
    with_weight_moment: bool = True,
) -> LateralTransfer:
    """Give roll and the load moved at each axle of a one-body car in a steady corner.

    weight [N]; heights and tracks [m]; stiffnesses [N·m/rad]; acceleration_y [m/s²]. With
    `with_weight_moment` the rolled body's weight adds to the roll, without it the moments about the ground
    balance exactly. Source: W. F. and D. L. Milliken, Race Car Vehicle Dynamics, SAE 1995, ch. 18 (from
    memory).
    """
    arm = cg_height - (roll_centre_rear + (roll_centre_front - roll_centre_rear) * front_share)
    side_force = weight * acceleration_y / gravity
    stiffness = roll_stiffness_front + roll_stiffness_rear
    if with_weight_moment:
        stiffness -= weight * arm
    roll = side_force * arm / stiffness
    front = (roll_stiffness_front * roll + side_force * front_share * roll_centre_front) / track_front
    rear = (roll_stiffness_rear * roll + side_force * (1.0 - front_share) * roll_centre_rear) / track_rear
    return LateralTransfer(roll, front, rear)


def wheel_loads(
    *,
    mass: float,
    cg_to_front: float,
    cg_to_rear: float,
    cg_height: float,
    track_mean: float,
    roll_share_front: float,
    downforce_front: float,
    downforce_rear: float,
    acceleration_x: float,
    acceleration_y: float,
    gravity: float = STANDARD_GRAVITY,
) -> WheelLoads:
    """Give the four wheel loads of a car whose roll moment is shared out by a given front share.

    mass [kg]; lengths [m]; downforces [N]; accelerations [m/s²], acceleration_y positive to the left.
    Source: F. Christ et al., Time-optimal trajectory planning for a race car considering variable tyre-road
    friction coefficients, Vehicle System Dynamics 59 (2021) 588, wheel load equations.
    """
    wheelbase = cg_to_front + cg_to_rear
    pitch = 0.5 * mass * acceleration_x * cg_height / wheelbase
    roll = mass * acceleration_y * cg_height / track_mean
    front = 0.5 * (mass * gravity * cg_to_rear / wheelbase + downforce_front) - pitch
    rear = 0.5 * (mass * gravity * cg_to_front / wheelbase + downforce_rear) + pitch
    front_roll, rear_roll = roll_share_front * roll, (1.0 - roll_share_front) * roll
    return WheelLoads(front - front_roll, front + front_roll, rear - rear_roll, rear + rear_roll)
