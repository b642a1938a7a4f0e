"""Static camber at one end: what each step does to the lap, and to the tread on the drive there."""

from dataclasses import dataclass, replace

from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup, mean
from tintop.car.chassis import Chassis, End, Item
from tintop.car.road_tread import tread_on_road
from tintop.car.setup import Setup
from tintop.car.wheel_motion import wheel_at
from tintop.car.wheel_paths import Strut
from tintop.circuit.circuit import Path
from tintop.event import Weather
from tintop.lap.camber_on_lap import path_as_set, with_recovery_of_links
from tintop.lap.flying_lap import lap_timer
from tintop.physics.tread_wear import SPIN_KEPT

SPIN_KEPT_RANGE = (0.2, 0.5)
WEAR_WITHIN = 2.0  # a factor either way on what roads take off; estimated, no source
WEAR_SHARE = 0.1  # of the usable tread that one drive there and back may take off an inner edge; a choice
BEST_DOUBT = 0.014  # [rad] of the camber a tyre likes; common practice, no source
_RANGE = 1.96
_STEPS = 9
_WIDEST = (-0.0873, 0.0)  # rad, drawn where the car cannot be adjusted
_SAME = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class CamberRoom:
    """From where to where this end's camber goes [rad], and what says so; `is_adjustable` false = nowhere."""

    low: float
    high: float
    is_adjustable: bool
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CamberStep:
    """One static camber [rad, mean of both wheels]: lap [s], and what the drive takes off the worse tread
    [m].

    `inner_low` and `inner_high` bound the estimate.
    """

    camber: float
    lap_time: float
    inner: float
    inner_low: float
    inner_high: float
    middle: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CamberChoice:
    """The steps in the room there is, the present one, the quickest, and the quickest whose tread lasts.

    `within` is None where every step wears more than `limit` [m] over `road_distance` [m]. `gain` is what it
    gains a lap on the present one [s], with its range by what is not known of the tyre's best camber.
    `lap_by_constant` is the present lap with the car's own share of recovery instead of the links'.
    """

    end: End
    room: CamberRoom
    steps: tuple[CamberStep, ...]
    now: CamberStep
    quickest: CamberStep
    within: CamberStep | None
    gain: float
    gain_low: float
    gain_high: float
    limit: float
    road_distance: float
    lap_by_constant: float


def camber_room(car: Car, chassis: Chassis, setup: Setup, end: End) -> CamberRoom:
    """Give how far camber goes at one end: the adjuster's room, else the strut top's slots, else nowhere."""
    now = mean(setup, end, "camber")
    for adjuster in chassis.adjusters:
        if adjuster.item is Item.CAMBER and adjuster.end in (end, None):
            return CamberRoom(
                low=adjuster.low, high=adjuster.high, is_adjustable=True, basis="the car's adjuster"
            )
    path = path_as_set(car, chassis, setup, end)
    if isinstance(path, Strut) and path.slots_inward + path.slots_outward > 0.0:
        return CamberRoom(
            low=now + wheel_at(path, 0.0, 0.0, path.slots_inward).camber,
            high=now + wheel_at(path, 0.0, 0.0, -path.slots_outward).camber,
            is_adjustable=True,
            basis="the slots of the strut top",
        )
    return CamberRoom(low=_WIDEST[0], high=_WIDEST[1], is_adjustable=False, basis="nothing moves it")


def camber_choice(
    car: Car,
    chassis: Chassis,
    setup: Setup,
    end: End,
    path: Path,
    weather: Weather,
    road_distance: float,
    limit: float | None = None,
    best_doubt: float = BEST_DOUBT,
) -> CamberChoice:
    """Give every step of camber at one end with its lap and its wear; left and right keep their difference.

    road_distance [m] there and back on these tyres; `limit` [m] for the inner edge, without one a tenth of
    the usable tread; `best_doubt` [rad] is the standard uncertainty of the tyre's best camber. The lap has
    the links' share of recovery. BadInput as numbers_for. Source: four_wheels; tread_wear. Theory:
    docs/theory/camber_and_strut.md.
    """
    room, present = camber_room(car, chassis, setup, end), mean(setup, end, "camber")
    fitted = car_with_setup(car, chassis, setup, weather)
    linked = with_recovery_of_links(car, fitted, chassis, setup)
    tyre = fitted.tyre_front if end is End.FRONT else fitted.tyre_rear
    allowed = WEAR_SHARE * (tyre.tread_depth - tyre.tread_depth_minimum) if limit is None else limit

    def lap(camber: float, best_off: float = 0.0) -> float:
        suspension = replace(linked.suspension, **{f"camber_{end.value}": camber})
        held = replace(tyre, camber_best=tyre.camber_best + best_off)
        changed = replace(linked, suspension=suspension)
        changed = replace(changed, tyre_front=held) if end is End.FRONT else replace(changed, tyre_rear=held)
        return lap_timer(changed, weather)(path)

    def step(camber: float) -> CamberStep:
        wears = {
            kept: tread_on_road(fitted, chassis, setup, end, camber - present, kept)
            for kept in (*SPIN_KEPT_RANGE, SPIN_KEPT)
        }
        return CamberStep(
            camber=camber,
            lap_time=lap(camber),
            inner=road_distance * wears[SPIN_KEPT].inner,
            inner_low=road_distance * wears[SPIN_KEPT_RANGE[0]].inner / WEAR_WITHIN,
            inner_high=road_distance * wears[SPIN_KEPT_RANGE[1]].inner * WEAR_WITHIN,
            middle=road_distance * wears[SPIN_KEPT].middle,
        )

    width = (room.high - room.low) / (_STEPS - 1)
    steps = tuple(step(room.low + place * width) for place in range(_STEPS))
    now = step(present)
    reachable = [*steps, now] if room.is_adjustable else [now]
    lasting = [one for one in reachable if one.inner <= allowed + _SAME]
    within = min(lasting, key=_lap) if lasting else None
    gains = [0.0]
    if within is not None and within is not now:
        gains = [
            lap(present, off * best_doubt) - lap(within.camber, off * best_doubt)
            for off in (0.0, -_RANGE, _RANGE)
        ]
    return CamberChoice(
        end=end,
        room=room,
        steps=steps,
        now=now,
        quickest=min(reachable, key=_lap),
        within=within,
        gain=gains[0],
        gain_low=min(gains),
        gain_high=max(gains),
        limit=allowed,
        road_distance=road_distance,
        lap_by_constant=lap_timer(fitted, weather)(path),
    )


def _lap(step: CamberStep) -> float:
    return step.lap_time
