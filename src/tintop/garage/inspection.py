"""The inspection of a garage's car for an event, by its rule books, logbook and documents."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from tintop.car.described import DescribedCar
from tintop.errors import TintopError
from tintop.garage.keeper import Garage
from tintop.garage.loading import load_car
from tintop.garage.predictions import CAR
from tintop.garage.rule_books import facts_of, own_books, own_digests, stack_of
from tintop.logbook.book import Logbook
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.known_facts import known_facts
from tintop.logbook.meetings import MeetingState, meetings
from tintop.logbook.proofs import evidence_of
from tintop.logbook.season import Season, season
from tintop.rules.cautions import CAUTIONS
from tintop.rules.evidence import Evidence
from tintop.rules.facts import Fact
from tintop.rules.findings import Inspection
from tintop.rules.inspect import inspect
from tintop.rules.stack import Stack
from tintop.rules.verified import stack_on
from tintop.store import moments
from tintop.store.rule_books.load import load_stack


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectedCar:
    """What an inspection stands on, and what it found."""

    inspection: Inspection
    evidence: Evidence
    facts: Mapping[str, Fact]
    meeting: MeetingPlanned | None = None
    notices: tuple[str, ...] = ()  # what of the garage's folder is not taken in


def inspection_of(garage: Garage, meeting: MeetingPlanned) -> Inspection:
    """The inspection for an event by the books it names; without any, an inspection of no book.

    Evidence counts as it stands today, or stood on the last day of an event that is over. Made once while
    logbook, rule books, car and day stay the same. Raises BadInput for a book missing or that does not read.
    """
    return inspected(garage, meeting).inspection


def inspected(garage: Garage, meeting: MeetingPlanned) -> InspectedCar:
    """As `inspection_of`, with the evidence and the facts it stands on."""
    stands_on = (
        meeting,
        garage.today(),
        garage.book.last_number,
        tuple(own_digests(garage).items()),
        _digest_of_car(garage),
    )
    name = f"inspection {meeting.meeting}"
    return garage.remember(name, stands_on, lambda: _inspected_for(garage, meeting))


def _inspected_for(garage: Garage, meeting: MeetingPlanned) -> InspectedCar:
    if not meeting.rule_books:
        nothing = Inspection(
            first_day=meeting.first_day,
            last_day=meeting.last_day,
            books=(),
            findings=(),
            cautions=CAUTIONS,
        )
        evidence = Evidence(proven={}, fallen={})
        return InspectedCar(inspection=nothing, evidence=evidence, facts={}, meeting=meeting)
    stack, facts = stack_of(garage, meeting.rule_books)
    found = _inspected(garage, stack, facts, meeting.first_day, meeting.last_day)
    return replace(found, meeting=meeting)


def inspected_by(
    garage: Garage, ids: tuple[str, ...], own: Mapping[str, str], first_day: date, last_day: date
) -> InspectedCar:
    """The inspection for some days by books of these ids; the texts of `own` win over the garage's."""
    stack, facts = load_stack(ids, {**own_books(garage), **own})
    return _inspected(garage, stack, facts, first_day, last_day)


def _inspected(
    garage: Garage, stack: Stack, facts: Mapping[str, Fact], first_day: date, last_day: date
) -> InspectedCar:
    described, written = _car(garage)
    day = min(garage.today(), last_day)
    return inspected_car(garage.book, stack, facts, described, written, first_day, last_day, day)


def inspected_car(
    book: Logbook,
    stack: Stack,
    facts: Mapping[str, Fact],
    described: DescribedCar | None,
    written: date | None,
    first_day: date,
    last_day: date,
    day: date,
) -> InspectedCar:
    """Inspect by values: what is proven and verified by the end of `day`, the car as saved on `written`."""
    evidence = _evidence(book, facts, described, written, day)
    return InspectedCar(
        inspection=inspect(stack_on(stack, day), facts, evidence, first_day, last_day),
        evidence=evidence,
        facts=facts,
    )


def on_record(garage: Garage) -> frozenset[str]:
    """The facts proven today, by the logbook or by what it and the car's document know otherwise."""
    evidence = _evidence(garage.book, facts_of(garage), *_car(garage), garage.today())
    return frozenset(key.fact for key in evidence.proven)


def _evidence(
    book: Logbook,
    facts: Mapping[str, Fact],
    described: DescribedCar | None,
    written: date | None,
    day: date,
) -> Evidence:
    known = known_facts(book, facts, day, described, written)
    return evidence_of(book, facts, day, known.proven, known.unproven)


def _digest_of_car(garage: Garage) -> str:
    return garage.standing([CAR])[CAR].digest if CAR in garage.document_names() else ""


def _car(garage: Garage) -> tuple[DescribedCar | None, date | None]:
    """The car as its document has it and the day that was saved; none where it does not read.

    Opened for reading, nobody is shown the document as it stands: BadInput says what is wrong in it.
    """
    if CAR not in garage.document_names():
        return None, None
    try:
        described = load_car(garage.folder / CAR)
    except TintopError:
        if not garage.store.is_writing:
            raise
        return None, None
    return described, moments.read(garage.standing([CAR])[CAR].saved_at).date()


def season_of(garage: Garage) -> Season:
    """What runs out before each coming event by the books it names, and what replacing it costs.

    An event whose books are missing or do not read is left without dates and named in `unread`.
    """
    today = garage.today()
    coming = [each.planned for each in meetings(garage.book, today) if each.state is not MeetingState.PAST]
    found: dict[str, Inspection] = {}
    unread: dict[str, str] = {}
    for meeting in coming:
        try:
            found[meeting.meeting] = inspection_of(garage, meeting)
        except TintopError as error:
            unread[meeting.meeting] = str(error)
    return season(garage.book, today, found, unread)


def places_of(garage: Garage, season: Season) -> dict[str, str]:
    """The names of the coming events' circuits, by the event's short name, of those that read."""
    found = ((event.meeting, circuit_name(garage, event)) for event in season.events)
    return {meeting: name for meeting, name in found if name}


def circuit_name(garage: Garage, meeting: MeetingPlanned) -> str:
    """The name of an event's circuit as its document has it; empty where none is named or reads."""
    try:
        return garage.circuit(meeting.circuit).name if meeting.circuit else ""
    except TintopError:
        return ""
