"""What the rule books of an event leave of a set-up: bounds on what is turned, and whether it keeps them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from tintop.car.chassis import Chassis, End, Item
from tintop.car.setup import Purpose, Setup
from tintop.car.setup_ranges import Bounds
from tintop.errors import TintopError
from tintop.garage.bench import Bench
from tintop.garage.inspection import inspection_of
from tintop.garage.keeper import Garage
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.meetings import MeetingState, meetings
from tintop.logbook.setup_today import setup_today
from tintop.owner_units import in_owner_units
from tintop.questions.best_setup import NOT_CHECKED, Legality
from tintop.rules.book import Limits
from tintop.rules.expression import Named
from tintop.rules.findings import Finding

CLEARANCE = "body.ground_clearance"
_SLACK = 5e-5  # [m] below which two heights are the same
SetupOn = Callable[[date], Setup | None]  # the set-up on the car on a day; None where nobody wrote it down


def legality_at(garage: Garage, bench: Bench, setup: str, circuit: str) -> Legality:
    """What the books of the next event at a circuit, else of the next of all, leave of a set-up."""
    return limits_of(garage, meeting_at(garage, bench, circuit), bench, bench.setup(setup))


def meeting_at(garage: Garage, bench: Bench, circuit: str) -> MeetingPlanned | None:
    """The next event at a circuit, else the next of all; None where none is planned."""
    coming = [
        each.planned for each in meetings(garage.book, garage.today()) if each.state is not MeetingState.PAST
    ]
    file = bench.circuits.get(circuit)
    here = [each for each in coming if file is not None and each.circuit == f"circuits/{file.name}"]
    return next(iter([*here, *coming]), None)


def next_circuit(garage: Garage, bench: Bench) -> str:
    """The bench's name of the next event's circuit; empty where none is planned or it is not there."""
    meeting = meeting_at(garage, bench, "")
    if meeting is None or not meeting.circuit:
        return ""
    file = meeting.circuit.rpartition("/")[2]
    return next((name for name, path in bench.circuits.items() if path.name == file), "")


def limits_of(
    garage: Garage, meeting: MeetingPlanned | None, bench: Bench, setup: Setup | None = None
) -> Legality:
    """Bounds from the inspection for an event; not checked without an event, a book, or a book that reads.

    The sentences say what `setup` lacks, or what is left to it.
    """
    if meeting is None or not meeting.rule_books:
        return NOT_CHECKED
    try:
        inspection = inspection_of(garage, meeting)
    except TintopError as error:
        return Legality(sentences=(f"Legality not checked: {error}",))

    def on_car(day: date) -> Setup | None:
        return setup_today(bench.as_written, garage.book, day, bench.chassis).setup

    findings, event = inspection.findings, meeting.name
    if setup is not None and setup.purpose is Purpose.ROAD:
        findings, event = tuple(one for one in findings if _is_for_road(one)), f"The drive to {event}"
    return legality(findings, event, bench.chassis, on_car, setup, bench.settings.units)


def _is_for_road(finding: Finding) -> bool:
    """Whether a clause stands in a book for the road; a set-up for the road is not shown at scrutineering."""
    return "road" in finding.book.id.split("_")


def legality(
    findings: Iterable[Finding],
    event: str,
    chassis: Chassis,
    on_car: SetupOn,
    setup: Setup | None = None,
    units: Mapping[str, str] | None = None,
) -> Legality:
    """Bounds from what was found on ground clearance, the one fact of the books that a set-up moves.

    A clearance belongs to the heights of the set-up that was on the car the day it was read, or to those of
    the chassis where nobody wrote one down: what it lacks or has to spare is counted from there, whichever
    set-up is asked about. Where its lowest part lies along the car is not recorded: both ends are held, each
    as if it lay under that end.
    """
    of_clearance = [one for one in findings if _is_about(one, CLEARANCE)]
    if not of_clearance:
        return Legality(
            sentences=(f"{event}: its books ask nothing that these adjusters move.",), is_checked=True
        )
    bounds: dict[tuple[Item, End | None], Bounds] = {}
    sentences, doubt = [], 0.0
    for finding in of_clearance:
        if finding.margin is None:
            sentences.append(
                f"{event}, {finding.clause.reference}: ground clearance not proven; heights are not checked."
            )
            continue
        error = max((proof.error for proof in finding.evidence), default=0.0)
        short = error - finding.margin.amount  # how far it had to come up to be sure; negative = to spare
        doubt = max(doubt, error)
        read = max((proof.day for proof in finding.evidence), default=None)
        then = on_car(read) if read else None
        for end in End:
            low, _ = bounds.get((Item.RIDE_HEIGHT, end), (None, None))
            least = _height(chassis, then, end) + short
            bounds[Item.RIDE_HEIGHT, end] = (least if low is None else max(low, least), None)
        sentences.append(_read(event, finding, read, chassis, then, units or {}))
    if bounds:
        sentences.append(_against(bounds, doubt, chassis, setup or on_car(date.max), units or {}))
    return Legality(bounds=bounds, sentences=tuple(sentences), is_checked=bool(bounds))


@dataclass(frozen=True, slots=True, kw_only=True)
class TooLow:
    """An end that is lower than the rules leave it: how far it has to come up [m]."""

    end: End
    height: float
    least: float

    @property
    def lift(self) -> float:
        """How far up [m]."""
        return self.least - self.height


def too_low(found: Legality, setup: Setup, chassis: Chassis) -> tuple[TooLow, ...]:
    """The ends of a set-up below their bound; both ends are held, so both are named, one job to raise."""
    ends = []
    for end in End:
        least, _ = found.bounds.get((Item.RIDE_HEIGHT, end), (None, None))
        height = _height(chassis, setup, end)
        if least is not None and height < least - _SLACK:
            ends.append(TooLow(end=end, height=height, least=least))
    return tuple(ends)


def not_legal_words(found: Legality, setup: Setup, chassis: Chassis, units: Mapping[str, str]) -> str:
    """One sentence where a set-up is lower than the rules leave it; empty where it is not."""
    low = too_low(found, setup, chassis)
    if not low:
        return ""
    said = " and ".join(
        f"{one.end.value} {_mm(one.height, units)} to {_mm(one.least, units)} or more" for one in low
    )
    ends = "both ends come up as one job" if len(low) > 1 else f"the {low[0].end.value} comes up"
    return (
        f"Not proven legal: {setup.name} stands too low. {ends[:1].upper()}{ends[1:]}, {said}; then measure "
        f"the clearance again. {' '.join(found.sentences[:-1])}"
    )


def not_legal_of(garage: Garage, bench: Bench, name: str) -> str:
    """As `not_legal_words`, of a set-up by its file's stem, at its own circuit's event or the next."""
    setup = bench.setup(name)
    found = legality_at(garage, bench, name, setup.circuit)
    return not_legal_words(found, setup, bench.chassis, bench.settings.units)


def _is_about(finding: Finding, fact: str) -> bool:
    check = finding.clause.check
    return isinstance(check, Limits) and isinstance(check.value, Named) and check.value.fact == fact


def _height(chassis: Chassis, setup: Setup | None, end: End) -> float:
    """The lower wheel's height at an end [m]: that counts, for it may be the one with the lowest part."""
    if setup is None:
        return chassis.at(end).ride_height
    return min(corner.ride_height for corner in setup.pair(end))


def _mm(value: float, units: Mapping[str, str]) -> str:
    return in_owner_units(value, "length", units).replace(".0 mm", " mm")


def _read(
    event: str,
    finding: Finding,
    day: date | None,
    chassis: Chassis,
    then: Setup | None,
    units: Mapping[str, str],
) -> str:
    heights = " and ".join(f"{_mm(_height(chassis, then, end), units)} {_WHERE[end]}" for end in End)
    name = then.name if then else "the heights of the chassis document"
    when = f", read on {day.day} {day:%b} {day.year}" if day else ""
    return f"{event}, {finding.clause.reference}: {finding.reason}{when} at {heights} ({name})."


_WHERE = {End.FRONT: "in front", End.REAR: "behind"}


def _against(
    bounds: Mapping[tuple[Item, End | None], Bounds],
    doubt: float,
    chassis: Chassis,
    setup: Setup | None,
    units: Mapping[str, str],
) -> str:
    least = {end: bounds[Item.RIDE_HEIGHT, end][0] or 0.0 for end in End}
    asked = " and ".join(f"{_mm(least[end], units)} {_WHERE[end]}" for end in End)
    lifts = [least[end] - _height(chassis, setup, end) for end in End]
    name = setup.name if setup else "As it stands it"
    needs = f"With {_mm(doubt, units)} for the doubt of the reading that asks for {asked} at least."
    if max(lifts) > _SLACK:
        return (
            f"{needs} {name} lacks {_mm(max(lifts), units)}: raise both ends, then "
            "measure the clearance again."
        )
    return (
        f"{needs} {name} may go down by {_mm(-max(lifts), units)} at most; measure the "
        "clearance again after that."
    )
