"""Static camber at one end: what each step does to the lap, and to the tread on the drive there."""

import math
from dataclasses import dataclass, replace

from tintop.car.camber_by_treads import CamberByTreads
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
from tintop.lap.outer_wheel import UPRIGHT, outer_at_hardest
from tintop.physics.tread_wear import SPIN_KEPT

SPIN_KEPT_RANGE = (0.2, 0.5)
WEAR_WITHIN = 2.0  # a factor either way on what roads take off; estimated, no source
WEAR_SHARE = 0.1  # of the usable tread that one drive there and back may take off an inner edge; a choice
BEST_DOUBT = 0.014  # [rad] of the camber a tyre likes; common practice, no source
_RANGE = 1.96
_STEPS = 9
_SET = math.radians(0.1)  # to which a camber is set by gauge; common practice, no source
NOT_WRITTEN = "nothing: neither an adjuster nor slots of the strut top are written in chassis.toml"
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

    `inner_low` and `inner_high` bound the estimate; `outer` is the camber to the road [rad] of the outer
    wheel at the hardest corners, positive = leaning outwards.
    """

    camber: float
    lap_time: float
    inner: float
    inner_low: float
    inner_high: float
    middle: float
    outer: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CamberChoice:
    """The steps in the room there is, the present one, the quickest, and the quickest whose tread lasts and
    whose outer wheel does not lean outwards at the hardest corners, or no more than now.

    `within` is None where every such step wears more than `limit` [m] over `road_distance` [m]; `upright` is
    the static camber [rad] beyond which the outer wheel leans outwards. `gain` is what it
    gains a lap on the present one [s], with its range by what is not known of the tyre's best camber.
    `lap_by_constant` is the present lap with the car's own share of recovery instead of the links'.
    """

    end: End
    room: CamberRoom
    steps: tuple[CamberStep, ...]
    now: CamberStep
    upright: float
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
    return CamberRoom(low=_WIDEST[0], high=_WIDEST[1], is_adjustable=False, basis=NOT_WRITTEN)


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
    loss_doubt: float = 0.0,
    treads: CamberByTreads | None = None,
) -> CamberChoice:
    """Give every step of camber at one end with its lap and its wear; left and right keep their difference.

    What the `treads` say goes before the lap: left as it is, or more negative, where they say so.

    road_distance [m] there and back on these tyres; `limit` [m] for the inner edge, without one a tenth of
    the usable tread; `best_doubt` [rad] and `loss_doubt` [1/rad²] are the standard uncertainties of the
    tyre's best camber and of what it loses beside it, independent of one another. The lap has the links'
    share of recovery. BadInput as numbers_for. Source: four_wheels; tread_wear. Theory:
    docs/theory/camber_and_strut.md.
    """
    room, present = camber_room(car, chassis, setup, end), mean(setup, end, "camber")
    fitted = car_with_setup(car, chassis, setup, weather)
    linked = with_recovery_of_links(car, fitted, chassis, setup)
    tyre = fitted.tyre_front if end is End.FRONT else fitted.tyre_rear
    lean = outer_at_hardest(car, chassis, setup, end, path, weather)
    upright = present - lean + UPRIGHT
    allowed = WEAR_SHARE * (tyre.tread_depth - tyre.tread_depth_minimum) if limit is None else limit

    def lap(camber: float, best_off: float = 0.0, loss_off: float = 0.0) -> float:
        suspension = replace(linked.suspension, **{f"camber_{end.value}": camber})
        loss = max(tyre.camber_loss + loss_off, 0.0)
        held = replace(tyre, camber_best=tyre.camber_best + best_off, camber_loss=loss)
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
            outer=lean + camber - present,
        )

    width = (room.high - room.low) / (_STEPS - 1)
    steps = tuple(step(room.low + place * width) for place in range(_STEPS))
    now = step(present)
    reachable = [*steps, now] if room.is_adjustable else [now]
    if room.is_adjustable and room.low < upright < room.high:
        reachable.append(step(room.low + _SET * math.floor((upright - room.low) / _SET + _SAME)))
    most = max(UPRIGHT, now.outer) + _SAME
    proposed = [one for one in reachable if one.outer <= most and _is_heard(one, now, treads)]
    lasting = [one for one in proposed if one.inner <= allowed + _SAME]
    within = min(lasting, key=_lap) if lasting else None
    gain = room_of_gain = 0.0
    if within is not None and within is not now:
        best, loss = _RANGE * best_doubt, _RANGE * loss_doubt

        def gained(*off: float) -> float:
            return lap(present, *off) - lap(within.camber, *off)

        gain = gained()
        room_of_gain = math.hypot(
            max(abs(gained(sign * best) - gain) for sign in (-1.0, 1.0)),
            max(abs(gained(0.0, sign * loss) - gain) for sign in (-1.0, 1.0)),
        )
    return CamberChoice(
        end=end,
        room=room,
        steps=steps,
        now=now,
        upright=upright,
        quickest=min(reachable, key=_lap),
        within=within,
        gain=gain,
        gain_low=gain - room_of_gain,
        gain_high=gain + room_of_gain,
        limit=allowed,
        road_distance=road_distance,
        lap_by_constant=lap_timer(fitted, weather)(path),
    )


def _is_heard(one: CamberStep, now: CamberStep, treads: CamberByTreads | None) -> bool:
    if treads is None or treads.way > 0:
        return True
    return one is now or (treads.way < 0 and one.camber < now.camber)


def _lap(step: CamberStep) -> float:
    return step.lap_time


def against_more(outer: float, best: float, choice: CamberChoice) -> str:
    """Why the lap does not want the outer wheel leant in to what its tyre likes, where it does not."""
    quickest = min((choice.now, *choice.steps), key=lambda step: step.lap_time)
    if outer - best < _SET or quickest.camber < choice.now.camber - _SET:
        return ""
    return (
        ", but leaning it in more costs the inner wheel, and both in braking and traction straight on, more "
        "than the outer gains"
    )


def is_over(choice: CamberChoice) -> bool:
    """Whether the present camber wears more than the limit on the drive."""
    return choice.now.inner > choice.limit
