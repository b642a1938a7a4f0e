"""The brakes' balance of a car: from the pedal to each axle, adhesion used, and which axle locks first."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from tintop.car.body_roll import body_roll
from tintop.car.brakes import AxleBrake, Brakes
from tintop.car.car import Car, DrivenAxle
from tintop.car.chassis import BiasDevice, BrakeBias
from tintop.checks import within
from tintop.known import Known
from tintop.physics.braking import (
    BrakedCar,
    adhesion_used,
    brake_torque,
    engine_drag_torque,
    fluid_moved,
    ideal_front_brake_share,
    line_pressure,
    pedal_at_locking,
    rear_first_rates,
    valve_pressure,
    weak_rates,
)
from tintop.physics.constants import STANDARD_GRAVITY

MARGIN = 0.02  # of front share beyond the ideal one; common practice, no source
PAD_GAP = 0.15e-3  # pad to disc on each side, let go [m]; common practice, no source
GIVE = 3e-14  # by which caliper, pads and hose of a wheel swell per pressure [m³/Pa]; an estimate, no source
_RATES = tuple(round(0.01 * step, 2) for step in range(1, 131))  # deceleration ÷ gravity
OVERRUN_GEAR = 3  # the gear of the hard part of a stop; common practice, no source
_ENGINE_DOUBT = 0.3  # of the engine's braking, relative, for gear and revs; an estimate, no source
_ALWAYS = ("pad.frictions", "effective_radius", "piston_area")


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeAsk:
    """What is asked: grip of the road, pads' temperatures [°C], fuel [kg], the rear valve's knee [Pa]."""

    friction: float
    front_temp: float
    rear_temp: float
    fuel_mass: float = 0.0
    valve_knee: float = 0.0

    def __post_init__(self) -> None:
        within(self.friction, 0.1, 1.8, "grip of the road", "")
        within(self.front_temp, -25.0, 1000.0, "front pads", "°C")
        within(self.rear_temp, -25.0, 1000.0, "rear pads", "°C")
        within(self.fuel_mass, 0.0, 250.0, "fuel", "kg")
        within(self.valve_knee, 0.0, 2e7, "knee of the valve", "Pa")


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakePoint:
    """The car braked at one rate: pressures [Pa], pedal [N], front share of brake force, adhesion used."""

    rate: float
    pressure_front: float
    pressure_rear: float
    pedal_force: float
    front_share: float
    front_used: float
    rear_used: float
    engine_share: float = 0.0  # of the braking that a driven rear axle's engine does

    @property
    def rear_first(self) -> bool:
        """Whether the rear axle needs the more friction."""
        return self.rear_used > self.front_used


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeBalance:
    """A car's brakes at one setting; `points` by rising rate.

    `at_limit` is the point at which the first axle locks on the road asked about; `margin` the front share
    in hand there beyond the ideal one, negative where the rear locks first, `doubt` its standard
    uncertainty. `pedal_travel` [m] is at that point; `hardest_rate` what the driver's hardest push gives;
    above `critical_rate`, rounded down to hundredths, the rear needs the more grip. The rule's rates are
    those of the brakes alone, without the engine.
    """

    braked: BrakedCar
    mass: float
    ask: BrakeAsk
    pad_friction: tuple[float, float]
    points: tuple[BrakePoint, ...]
    at_limit: BrakePoint
    ideal_share: float
    margin: float
    doubt: float
    efficiency: float
    critical_rate: float
    pedal_travel: float
    hardest_rate: float
    rear_first_by_rule: tuple[float, ...]
    weak_by_rule: tuple[float, ...]


def braked_car(car: Car, fuel_mass: float = 0.0) -> tuple[BrakedCar, float]:
    """Wheelbase, height and front share of the car with its fuel, and its mass [kg]."""
    roll, wheelbase = body_roll(car, fuel_mass), car.dimensions.wheelbase
    return BrakedCar(wheelbase, roll.cg_height, 1.0 - roll.cg_to_front / wheelbase), roll.mass


def brake_balance(car: Car, ask: BrakeAsk, known: Mapping[str, Known] | None = None) -> BrakeBalance:
    """Balance of a car; `known` gives its numbers' uncertainties for the doubt of the margin.

    A driven rear axle has its engine's braking on top, the throttle shut in third gear; at the front it is
    left out, for the clutch may be down. Left out: lift and drag, tyres that grip otherwise at one end, one
    wheel lighter than the other in a corner. The rear tyre's grip per load is a little better when it is
    unloaded, which keeps it from locking a little longer than said: that errs safe.
    """
    limit = lock_limit(car, ask)
    braked, mass, line, at_limit = limit.braked, limit.mass, limit.line, limit.point
    weight = mass * STANDARD_GRAVITY
    points = _points(line, braked, weight)
    by_rule = points if not line.engine else _points(line._replace(engine=0.0), braked, weight)
    rates = [each.rate for each in by_rule]
    front, rear = [each.front_used for each in by_rule], [each.rear_used for each in by_rule]
    return BrakeBalance(
        braked=braked,
        mass=mass,
        ask=ask,
        pad_friction=limit.pad_friction,
        points=points,
        at_limit=at_limit,
        ideal_share=limit.ideal_share,
        margin=limit.margin,
        doubt=margin_doubt(car, braked, at_limit, known or {}),
        efficiency=at_limit.rate / ask.friction,
        critical_rate=_critical(points),
        pedal_travel=_travel(car.brakes, at_limit),
        hardest_rate=sum(line.forces(car.brakes.pedal_force)) / weight,
        rear_first_by_rule=rear_first_rates(rates, front, rear),
        weak_by_rule=weak_rates(rates, front, rear),
    )


class LockLimit(NamedTuple):
    """The first axle locking: the car and its mass [kg], pedal to pads, friction of the pads, the point."""

    braked: BrakedCar
    mass: float
    pad_friction: tuple[float, float]
    line: "_Line"
    point: BrakePoint
    ideal_share: float

    @property
    def margin(self) -> float:
        """Front share in hand beyond the ideal one; negative where the rear locks first."""
        return self.point.front_share - self.ideal_share


def lock_limit(car: Car, ask: BrakeAsk) -> LockLimit:
    """The point at which the first axle locks; what is left out as brake_balance."""
    braked, mass = braked_car(car, ask.fuel_mass)
    brakes, weight = car.brakes, mass * STANDARD_GRAVITY
    friction = brakes.front.pad.friction_at(ask.front_temp), brakes.rear.pad.friction_at(ask.rear_temp)
    line = _line(car, friction, ask.valve_knee)
    point = _point(line, braked, weight, _pedal_at_limit(line, braked, weight, ask.friction))
    return LockLimit(braked, mass, friction, line, point, ideal_front_brake_share(braked, point.rate))


def usual_friction(car: Car, wetness: float) -> float:
    """Grip of the road to brake by: that of the axle whose tyres have less, dry or on a wet road."""
    return min(
        tyre.friction_longitudinal * (1.0 + wetness * (tyre.friction_wet_share - 1.0))
        for tyre in (car.tyre_front, car.tyre_rear)
    )


class _Line(NamedTuple):
    """Pedal to pads: line pressure per pedal force [Pa/N], force at the road per pressure [N/Pa], valve."""

    front_pressure: float
    rear_pressure: float
    front_force: float
    rear_force: float
    valve_knee: float
    valve_share: float
    engine: float  # its braking at the rear wheels [N]

    def pressures(self, pedal: float) -> tuple[float, float]:
        return self.front_pressure * pedal, valve_pressure(
            self.rear_pressure * pedal, self.valve_knee, self.valve_share
        )

    def forces(self, pedal: float) -> tuple[float, float]:
        front, rear = self.pressures(pedal)
        return self.front_force * front, self.rear_force * rear + self.engine

    @property
    def knee_pedal(self) -> float:
        return self.valve_knee / self.rear_pressure

    def pieces(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Rear force at no pedal [N] and per pedal force, below and above the valve's knee."""
        whole = self.rear_force * self.rear_pressure
        held_back = self.rear_force * self.valve_knee * (1.0 - self.valve_share)
        return (self.engine, whole), (self.engine + held_back, whole * self.valve_share)


def _line(car: Car, friction: tuple[float, float], knee: float) -> _Line:
    brakes = car.brakes
    front_push, rear_push = pushes(brakes)

    def pressure(axle: AxleBrake, push: float) -> float:
        return push * line_pressure(1.0, brakes.pedal_ratio, brakes.boost, axle.master_cylinder_area)

    front_pressure, rear_pressure = pressure(brakes.front, front_push), pressure(brakes.rear, rear_push)
    return _Line(
        front_pressure=front_pressure,
        rear_pressure=rear_pressure,
        front_force=brakes.torque_gain_front * friction[0] / car.tyre_front.radius / front_pressure,
        rear_force=2.0
        * brake_torque(1.0, brakes.rear.piston_area, friction[1], brakes.rear.effective_radius)
        / car.tyre_rear.radius,
        valve_knee=knee,
        valve_share=brakes.rear_valve_share,
        engine=engine_braking_rear(car),
    )


def engine_braking_rear(car: Car) -> float:
    """Force [N] at the road by which the engine, throttle shut, brakes a driven rear axle; 0 without one.

    In third gear, or the top one of fewer; the gearbox's losses come on top. Source: as engine_drag_torque.
    """
    box = car.gearbox
    share = {DrivenAxle.FRONT: 0.0, DrivenAxle.REAR: 1.0, DrivenAxle.FOUR: 1.0 - box.front_drive_share}
    drag = engine_drag_torque(car.engine.friction_pressure, car.engine.displacement)
    ratio = box.ratios[min(OVERRUN_GEAR, len(box.ratios)) - 1] * box.final_drive
    return share[car.driven_axle] * drag * ratio / box.efficiency / car.tyre_rear.radius


def _points(line: _Line, braked: BrakedCar, weight: float) -> tuple[BrakePoint, ...]:
    """By rising rate, from where the pedal is needed."""
    return tuple(
        _point(line, braked, weight, _pedal(line, rate * weight))
        for rate in _RATES
        if rate * weight > line.engine
    )


def _critical(points: tuple[BrakePoint, ...]) -> float:
    """The last rate at which the front still needs the more grip before the rear does; infinite: never."""
    first = next((place for place, each in enumerate(points) if not each.rear_first), None)
    if first is None:
        return 0.0
    behind = zip(points[first:], points[first + 1 :], strict=False)
    return next((before.rate for before, each in behind if each.rear_first), math.inf)


def _pedal(line: _Line, force: float) -> float:
    """Pedal force [N] for a brake force of the car [N]."""
    front = line.front_force * line.front_pressure
    (_, below), (start, above) = line.pieces()
    pedal = force / (front + below)
    return pedal if pedal <= line.knee_pedal else (force - start) / (front + above)


def _pedal_at_limit(line: _Line, braked: BrakedCar, weight: float, friction: float) -> float:
    """Pedal force [N] at which the first axle locks."""
    front = line.front_force * line.front_pressure
    below, above = (
        min(pedal_at_locking(braked, weight, friction, front, start, gain)) for start, gain in line.pieces()
    )
    return max(below, 0.0) if below <= line.knee_pedal else max(above, line.knee_pedal)


def _point(line: _Line, braked: BrakedCar, weight: float, pedal: float) -> BrakePoint:
    front, rear = line.forces(pedal)
    rate, share = (front + rear) / weight, front / (front + rear)
    front_used, rear_used = adhesion_used(braked, share, rate)
    pressure_front, pressure_rear = line.pressures(pedal)
    return BrakePoint(
        rate=rate,
        pressure_front=pressure_front,
        pressure_rear=pressure_rear,
        pedal_force=pedal,
        front_share=share,
        front_used=front_used,
        rear_used=rear_used,
        engine_share=line.engine / (front + rear),
    )


def _travel(brakes: Brakes, point: BrakePoint) -> float:
    """Travel of the pedal [m]: a tandem's two pistons follow one another, a bar's two share the pedal."""
    front_push, rear_push = pushes(brakes)
    strokes = [
        2.0 * fluid_moved(axle.piston_area, PAD_GAP, pressure, GIVE) / axle.master_cylinder_area
        for axle, pressure in ((brakes.front, point.pressure_front), (brakes.rear, point.pressure_rear))
    ]
    if brakes.is_tandem_cylinder:
        return brakes.pedal_ratio * sum(strokes)
    return brakes.pedal_ratio * (front_push * strokes[0] + rear_push * strokes[1])


def margin_doubt(car: Car, braked: BrakedCar, point: BrakePoint, known: Mapping[str, Known]) -> float:
    """Standard uncertainty of the margin by those of the numbers it stands on, taken as independent."""
    share, wheelbase = point.front_share, braked.wheelbase
    names = [f"brakes.{end}.{name}" for end in ("front", "rear") for name in _ALWAYS]
    names.append("brakes.rear_valve_share")
    if not car.brakes.is_tandem_cylinder:
        names += ["brakes.front.master_cylinder_area", "brakes.rear.master_cylinder_area"]
    relative = [known[name].uncertainty / known[name].value for name in names if name in known]
    parts = [share * (1.0 - share) * each for each in relative]
    if not car.brakes.is_tandem_cylinder and "brakes.bar_front_share" in known:
        bar = known["brakes.bar_front_share"]
        parts.append(share * (1.0 - share) * bar.uncertainty / (bar.value * (1.0 - bar.value)))
    if point.engine_share and "engine.friction_pressure" in known:
        drag = known["engine.friction_pressure"]
        parts.append(
            share * point.engine_share * math.hypot(drag.uncertainty / max(drag.value, 1e4), _ENGINE_DOUBT)
        )
    if "masses.front_share" in known:
        parts.append(known["masses.front_share"].uncertainty)
    if "masses.cg_height" in known:
        parts.append(point.rate * known["masses.cg_height"].uncertainty / wheelbase)
    return math.sqrt(sum(part**2 for part in parts))


def pushes(brakes: Brakes) -> tuple[float, float]:
    """Shares of the pedal's push that reach the front and the rear cylinder."""
    if brakes.is_tandem_cylinder:
        return 1.0, 1.0
    return brakes.bar_front_share, 1.0 - brakes.bar_front_share


def turned(brakes: Brakes, bias: BrakeBias, turns: float) -> Brakes:
    """The brakes with the device turned by so much more; a share of the push or of the pressure."""
    moved = turns * bias.share_per_turn
    if bias.device is BiasDevice.BAR:
        return replace(brakes, bar_front_share=min(max(brakes.bar_front_share + moved, 0.1), 0.9))
    if bias.device is BiasDevice.VALVE:
        return replace(brakes, rear_valve_share=min(max(brakes.rear_valve_share - moved, 0.0), 1.0))
    return brakes
