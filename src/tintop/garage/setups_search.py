"""The best set-up asked of a bench: names in, the question's answer out; in a garage in the background."""

import re
import threading
from collections import OrderedDict
from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import date
from weakref import WeakKeyDictionary

from tintop.car.camber_by_treads import CamberByTreads
from tintop.car.chassis import Adjuster, End, Item
from tintop.car.setup import Setup
from tintop.car.setup_ranges import LEFT_OUT, adjuster_name
from tintop.errors import BadInput, did_you_mean, refuse
from tintop.garage.bench import Bench, bench_of
from tintop.garage.keeper import Garage
from tintop.garage.logged_treads import camber_said
from tintop.garage.setup_effects import line_of
from tintop.garage.setup_limits import legality_at
from tintop.garage.work import Work
from tintop.logbook.book import Logbook
from tintop.questions.best_setup import NOT_CHECKED, BestSetup, Legality, best_setup
from tintop.units import parse_quantity

Progress = Callable[[float], None]
Window = tuple[float | None, float | None]
_MOST_KEPT = 6
_SEARCH = "set-up search "
_MOST_AT_ONCE = 2
_Kept = tuple[tuple[object, ...], BestSetup]
_starting = threading.Lock()
_kept: WeakKeyDictionary[Garage, OrderedDict["Wanted", _Kept]] = WeakKeyDictionary()


def ask_best_setup(
    bench: Bench,
    setup: str,
    circuit: str,
    *,
    adjust: Collection[str] = (),
    balance: tuple[float | None, float | None] | None = None,
    legality: Legality = NOT_CHECKED,
    book: Logbook | None = None,
    day: date = date.max,
    progress: Progress | None = None,
) -> BestSetup:
    """Search from a set-up for a circuit, in the weather the set-up is for; the last treads read in the
    `book` up to a `day` go before the lap.

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
        treads=_said(bench, chosen, book, day),
        units=bench.settings.units,
        progress=lambda share: tell(0.15 + 0.85 * share),
    )


def _said(bench: Bench, setup: Setup, book: Logbook | None, day: date) -> tuple[CamberByTreads, ...]:
    """What logged treads say of the cambers of a set-up."""
    return tuple(said for end in End if (said := camber_said(bench, setup, end, book, day)) is not None)


def adjuster_names(bench: Bench) -> tuple[str, ...]:
    """The names of everything the car's owner can adjust, in the order of the chassis document."""
    return tuple(adjuster_name(one.item, one.end) for one in bench.chassis.adjusters)


def searched_names(bench: Bench) -> tuple[str, ...]:
    """The names of those that a lap can judge."""
    return tuple(
        adjuster_name(one.item, one.end) for one in bench.chassis.adjusters if one.item not in LEFT_OUT
    )


def check_adjusters(bench: Bench, adjust: Collection[str]) -> None:
    """Raise BadInput for the name of an adjuster or item that the car has not, or that no lap can judge."""
    there = {name for one in bench.chassis.adjusters for name in _names(one)}
    for name in adjust:
        if name not in there:
            raise refuse(
                "adjuster",
                repr(name),
                "one of: " + ", ".join(adjuster_names(bench)),
                did_you_mean(name, there),
            )
        item = next(one.item for one in bench.chassis.adjusters if name in _names(one))
        if item in LEFT_OUT and item is not Item.TYRES:
            found = f"{name!r}, which a lap cannot judge: {LEFT_OUT[item]}"
            raise refuse("adjuster", found, "one of: " + ", ".join(searched_names(bench)))


def _names(adjuster: Adjuster) -> tuple[str, str]:
    return adjuster_name(adjuster.item, adjuster.end), adjuster.item.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What a search is asked: set-up and circuit by name, adjusters (none = all), the balance accepted."""

    setup: str
    circuit: str
    adjust: tuple[str, ...] = ()
    balance: Window | None = None


def start_searching(garage: Garage, wanted: Wanted) -> Work:
    """Search in the background; the same question as things stand is worked on once. BadInput as asked."""
    bench = bench_of(garage)
    check_adjusters(bench, wanted.adjust)
    title = f"Best set-up: {bench.setup(wanted.setup).name} for {bench.circuit(wanted.circuit).name}"
    with _starting:
        others = {
            work.key
            for work in garage.workshop.works()
            if work.is_under_way and work.key.startswith(_SEARCH) and work.key != _key(wanted)
        }
        if len(others) >= _MOST_AT_ONCE:
            found = f"{len(others)} searches under way or waiting"
            raise refuse("search", found, "one of them to end first", "Wait, or stop one.")
        return garage.workshop.start(
            _key(wanted), title, lambda progress: _search(garage, bench, wanted, progress)
        )


def search_under_way(garage: Garage, wanted: Wanted) -> Work | None:
    """The last work on a question, or none."""
    return garage.workshop.latest(_key(wanted))


def found_before(garage: Garage, wanted: Wanted) -> BestSetup | None:
    """What was found for a question, while nothing it stands on has changed."""
    found = _kept.get(garage, OrderedDict()).get(wanted)
    if found is None or found[0] != _stands_on(garage, bench_of(garage), wanted):
        return None
    return found[1]


def _stands_on(garage: Garage, bench: Bench, wanted: Wanted) -> tuple[object, ...]:
    """All that an answer is worked out from: an entry of the logbook that changes none of it loses none."""
    setup, circuit = bench.setups.get(wanted.setup), bench.circuits.get(wanted.circuit)
    if setup is None or circuit is None:
        return (bench,)
    return (
        bench.described,
        bench.chassis,
        bench.chassis_known,
        setup,
        circuit,
        circuit.stat().st_mtime_ns,
        bench.settings.units,
        legality_at(garage, bench, wanted.setup, wanted.circuit),
        _said(bench, setup, garage.book, garage.today()),
    )


def _key(wanted: Wanted) -> str:
    return f"{_SEARCH}{wanted}"


def _search(garage: Garage, bench: Bench, wanted: Wanted, progress: Progress) -> None:
    stands_on = _stands_on(garage, bench, wanted)
    found = ask_best_setup(
        bench,
        wanted.setup,
        wanted.circuit,
        adjust=wanted.adjust,
        balance=wanted.balance,
        legality=legality_at(garage, bench, wanted.setup, wanted.circuit),
        book=garage.book,
        day=garage.today(),
        progress=progress,
    )
    shelf = _kept.setdefault(garage, OrderedDict())
    shelf[wanted] = (stands_on, found)
    while len(shelf) > _MOST_KEPT:
        shelf.popitem(last=False)


def balance_typed(text: str, where: str) -> Window | None:
    """A balance window such as "1 % to 8 %" or "2": understeer, per cent of the limit; none for no text.

    Oversteer is below zero. BadInput for anything else.
    """
    said = 'a window such as "1 to 8" or "1 % to 8 %", understeer counted positive'
    parts = [part.strip() for part in re.split(r"\s+to\s+|\s*\u2013\s*", text.strip())]
    if not text.strip():
        return None
    if len(parts) > 2:
        raise refuse(where, repr(text), said)
    try:
        low, high = (_share(part, where) if part else None for part in (*parts, "")[:2])
    except BadInput:
        raise refuse(where, repr(text), said) from None
    if low is not None and high is not None and low >= high:
        raise refuse(where, repr(text), "a lower end below the higher one")
    return low, high


def _share(text: str, where: str) -> float:
    is_bare = re.fullmatch(r"[-+\u2212]?[\d.,]+", text) is not None
    found = parse_quantity(f"{text} %" if is_bare else text, "share", where)
    if not -0.3 <= found <= 0.3:
        raise refuse(where, repr(text), "a balance between -30 % and 30 % of the limit")
    return found
