"""How each wheel stands to the road in each corner of a lap, and the grip that leaves it."""

import math
from dataclasses import dataclass, replace

import numpy as np

from tintop.car.body_roll import body_roll
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup, mean
from tintop.car.chassis import CORNERS, AxleChassis, Chassis, End
from tintop.car.setup import Setup
from tintop.car.strut_top import strut_as_set, top_for_camber
from tintop.car.tyres import Tyre
from tintop.car.wheel_motion import WheelPose, body_lean, camber_recovery, wheel_at, wheels_at
from tintop.car.wheel_paths import Strut, WheelPath, WheelTable
from tintop.circuit.circuit import Circuit, Corner, Path
from tintop.event import Weather
from tintop.lap.flying_lap import flying_lap
from tintop.lap.trace import LapTrace
from tintop.physics.ride import roll_stiffness_of_springs, wheel_rate

_RACK_STEP = 1e-3  # [m] over which the rack's ratio is read
_SAME_CAMBER = 1e-4  # [rad]
_SLOT_MARGIN = 3e-3  # [m] by which points and slots may be off
_USUAL_ROLL = math.radians(2.0)
_RECOVERY = (-0.5, 1.2)  # what a car's document takes


@dataclass(frozen=True, slots=True, kw_only=True)
class WheelCamber:
    """One wheel in one corner: camber to the road [rad], negative with the top towards the car.

    `by_constant` is the camber the lap model has there with the car's one share of recovery; `grip_share`
    what the tyre keeps of its best by the camber; travel in bump [m], load [N].
    """

    wheel: str
    is_outer: bool
    load: float
    travel: float
    camber: float
    by_constant: float
    grip_share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerCamber:
    """A corner where the car pulls hardest: distance [m], speed [m/s], lateral [m/s²], roll [rad]."""

    number: int
    distance: float
    speed: float
    lateral: float
    is_left: bool
    roll: float
    wheels: tuple[WheelCamber, ...]  # FL FR RL RR

    def outer(self, end: End) -> WheelCamber:
        """The loaded wheel of an end."""
        return next(
            one for one in self.wheels if one.is_outer and (one.wheel[0] == "F") is (end is End.FRONT)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCamber:
    """One end over the lap: the share of roll its links recover against the car's own number, and the means.

    `outer` is the mean camber of the outer wheels to the road, weighted by load; `grip_share` the mean of
    what both wheels keep, by load; `best` the camber at which the tyre holds most.
    """

    recovery: float
    stated_recovery: float
    outer: float
    outer_by_constant: float
    grip_share: float
    best: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CamberOnLap:
    """All corners, both ends, and whether a table was carried on beyond its readings."""

    corners: tuple[CornerCamber, ...]
    front: EndCamber
    rear: EndCamber
    roll_per_acceleration: float  # [rad/(m/s²)]
    is_beyond_table: bool

    def at(self, end: End) -> EndCamber:
        """One end."""
        return self.front if end is End.FRONT else self.rear


def camber_on_lap(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    circuit: Circuit,
    path: Path,
    weather: Weather,
    lap: LapTrace | None = None,
) -> CamberOnLap:
    """Give the camber of all wheels to the road in every corner; `lap` is that of the car with this set-up.

    Roll by the springs' part moves outer and inner wheel up and down their paths, a change of axle load both;
    front wheels of a strut or wishbones steer as the bend asks. BadInput as numbers_for and wheels_at.
    Source: geometry; roll as body_roll. Theory: docs/theory/camber_and_strut.md.
    """
    fitted = car_with_setup(car, chassis, setup, weather)
    lap = flying_lap(fitted, path, weather) if lap is None else lap
    roll_rate = body_roll(fitted).roll_per_acceleration
    places = [(corner, hardest_place(circuit, corner, lap)) for corner in circuit.corners]
    links = {end: path_as_set(car, chassis, setup, end) for end in End}
    hardest = [at for _, at in places]
    by_end = {
        end: _end(fitted, chassis, setup, end, links[end], hardest, path, lap, roll_rate) for end in End
    }
    corners = tuple(
        CornerCamber(
            number=corner.number,
            distance=float(lap.distance[at]),
            speed=float(lap.speed[at]),
            lateral=float(lap.lateral_acceleration[at]),
            is_left=corner.is_left,
            roll=roll_rate * abs(float(lap.lateral_acceleration[at])),
            wheels=(*by_end[End.FRONT][0][row], *by_end[End.REAR][0][row]),
        )
        for row, (corner, at) in enumerate(places)
    )
    return CamberOnLap(
        corners=corners,
        front=_mean(fitted, chassis, setup, End.FRONT, links[End.FRONT], corners),
        rear=_mean(fitted, chassis, setup, End.REAR, links[End.REAR], corners),
        roll_per_acceleration=roll_rate,
        is_beyond_table=any(beyond for _, beyond in by_end.values()),
    )


def wheels_at_places(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    end: End,
    places: list[int],
    path: Path,
    weather: Weather,
    lap: LapTrace,
) -> list[tuple[WheelCamber, WheelCamber]]:
    """Give left and right wheel of an end at points of a lap driven with this set-up; as camber_on_lap."""
    fitted = car_with_setup(car, chassis, setup, weather)
    links, roll_rate = path_as_set(car, chassis, setup, end), body_roll(fitted).roll_per_acceleration
    return _end(fitted, chassis, setup, end, links, places, path, lap, roll_rate)[0]


def links_recovery(car: Car, chassis: Chassis, setup: Setup, end: End, weather: Weather) -> float:
    """Give the share of body roll that an end's links take back with this set-up; as camber_on_lap."""
    fitted = car_with_setup(car, chassis, setup, weather)
    return _recovery(fitted, chassis, setup, end, path_as_set(car, chassis, setup, end))


def with_recovery_of_links(car: Car, fitted: Car, chassis: Chassis, setup: Setup) -> Car:
    """The car whose share of roll recovered is that of its links at the set-up's ride heights, both ends.

    `fitted` is `car`, as described, with the set-up on it. A share beyond what a car's document takes is held
    at that end.
    """
    found = {}
    for end in End:
        share = _recovery(fitted, chassis, setup, end, path_as_set(car, chassis, setup, end))
        found[f"camber_recovery_{end.value}"] = min(max(share, _RECOVERY[0]), _RECOVERY[1])
    return replace(fitted, suspension=replace(fitted.suspension, **found))


def path_as_set(car: Car, chassis: Chassis, setup: Setup, end: End) -> WheelPath:
    """The path of an end's wheels with the strut tops where they stand for this set-up's camber.

    `car` is the car as described: its camber is the one the points were measured with. What the ride height
    does to the camber is no work of the tops. Where the slots do not reach that far the points stay as
    measured.
    """
    path = chassis.at(end).wheel_path
    if not isinstance(path, Strut):
        return path
    change = mean(setup, end, "camber") - getattr(car.suspension, f"camber_{end.value}")
    change -= wheel_at(path, lowered_by(chassis, setup, end)).camber
    if abs(change) < _SAME_CAMBER:
        return path
    room = (path.slots_inward + _SLOT_MARGIN, path.slots_outward + _SLOT_MARGIN)
    inward = top_for_camber(path, change)
    return strut_as_set(path, change) if -room[1] <= inward <= room[0] else path


def lowered_by(chassis: Chassis, setup: Setup, end: End) -> float:
    """How far an end's wheels stand in bump [m] against the height at which its points were measured."""
    return chassis.at(end).ride_height - mean(setup, end, "ride_height")


def hardest_place(circuit: Circuit, corner: Corner, lap: LapTrace) -> int:
    """Index of the place in a corner at which the car pulls hardest sideways."""
    count = lap.distance.size
    first, last = (round(each / circuit.step) for each in (corner.start, corner.end))
    inside = np.arange(first, last + 1 if last >= first else last + count + 1) % count
    return int(inside[np.argmax(np.abs(lap.lateral_acceleration[inside]))])


def grip_share_at(tyre: Tyre, inclination: float) -> float:
    """Share of its best lateral grip that a tyre keeps; inclination negative = top towards the corner."""
    return max(1.0 - tyre.camber_loss * (inclination - tyre.camber_best) ** 2, 0.0)


def _end(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    end: End,
    links: WheelPath,
    places: list[int],
    path: Path,
    lap: LapTrace,
    roll_rate: float,
) -> tuple[list[tuple[WheelCamber, WheelCamber]], bool]:
    axle, track, tyre = chassis.at(end), _track(car, end), _tyre(car, end)
    by_springs = _springs_share(car, axle, end)
    rate = wheel_rate(axle.spring(setup.at(end).spring).rate, axle.motion_ratio)
    first = 0 if end is End.FRONT else 2
    load_at_rest = _load_at_rest(car, end)
    rack_ratio = _rack_ratio(links) if end is End.FRONT else 0.0
    recovery = getattr(car.suspension, f"camber_recovery_{end.value}")
    pair = setup.pair(end)
    lowered = [axle.ride_height - one.ride_height for one in pair]
    travels, racks = list(lowered), [0.0, 0.0]
    moves = []
    for at in places:
        lateral = float(lap.lateral_acceleration[at])
        loads = lap.channel("wheel_load")[at, first : first + 2]
        heave = (float(np.sum(loads)) - load_at_rest) / (2.0 * rate)
        roll = roll_rate * lateral  # to the right in a bend to the left
        steer = car.dimensions.wheelbase * float(path.lateral_curvature[at])
        for side, sign in enumerate((-1.0, 1.0)):
            travel = heave + sign * 0.5 * track * by_springs * roll
            travels.append(lowered[side] + travel)
            racks.append(sign * steer / rack_ratio if rack_ratio else 0.0)
            moves.append((side, sign * roll, travel, float(loads[side])))
    poses = wheels_at(links, travels, racks)
    at_rest: tuple[WheelPose, ...] = poses[:2]
    wheels = []
    for (side, lean, travel, load), pose in zip(moves, poses[2:], strict=True):
        static = pair[side].camber
        camber = static + pose.camber - at_rest[side].camber + body_lean(links, lean)
        is_outer = lean > 0.0
        wheels.append(
            WheelCamber(
                wheel=CORNERS[first + side],
                is_outer=is_outer,
                load=load,
                travel=travel,
                camber=camber,
                by_constant=static + (1.0 - recovery) * lean,
                grip_share=grip_share_at(tyre, camber if is_outer else -camber),
            )
        )
    return list(zip(wheels[::2], wheels[1::2], strict=True)), any(one.is_beyond_table for one in poses)


def _mean(
    car: Car, chassis: Chassis, setup: Setup, end: End, links: WheelPath, corners: tuple[CornerCamber, ...]
) -> EndCamber:
    both = [one for corner in corners for one in corner.wheels if (one.wheel[0] == "F") is (end is End.FRONT)]
    outer = [one for one in both if one.is_outer]

    def mean(values: list[float], of: list[WheelCamber]) -> float:
        loads = [one.load for one in of]
        return float(np.average(values, weights=loads)) if sum(loads) > 0.0 else math.nan

    return EndCamber(
        recovery=_recovery(car, chassis, setup, end, links),
        stated_recovery=getattr(car.suspension, f"camber_recovery_{end.value}"),
        outer=mean([one.camber for one in outer], outer),
        outer_by_constant=mean([one.by_constant for one in outer], outer),
        grip_share=mean([one.grip_share for one in both], both),
        best=_tyre(car, end).camber_best,
    )


def _recovery(car: Car, chassis: Chassis, setup: Setup, end: End, links: WheelPath) -> float:
    axle = chassis.at(end)
    lowered = lowered_by(chassis, setup, end)
    return camber_recovery(links, _track(car, end), _springs_share(car, axle, end), _USUAL_ROLL, lowered)


def _springs_share(car: Car, axle: AxleChassis, end: End) -> float:
    """Share of the roll that goes into springs and bar; the rest goes into the tyres."""
    total: float = getattr(car.suspension, f"roll_stiffness_{end.value}")
    return 1.0 - total / roll_stiffness_of_springs(axle.tyre_rate, _track(car, end))


def _rack_ratio(path: WheelPath) -> float:
    """Toe [rad] per metre of rack, of the left wheel with the rack to the left; 0 where no rack is known."""
    if isinstance(path, WheelTable):
        return 0.0
    return wheels_at(path, (0.0,), (_RACK_STEP,))[0].toe / _RACK_STEP


def _track(car: Car, end: End) -> float:
    return car.dimensions.track_front if end is End.FRONT else car.dimensions.track_rear


def _tyre(car: Car, end: End) -> Tyre:
    return car.tyre_front if end is End.FRONT else car.tyre_rear


def _load_at_rest(car: Car, end: End) -> float:
    """Weight on an axle, tank empty as on the predicted lap [N]."""
    share = car.masses.front_share if end is End.FRONT else 1.0 - car.masses.front_share
    return car.masses.without_fuel * 9.80665 * share
