"""What four tyres can do at a point of a path: loads, grip, resistance and drive.

Axes per ISO 8855: x forward, y left, z up; a left turn has positive lateral acceleration and loads the
right wheels. Equations and symbols: docs/theory/four_wheels.md.

Sources: load transfer, W. F. and D. L. Milliken, Race Car Vehicle Dynamics, SAE 1995, ch. 18; brush model,
H. B. Pacejka, Tyre and Vehicle Dynamics, ch. 3 (both from memory).
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tintop.physics.compiled import kernel

FloatArray = NDArray[np.float64]

FRONT_GRIP, REAR_GRIP, POWER, LIMITER, BRAKES, GEAR_SHIFT = 0, 1, 2, 3, 4, 5
_LOWEST_FRICTION_SHARE = 0.3  # of the reference, far above the reference load
_LOWEST_CAMBER_SHARE = 0.6
_NO_GRIP = 1e-6  # [N]
_IN_THE_AIR = 10.0  # grip used by a wheel that is asked for force and has no load
_SOLVER_STEPS = 24
_TRY_ALL = 0.95  # share of the wanted force from which all of it is tried first
_SOLVER_TOLERANCE = 1.5e-5  # of the grip used


class Axle(NamedTuple):
    """What the kernel knows of one axle; forces in N, per unit as said."""

    track: float
    transfer: float  # load that moves to the outer wheel per lateral acceleration [N/(m/s²)]
    lift: float  # upward force per speed² [N/(m/s)²]
    friction_x_left: float
    friction_x_right: float
    friction_y_left: float
    friction_y_right: float
    grip_offset: float  # grip = friction × (grip_offset + grip_slope × load) × load
    grip_slope: float  # [1/N]
    camber: float
    camber_per_acceleration: float  # outward lean of the wheels per lateral acceleration [rad/(m/s²)]
    camber_best: float
    camber_loss: float
    slide_slip: float
    rolling_resistance: float
    drive_share: float
    brake_share: float


class Vehicle(NamedTuple):
    """What the kernel knows of the car on this lap; SI."""

    mass: float
    wheelbase: float
    rear_load_share: float  # standing still
    height_share: float  # height of the centre of gravity ÷ wheelbase
    drag: float  # force per speed² [N/(m/s)²]
    front: Axle
    rear: Axle
    lock_share: float  # of the driven axle's force that may differ left to right
    lock_force: float  # preload of the differential at the road [N]
    brake_force: float  # most the pedal gives [N]
    rolling_mass: float  # of the wheels' inertia [kg]
    shift_time: float
    lowest_friction: float  # lateral, of the four tyres at no load transfer


class Driveline(NamedTuple):
    """Engine and gearbox as tables; apart from Vehicle, whose plain numbers pass quicker between kernels."""

    speed_step: float  # of the tables [m/s]
    force: FloatArray  # (gears, speeds): full throttle at the road [N]
    best_gear: FloatArray  # (speeds,)
    gear_mass: FloatArray  # (gears,): of the engine's inertia [kg]
    engine_ratio: FloatArray  # (gears,): engine speed per road speed [rad/m]
    top_speed: float  # at the limiter in top gear [m/s]
    efficiency: float
    fuel_per_work: float  # [kg/J] of indicated work
    friction_work: float  # engine friction per radian [J/rad]
    idle_speed: float


class Road(NamedTuple):
    """The path's arrays, all (n,); see circuit.Path."""

    step: FloatArray
    lateral_curvature: FloatArray
    normal_curvature: FloatArray
    gravity_x: FloatArray
    gravity_y: FloatArray
    gravity_z: FloatArray


class Wheels(NamedTuple):
    """One axle: loads, forces and grip of its left and right wheel [N], and how much of the grip is used."""

    load_left: float
    load_right: float
    force_left: float  # longitudinal
    force_right: float
    grip_x_left: float
    grip_x_right: float
    grip_y_left: float
    grip_y_right: float
    demand: float  # lateral force of the axle
    share_y: float  # of the lateral grip that the longitudinal forces leave
    used_square: float  # square of the grip used by the harder worked wheel; above 1 = the axle slides


@kernel
def _load_share(axle: Axle, load: float) -> float:
    """Load times the friction's dependence on it [N]."""
    return max(axle.grip_offset + axle.grip_slope * load, _LOWEST_FRICTION_SHARE) * load


@kernel
def _camber_share(axle: Axle, lean: float) -> float:
    miss = lean - axle.camber_best
    return max(1.0 - axle.camber_loss * miss * miss, _LOWEST_CAMBER_SHARE)


@kernel
def share_of(part: float, whole: float) -> float:
    """How much of a grip a force takes; a wheel in the air holds none."""
    if whole > _NO_GRIP:
        return abs(part) / whole
    return 0.0 if abs(part) < 1e-3 else _IN_THE_AIR


@kernel
def grip_beside(grip_y: float, share_x: float) -> float:
    """Lateral grip left beside a share of the longitudinal grip (friction ellipse)."""
    return grip_y * math.sqrt(max(1.0 - share_x * share_x, 0.0))


@kernel
def used_square(share_x: float, grip_x: float, share_y: float) -> float:
    """Square of the grip a wheel uses: share_x of the longitudinal, share_y of the lateral grip beside it.

    A wheel in the air that is asked for nothing uses nothing.
    """
    if share_x == 0.0 and grip_x <= _NO_GRIP:
        return 0.0
    square = share_x * share_x
    if square >= 1.0:
        return square
    return square + share_y * share_y * (1.0 - square)


@kernel
def _axle_wheels(
    axle: Axle, load: float, moved: float, lateral: float, force: float, lock_share: float, lock_force: float
) -> Wheels:
    """Loads, force split and grip of an axle; demand and use are filled in later.

    Drive is split evenly but for what the differential holds back; brakes in proportion to the wheels' grip.
    """
    left = max(0.5 * load - moved, 0.0)
    right = max(0.5 * load + moved, 0.0)
    share_left = _load_share(axle, left)
    share_right = _load_share(axle, right)
    grip_x_left = axle.friction_x_left * share_left
    grip_x_right = axle.friction_x_right * share_right
    turn = 1.0 if lateral >= 0.0 else -1.0
    lean_outwards = axle.camber_per_acceleration * abs(lateral)
    grip_y_left = _camber_share(axle, lean_outwards - turn * axle.camber) * axle.friction_y_left * share_left
    grip_y_right = (
        _camber_share(axle, lean_outwards + turn * axle.camber) * axle.friction_y_right * share_right
    )
    grip = grip_x_left + grip_x_right
    difference = force * (grip_x_right - grip_x_left) / grip if grip > 0.0 else 0.0
    if force > 0.0:
        held = min(lock_share * force + lock_force, force)
        difference = min(max(difference, -held), held)
    force_left = 0.5 * (force - difference)
    force_right = 0.5 * (force + difference)
    return Wheels(
        left,
        right,
        force_left,
        force_right,
        grip_x_left,
        grip_x_right,
        grip_y_left,
        grip_y_right,
        0.0,
        0.0,
        0.0,
    )


@kernel
def _settled(w: Wheels, demand: float) -> Wheels:
    """An axle's wheels with the lateral force it must give."""
    share_left = share_of(w.force_left, w.grip_x_left)
    share_right = share_of(w.force_right, w.grip_x_right)
    lateral_grip = grip_beside(w.grip_y_left, share_left) + grip_beside(w.grip_y_right, share_right)
    share_y = share_of(demand, lateral_grip)
    used = max(
        used_square(share_left, w.grip_x_left, share_y), used_square(share_right, w.grip_x_right, share_y)
    )
    if lateral_grip <= _NO_GRIP:  # both slide along: goes on smoothly, so that the way back is found
        beyond = share_of(demand, w.grip_y_left + w.grip_y_right)
        used += beyond * beyond
    return Wheels(
        w.load_left,
        w.load_right,
        w.force_left,
        w.force_right,
        w.grip_x_left,
        w.grip_x_right,
        w.grip_y_left,
        w.grip_y_right,
        demand,
        share_y,
        used,
    )


@kernel
def tyres(
    vehicle: Vehicle, speed: float, force: float, lateral: float, normal: float
) -> tuple[Wheels, Wheels]:
    """The four tyres under a total longitudinal force at the road, at a lateral and a normal acceleration.

    speed [m/s]; force [N], drive positive, brakes negative; lateral, normal [m/s²] that the tyres must
    give; returns the front and rear Wheels, whose `used_square` must not exceed 1.
    """
    front, rear = vehicle.front, vehicle.rear
    weight = vehicle.mass * normal
    pitch = force * vehicle.height_share
    to_front = vehicle.rear_load_share
    load_front = max(weight * (1.0 - to_front) - pitch - front.lift * speed * speed, 0.0)
    load_rear = max(weight * to_front + pitch - rear.lift * speed * speed, 0.0)
    moved_front = front.transfer * lateral
    moved_rear = rear.transfer * lateral
    over = abs(moved_front) - 0.5 * load_front
    if over > 0.0:
        moved_front = math.copysign(0.5 * load_front, lateral)
        moved_rear += math.copysign(over * front.track / rear.track, lateral)
    over = abs(moved_rear) - 0.5 * load_rear
    if over > 0.0:
        moved_rear = math.copysign(0.5 * load_rear, lateral)
        moved_front += math.copysign(over * rear.track / front.track, lateral)
        moved_front = max(min(moved_front, 0.5 * load_front), -0.5 * load_front)
    force_front = force * (front.drive_share if force > 0.0 else front.brake_share)
    f = _axle_wheels(
        front, load_front, moved_front, lateral, force_front, vehicle.lock_share, vehicle.lock_force
    )
    r = _axle_wheels(
        rear, load_rear, moved_rear, lateral, force - force_front, vehicle.lock_share, vehicle.lock_force
    )
    yaw_moment = 0.5 * (
        (f.force_right - f.force_left) * front.track + (r.force_right - r.force_left) * rear.track
    )
    side = vehicle.mass * lateral
    demand_front = side * (1.0 - to_front) - yaw_moment / vehicle.wheelbase
    demand_rear = side * to_front + yaw_moment / vehicle.wheelbase
    return _settled(f, demand_front), _settled(r, demand_rear)


@kernel
def worst_use_square(vehicle: Vehicle, speed: float, force: float, lateral: float, normal: float) -> float:
    """Square of the grip used by the hardest worked wheel of the four."""
    front, rear = tyres(vehicle, speed, force, lateral, normal)
    return max(front.used_square, rear.used_square)


@kernel
def slip(slide_slip: float, used: float) -> float:
    """Tangent of slip at a share of the grip used (brush model: used = 1 - (1 - slip / slide_slip)³).

    The cube root is a fit of the fourth root and one step of Halley's rule, within 7e-5 and much quicker
    than the library's.
    """
    left = 1.0 - used
    if left <= 0.0:
        return slide_slip
    fourth = math.sqrt(math.sqrt(left))
    over = fourth * (0.13543786 + 1.34817112 * fourth)
    under = 0.50264526 + fourth
    over_cube = over * over * over
    left_cube = left * under * under * under
    return slide_slip * (1.0 - over * (over_cube + 2.0 * left_cube) / (under * (2.0 * over_cube + left_cube)))


@kernel
def corner_drag(vehicle: Vehicle, front: Wheels, rear: Wheels) -> float:
    """Force against the path from the tyres' lateral slip [N]."""
    return abs(front.demand) * slip(vehicle.front.slide_slip, front.share_y) + abs(rear.demand) * slip(
        vehicle.rear.slide_slip, rear.share_y
    )


@kernel
def resistance_force(vehicle: Vehicle, speed: float, normal: float, gravity_x: float) -> float:
    """Drag, rolling resistance and the grade's pull [N]."""
    square = speed * speed
    rolling = (
        vehicle.front.rolling_resistance * (1.0 - vehicle.rear_load_share)
        + vehicle.rear.rolling_resistance * vehicle.rear_load_share
    ) * vehicle.mass * normal - square * (
        vehicle.front.rolling_resistance * vehicle.front.lift
        + vehicle.rear.rolling_resistance * vehicle.rear.lift
    )
    return vehicle.drag * square + rolling - vehicle.mass * gravity_x


@kernel
def gear_at(driveline: Driveline, speed: float) -> int:
    """Give the gear that pulls most at a speed [m/s], counted from 0."""
    at = min(int(speed / driveline.speed_step), driveline.best_gear.shape[0] - 1)
    return int(driveline.best_gear[at])


@kernel
def drive_at(driveline: Driveline, gear: int, speed: float) -> float:
    """Full-throttle force at the road in a gear [N]."""
    place = speed / driveline.speed_step
    at = min(int(place), driveline.force.shape[1] - 2)
    share = min(place - at, 1.0)
    return float(driveline.force[gear, at] * (1.0 - share) + driveline.force[gear, at + 1] * share)


@kernel
def held_force(
    vehicle: Vehicle,
    speed: float,
    lateral: float,
    normal: float,
    wanted: float,
    first: float,
    slope: float,
) -> tuple[float, float, Wheels, Wheels]:
    """The part of a wanted force (drive or brake) that the tyres can hold [N], by secants inside a bracket.

    `first` is a guess and `slope` the change of the grip used per force there [1/N], both as the call for the
    point before gave them (0 = unknown). Returns force, slope, front and rear Wheels. The bracket is halved
    where secants have fallen on the same side of the answer three times.
    """
    trial = 1.0
    rise = slope * wanted
    if rise > 0.0 and 0.0 < first / wanted < _TRY_ALL:
        trial = first / wanted
    else:
        rise = 0.0
    low, high = 0.0, 1.0
    last, over_last = 0.0, 0.0
    is_open = True  # all that is wanted has not been found too much
    side = 0
    for count in range(_SOLVER_STEPS):
        front, rear = tyres(vehicle, speed, trial * wanted, lateral, normal)
        over = math.sqrt(max(front.used_square, rear.used_square)) - 1.0
        if abs(over) < _SOLVER_TOLERANCE or (over < 0.0 and trial == 1.0) or wanted == 0.0:
            return trial * wanted, rise / wanted if wanted != 0.0 else 0.0, front, rear
        if over > 0.0:
            high = trial
            is_open = False
            side = max(side, 0) + 1
        else:
            low = trial
            side = min(side, 0) - 1
        if count > 0 and trial != last:
            rise = (over - over_last) / (trial - last)
        following = trial - over / rise if rise > 0.0 else 0.99 * trial / (1.0 + over)
        last, over_last = trial, over
        if is_open and following >= 1.0:
            trial = 1.0
        elif low < following < high and abs(side) < 3:
            trial = following
        else:
            trial = 0.5 * (low + high)
            side = 0
    front, rear = tyres(vehicle, speed, low * wanted, lateral, normal)
    return low * wanted, 0.0, front, rear
