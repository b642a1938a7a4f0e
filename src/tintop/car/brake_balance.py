"""The brakes' balance of a car: from the pedal to each axle, adhesion used, lock order, and turns to make."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from tintop.car.body_roll import body_roll
from tintop.car.brakes import AxleBrake, Brakes
from tintop.car.car import Car
from tintop.car.chassis import BiasDevice, BrakeBias
from tintop.checks import within
from tintop.known import Known
from tintop.physics.braking import (
    BrakedCar,
    adhesion_used,
    brake_torque,
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
_TURN = 0.25  # to which turns are told
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

    @property
    def rear_first(self) -> bool:
        """Whether the rear axle needs the more friction."""
        return self.rear_used > self.front_used


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeBalance:
    """A car's brakes at one setting; `points` by rising rate.

    `at_limit` is the point at which the first axle locks on the road asked about; `margin` the front share
    in hand there beyond the ideal one, negative where the rear locks first, `doubt` its standard
    uncertainty. `pedal_travel` [m] is at that point; `hardest_rate` what the driver's hardest push gives.
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

    Left out: lift and drag, tyres that grip otherwise at one end, engine braking (a driven front axle locks
    sooner by it), one wheel lighter than the other in a corner. The rear tyre's grip per load is a little
    better when it is unloaded, which keeps it from locking a little longer than said: that errs safe.
    """
    limit = lock_limit(car, ask)
    braked, mass, line, at_limit = limit.braked, limit.mass, limit.line, limit.point
    weight = mass * STANDARD_GRAVITY
    points = tuple(_point(line, braked, weight, _pedal(line, rate * weight)) for rate in _RATES)
    rates = [each.rate for each in points]
    front, rear = [each.front_used for each in points], [each.rear_used for each in points]
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
        critical_rate=next((each.rate for each in points if each.rear_first), math.inf),
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

    def pressures(self, pedal: float) -> tuple[float, float]:
        return self.front_pressure * pedal, valve_pressure(
            self.rear_pressure * pedal, self.valve_knee, self.valve_share
        )

    def forces(self, pedal: float) -> tuple[float, float]:
        front, rear = self.pressures(pedal)
        return self.front_force * front, self.rear_force * rear

    @property
    def knee_pedal(self) -> float:
        return self.valve_knee / self.rear_pressure

    def pieces(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Rear force at no pedal [N] and per pedal force, below and above the valve's knee."""
        whole = self.rear_force * self.rear_pressure
        held_back = self.rear_force * self.valve_knee * (1.0 - self.valve_share)
        return (0.0, whole), (held_back, whole * self.valve_share)


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
    )


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
    return below if below <= line.knee_pedal else max(above, line.knee_pedal)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnsToMake:
    """Turns of the bias device from where it stands now that bring a margin; positive gives the front more.

    `reached` is False where the device has no such room: `turns` then goes to its end. `margin` and `rate`
    are those at which the first axle locks with the turns made; `at` the turns then, by the document.
    """

    turns: float
    at: float
    reached: bool
    margin: float
    rate: float


def turned(brakes: Brakes, bias: BrakeBias, turns: float) -> Brakes:
    """The brakes with the device turned by so much more; a share of the push or of the pressure."""
    moved = turns * bias.share_per_turn
    if bias.device is BiasDevice.BAR:
        return replace(brakes, bar_front_share=min(max(brakes.bar_front_share + moved, 0.1), 0.9))
    if bias.device is BiasDevice.VALVE:
        return replace(brakes, rear_valve_share=min(max(brakes.rear_valve_share - moved, 0.0), 1.0))
    return brakes


def turns_for(
    car: Car, bias: BrakeBias, now: float, ask: BrakeAsk, margin: float = MARGIN, step: float = _TURN
) -> TurnsToMake | None:
    """The fewest front turns of the device that keep the front first by a margin; None without a device.

    `car` stands at `now` turns by the document. More front than needed brakes worse, not safer: of all the
    settings with the margin the rearmost is given.
    """
    if bias.device is BiasDevice.NONE or bias.share_per_turn <= 0.0:
        return None
    first, last = math.ceil(bias.least_turns / step - 1e-9), math.floor(bias.most_turns / step + 1e-9)
    for place in range(first, last + 1):
        found = _at_turns(car, bias, now, place * step, ask)
        if found.margin >= margin:
            return replace(found, reached=True)
    return _at_turns(car, bias, now, last * step, ask)


def _at_turns(car: Car, bias: BrakeBias, now: float, at: float, ask: BrakeAsk) -> TurnsToMake:
    changed = replace(car, brakes=turned(car.brakes, bias, at - now))
    limit = lock_limit(changed, ask)
    return TurnsToMake(turns=at - now, at=at, reached=False, margin=limit.margin, rate=limit.point.rate)
