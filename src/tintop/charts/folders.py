"""The folders of charts that the commands write: a lap's and a race's, each with one page over all."""

from collections.abc import Sequence
from pathlib import Path as FilePath

from tintop.answer import Answer
from tintop.car.car import Car
from tintop.charts.circuit_map import map_svg
from tintop.charts.envelope_chart import envelope_svg
from tintop.charts.html import Section, page, write_folder
from tintop.charts.lap_charts import profile_svg, traces_svg
from tintop.charts.lasting_chart import lasting_svg
from tintop.charts.race_charts import fuel_svg, laps_svg, temperatures_svg, wear_svg
from tintop.circuit.circuit import Circuit, Path
from tintop.event import Event
from tintop.lap.performance import PerformanceEnvelope
from tintop.lap.trace import LapTrace
from tintop.race.lasting import Lasts
from tintop.race.march import RaceTrace
from tintop.race.odds import Odds


def write_lap_charts(
    answer: Answer,
    car: Car,
    circuit: Circuit,
    path: Path,
    lap: LapTrace,
    envelope: PerformanceEnvelope,
    folder: FilePath,
) -> list[FilePath]:
    """Write a lap's map, traces, envelope and road as SVG with index.html over them; gives the paths.

    Raises BadInput where the folder cannot be written.
    """
    sections = {
        "map": Section(
            heading="Where the time goes",
            words="The driven line by what holds the car back there, and the slowest speed in each corner.",
            svg=map_svg(circuit, path, lap),
        ),
        "traces": Section(
            heading="Along the lap",
            words="Speed, pedals, gear, acceleration and the grip each wheel uses, from the start line.",
            svg=traces_svg(lap, circuit),
        ),
        "envelope": Section(
            heading="What the car can do",
            words="The most it can accelerate, brake and corner at each speed on a flat road.",
            svg=envelope_svg(envelope),
        ),
        "road": Section(
            heading="The road", words="Height, curvature and width of the circuit.", svg=profile_svg(circuit)
        ),
    }
    return _write(f"{car.name} on {circuit.name}", answer, sections, folder)


def write_race_charts(
    answer: Answer,
    car: Car,
    event: Event,
    trace: RaceTrace,
    judged: Sequence[Lasts],
    odds: Odds,
    folder: FilePath,
) -> list[FilePath]:
    """Write a race's charts as SVG with index.html over them; gives the paths.

    Raises BadInput where the folder cannot be written.
    """
    sections = {
        "lasting": Section(
            heading="What lasts",
            words="What is left of each at the flag, the worst first, with its range over many races.",
            svg=lasting_svg(tuple(judged), odds, event),
        ),
        "temperatures": Section(
            heading="Temperatures",
            words="The hottest of each lap, with the limit of each.",
            svg=temperatures_svg(car, event, trace),
        ),
        "fuel": Section(
            heading="Fuel and mass",
            words="Usable fuel and the mass of the car.",
            svg=fuel_svg(car, event, trace),
        ),
        "wear": Section(
            heading="Pads, discs and treads",
            words="What is left above the minimum of each.",
            svg=wear_svg(car, event, trace),
        ),
        "laps": Section(
            heading="Lap times",
            words="Each racing lap without its stop, and the grip the tyres have.",
            svg=laps_svg(car, event, trace),
        ),
    }
    return _write(f"{car.name}: {event.name}", answer, sections, folder)


def _write(title: str, answer: Answer, sections: dict[str, Section], folder: FilePath) -> list[FilePath]:
    first = Section(heading=answer.question, words=" ".join((answer.sentence, answer.next_thing)).strip())
    files = {f"{name}.svg": section.svg for name, section in sections.items()}
    files["index.html"] = page(title, (first, *sections.values()), answer.cautions)
    return write_folder(files, folder)
