"""The best set-up asked of a bench: names in, the question's answer out."""

from collections.abc import Callable, Collection
from typing import TYPE_CHECKING

from tintop.car.setup import Purpose
from tintop.car.setup_ranges import adjuster_name
from tintop.errors import did_you_mean, refuse
from tintop.garage.bench import Bench
from tintop.garage.keeper import Garage
from tintop.garage.setup_effects import line_of
from tintop.garage.setup_limits import limits_of
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.meetings import MeetingState, meetings
from tintop.questions.best_setup import NOT_CHECKED, BestSetup, Legality, best_setup

Progress = Callable[[float], None]
if TYPE_CHECKING:
    from tintop.car.setup import Setup

ROAD_LEGALITY = Legality(sentences=("A set-up for the road: no event's book was asked.",))


def ask_best_setup(
    bench: Bench,
    setup: str,
    circuit: str,
    *,
    adjust: Collection[str] = (),
    balance: tuple[float | None, float | None] | None = None,
    legality: Legality = NOT_CHECKED,
    progress: Progress | None = None,
) -> BestSetup:
    """Search from a set-up for a circuit, in the weather the set-up is for.

    Raises BadInput for a set-up, circuit or adjuster that is not there. `progress` may raise to stop: nothing
    is kept of what was found until then but the line.
    """
    chosen = bench.setup(setup)
    check_adjusters(bench, adjust)
    tell = progress or (lambda _share: None)
    path = line_of(bench, circuit, lambda share: tell(0.15 * share))
    return best_setup(
        bench.described,
        bench.chassis,
        chosen,
        path,
        bench.weather(chosen.purpose),
        bench.circuit(circuit).name,
        chassis_known=bench.chassis_known,
        wanted=adjust,
        legality=legality,
        balance=balance,
        units=bench.settings.units,
        progress=lambda share: tell(0.15 + 0.85 * share),
    )


def adjuster_names(bench: Bench) -> tuple[str, ...]:
    """The names of everything the car's owner can adjust, in the order of the chassis document."""
    return tuple(adjuster_name(one.item, one.end) for one in bench.chassis.adjusters)


def check_adjusters(bench: Bench, adjust: Collection[str]) -> None:
    """Raise BadInput for the name of an adjuster or an item that the car has not."""
    there = {*adjuster_names(bench), *(one.item.value for one in bench.chassis.adjusters)}
    for name in adjust:
        if name not in there:
            raise refuse(
                "adjuster",
                repr(name),
                "one of: " + ", ".join(adjuster_names(bench)),
                did_you_mean(name, there),
            )


def legality_at(garage: Garage, bench: Bench, setup: str, circuit: str) -> Legality:
    """What the next event at a circuit, else the next of all, forbids; of a road set-up nothing is asked."""
    if bench.setup(setup).purpose is Purpose.ROAD:
        return ROAD_LEGALITY
    fitted: Setup | None = bench.setups.get(bench.fitted)
    return limits_of(garage, _meeting_at(garage, bench, circuit), bench.chassis, fitted)


def _meeting_at(garage: Garage, bench: Bench, circuit: str) -> MeetingPlanned | None:
    coming = [
        each.planned for each in meetings(garage.book, garage.today()) if each.state is not MeetingState.PAST
    ]
    file = bench.circuits.get(circuit)
    here = [each for each in coming if file is not None and each.circuit == f"circuits/{file.name}"]
    return next(iter([*here, *coming]), None)
