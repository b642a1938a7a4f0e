"""The line picked, the questions asked of documents that were read; computes nothing itself."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path as FilePath

from tintop.answer import Answer
from tintop.car.car import Car
from tintop.car.described import DescribedCar
from tintop.charts.folders import write_lap_charts, write_race_charts
from tintop.circuit.circuit import Circuit, Path
from tintop.circuit.least_time import quickest
from tintop.circuit.path import path_along
from tintop.event import DescribedEvent, Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap, lap_timer
from tintop.lap.performance import PerformanceEnvelope, performance_envelope
from tintop.lap.sensitivity import Sensitivity, sensitivities
from tintop.lap.trace import LapTrace
from tintop.proof.cases import Outcome, run_case
from tintop.questions.how_quick import how_quick
from tintop.questions.will_it_last import will_it_last
from tintop.questions.will_the_cage_hold import CageAnswer, will_the_cage_hold
from tintop.race.lasting import Lasts, lasting
from tintop.race.march import RaceTrace, march
from tintop.race.odds import RACES, Odds, odds
from tintop.race.remedies import Remedy, remedies
from tintop.store.cases import read_cases
from tintop.store.documents.cage_reader import DescribedCage
from tintop.store.documents.together import refuse_contradictions
from tintop.store.traces import write_trace

Progress = Callable[[float], None]


class Line(StrEnum):
    """Which line the car drives: the one in the circuit's file, or the quickest within its widths."""

    GIVEN = "given"
    OPTIMAL = "optimal"


def check_cases() -> tuple[Outcome, ...]:
    """Rerun every published case."""
    return tuple(outcome for case in read_cases() for outcome in run_case(case))


def save_trace(lap: LapTrace, path: FilePath) -> None:
    """Write a lap metre by metre as CSV."""
    write_trace(lap, path)


def driven_path(
    car: Car, circuit: Circuit, weather: Weather, line: Line | None = None, progress: Progress | None = None
) -> Path:
    """The path the car drives; without a choice, the quickest where the file tells the widths."""
    if line is None:
        line = Line.OPTIMAL if circuit.has_widths else Line.GIVEN
    if line is Line.GIVEN:
        return path_along(circuit, name="line given")
    timer = lap_timer(car, weather)
    offset = quickest(circuit, car.dimensions.width, timer, progress=progress)
    return path_along(circuit, offset, name="quickest line")


@dataclass(frozen=True, slots=True, kw_only=True)
class Quickness:
    """A predicted lap with everything it stands on."""

    described: DescribedCar
    circuit: Circuit
    path: Path
    weather: Weather
    lap: LapTrace
    worth: tuple[Sensitivity, ...]
    answer: Answer


def ask_how_quick(
    described: DescribedCar,
    circuit: Circuit,
    weather: Weather,
    line: Line | None = None,
    progress: Progress | None = None,
) -> Quickness:
    """How quick, what limits it, and what each number of the car is worth."""
    path = driven_path(described.car, circuit, weather, line, progress)
    lap = flying_lap(described.car, path, weather)
    worth = sensitivities(described.car, path, weather, known=described.known)
    return Quickness(
        described=described,
        circuit=circuit,
        path=path,
        weather=weather,
        lap=lap,
        worth=worth,
        answer=how_quick(described, circuit, path, weather, lap, worth),
    )


def ask_will_the_cage_hold(described: DescribedCage) -> CageAnswer:
    """Will the cage hold each load of its document; by a calculation, which is no certificate."""
    return will_the_cage_hold(described.cage, described.loads)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lasting:
    """A predicted race with everything it stands on."""

    described: DescribedCar
    circuit: Circuit
    path: Path
    event: DescribedEvent
    trace: RaceTrace
    judged: tuple[Lasts, ...]
    odds: Odds
    cures: tuple[Remedy, ...]
    answer: Answer


def ask_will_it_last(
    described: DescribedCar,
    circuit: Circuit,
    event: DescribedEvent,
    line: Line | None = None,
    *,
    path: Path | None = None,
    races: int = RACES,
    seed: int = 1,
    progress: Progress | None = None,
) -> Lasting:
    """March the race, judge what lasts, draw the odds, look for remedies; `path` spares finding the line."""
    refuse_contradictions(described, event)
    car, plan = described.car, event.event
    tell = progress or (lambda _share: None)
    path = path or driven_path(car, circuit, plan.weather, line, lambda share: tell(0.3 * share))
    trace = march(car, path, plan)
    known = {**described.known, **event.known}
    chances = odds(
        car, path, plan, known, races=races, seed=seed, progress=lambda share: tell(0.3 + 0.2 * share)
    )
    judged = lasting(car, plan, trace, chances)
    cures = remedies(
        car,
        path,
        plan,
        trace,
        judged,
        chances=chances,
        known=known,
        progress=lambda share: tell(0.5 + 0.5 * share),
    )
    return Lasting(
        described=described,
        circuit=circuit,
        path=path,
        event=event,
        trace=trace,
        judged=judged,
        odds=chances,
        cures=cures,
        answer=will_it_last(car, plan, trace, judged, chances, cures),
    )


def save_lap_charts(found: Quickness, folder: FilePath) -> list[FilePath]:
    """Write the charts of a lap and a page over them into a folder; BadInput where it cannot be written."""
    envelope = envelope_of(found.described, found.weather)
    return write_lap_charts(
        found.answer, found.described.car, found.circuit, found.path, found.lap, envelope, folder
    )


def save_race_charts(found: Lasting, folder: FilePath) -> list[FilePath]:
    """Write the charts of a race and a page over them into a folder; BadInput where it cannot be written."""
    return write_race_charts(
        found.answer,
        found.described.car,
        found.event.event,
        found.trace,
        found.judged,
        found.odds,
        folder,
    )


def envelope_of(described: DescribedCar, weather: Weather) -> PerformanceEnvelope:
    """What the car can do at each speed on a flat road."""
    return performance_envelope(described.car, weather, Conditions())
