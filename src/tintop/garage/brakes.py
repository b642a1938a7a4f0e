"""The bench asked about the brakes: car, set-up, pads' temperatures, each set of pads through the race."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from tintop.car.brake_balance import BrakeAsk
from tintop.car.car import Car
from tintop.car.car_with_setup import car_with_setup
from tintop.car.front_first import set_brakes
from tintop.car.lock_order import WET, usual_ask
from tintop.car.setup import Purpose, Setup
from tintop.circuit.path import path_along
from tintop.event import Event
from tintop.garage.bench import Bench
from tintop.garage.loading import load_event
from tintop.questions.brake_balance import ASSUMED, TYPED, BrakeQuestion, BrakesAnswer, how_are_the_brakes
from tintop.race.brake_heat import BrakeHeat, brake_heat
from tintop.race.march import RaceTrace, march_regardless

Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakesAsked:
    """What was typed; None where nothing was. `turns` is where the device stands, by the document."""

    setup: str = ""
    turns: float | None = None
    friction: float | None = None
    front_temp: float | None = None
    rear_temp: float | None = None
    fuel_mass: float = 0.0
    valve_knee: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Predicted:
    """A race that was marched already: whose it is, its car, its trace, and whether its road was wet."""

    name: str
    car: Car
    trace: RaceTrace
    is_wet: bool


def brakes_for(
    bench: Bench,
    asked: BrakesAsked,
    predicted: Predicted | None = None,
    heat: Sequence[BrakeHeat] = (),
) -> BrakesAnswer:
    """Ask for a set-up, on the road it is for and on the other one; BadInput as the set-up's and the turns'.

    The tank is taken as empty where no fuel is given: less weight at the rear is the less safe side.
    """
    setup = bench.setup(asked.setup)
    car = car_of(bench, setup)
    name = "wet" if setup.purpose is Purpose.WET else "dry"
    asks = {"dry": _ask(car, setup, 0.0, asked), "wet": _ask(car, setup, 1.0, asked)}
    basis = ASSUMED
    if predicted is not None:
        front, rear = hottest(predicted.trace)
        there = "wet" if predicted.is_wet else "dry"
        if setup.purpose is not Purpose.ROAD:
            asks[there] = replace(asks[there], front_temp=front, rear_temp=rear)
            basis = f"as predicted for {predicted.name}" if there == name else basis
        heat = heat or (
            brake_heat("as the car's document has it", predicted.car, predicted.trace, asks[there]),
        )
    typed = {"front_temp": asked.front_temp, "rear_temp": asked.rear_temp, "friction": asked.friction}
    changes = {key: value for key, value in typed.items() if value is not None}
    asks[name] = replace(asks[name], **changes)
    if asked.front_temp is not None or asked.rear_temp is not None:
        basis = TYPED
    turns = setup.brake_bias_turns
    return how_are_the_brakes(
        BrakeQuestion(
            brakes=set_brakes(car, bench.chassis, setup, bench.described.known, bench.chassis_known),
            more_turns=0.0 if asked.turns is None else asked.turns - turns,
            may_go_rearward=setup.purpose is not Purpose.ROAD,
            is_grip_typed=asked.friction is not None,
            asks=asks,
            asked=name,
            temp_basis=basis,
            pad_sets=bench.chassis.pad_sets,
            heat=tuple(heat),
        )
    )


def car_of(bench: Bench, setup: Setup) -> Car:
    """The car with a set-up on, in the weather it is for."""
    return car_with_setup(bench.described.car, bench.chassis, setup, bench.weather(setup.purpose))


def hottest(trace: RaceTrace) -> tuple[float, float]:
    """Mean temperature of front and rear discs on the hottest racing lap [°C]: about that of the pads."""
    lap = trace.hot_lap_number - 1
    return float(trace.disc_temp_mean[lap, :2].mean()), float(trace.disc_temp_mean[lap, 2:].mean())


def heat_of_each(
    bench: Bench,
    asked: BrakesAsked,
    event: str,
    circuit: str,
    progress: Progress = lambda _share: None,
) -> tuple[BrakeHeat, ...]:
    """March the race of an event with each set of pads there is; BadInput for names there are not."""
    setup = bench.setup(asked.setup)
    bench.weather(event)  # says which events there are
    plan: Event = load_event(bench.events[event]).event
    path = path_along(bench.circuit(circuit))
    raced = setup if setup.purpose is not Purpose.ROAD else replace(setup, purpose=Purpose.DRY)
    wetness = 1.0 if plan.weather.wetness >= WET else 0.0
    found = []
    for count, pads in enumerate(bench.chassis.pad_sets, 1):
        car = car_with_setup(bench.described.car, bench.chassis, replace(setup, pads=pads.name), plan.weather)
        trace = march_regardless(car, path, plan)
        found.append(brake_heat(pads.name, car, trace, _ask(car, raced, wetness, asked)))
        progress(count / len(bench.chassis.pad_sets))
    return tuple(found)


def _ask(car: Car, setup: Setup, wetness: float, asked: BrakesAsked) -> BrakeAsk:
    return usual_ask(car, setup.purpose, wetness, asked.fuel_mass, asked.valve_knee)
