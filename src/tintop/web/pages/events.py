"""Events: the next, those to come and those past; each with its sessions, readings, costs and jobs."""

from collections.abc import Callable, Mapping, Sequence
from datetime import timedelta
from typing import get_args
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.errors import BadInput, Conflict
from tintop.garage.keeper import Garage
from tintop.handwriting.fields import spelled
from tintop.handwriting.notes import number_text
from tintop.logbook.book import Logbook
from tintop.logbook.entries import (
    CostPaid,
    Draft,
    Entry,
    MeetingClosed,
    MeetingPlanned,
    PlannedSession,
    SupportReceived,
    SupportReturned,
)
from tintop.logbook.jobs import jobs_on
from tintop.logbook.meetings import Meeting, MeetingState, meetings
from tintop.logbook.sessions import Session, sessions
from tintop.units import unit_named
from tintop.web.book_view import in_order, ticked_books
from tintop.web.kept import kept
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, new_key, show
from tintop.web.pages.run_sheet import meeting_named
from tintop.web.reading_fields import DIGITS, as_read
from tintop.web.sheet_fields import running, sheets_of
from tintop.web.typed_form import TypedForm, hand_of, short_name
from tintop.web.writing import write, written_before

router = APIRouter()
ROWS = 6
_KINDS = get_args(PlannedSession.__annotations__["kind"])
_LONGEST_EVENT = timedelta(days=14)


@router.get("/events")
def events(visit: Visitor) -> Response:
    """Every event, the next first."""
    return _list(visit, _like_the_last(visit))


@router.post("/events")
def plan(visit: Writer, given: Typed) -> Response:
    """Plan an event."""
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    written = written_before(visit.garage, form.text("key"), MeetingPlanned)
    if written:
        return go_to(f"/events/{quote(_named(written))}", saved=written.number)
    taken = {each.planned.meeting for each in kept(visit.garage, "meetings", meetings)}
    planned = _read(visit.garage, form, lambda name, year: short_name(f"{name} {year}", taken))
    if planned is None:
        return _list(visit, form, status=422)
    try:
        entry = _record(visit, planned, form)
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return _list(visit, form, status=422)
    return go_to(f"/events/{quote(_named(entry))}", saved=entry.number)


@router.get("/events/{meeting}")
def event(visit: Visitor, meeting: str) -> Response:
    """One event with everything that belongs to it."""
    found = meeting_named(visit.garage, meeting)
    return _one(visit, found, _planned_typed(visit, found), _blank(visit))


@router.post("/events/{meeting}/plan")
def change_plan(visit: Writer, meeting: str, given: Typed) -> Response:
    """Change the plan of an event; refused when another changed it meanwhile."""
    found = meeting_named(visit.garage, meeting)
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    stands = form.text("stands")
    seen = int(stands) if stands.isdecimal() and len(stands) < 10 else found.entry
    written = written_before(visit.garage, form.text("key"), MeetingPlanned)
    if written:
        return go_to(f"/events/{quote(meeting)}", saved=written.number)
    planned = _read(visit.garage, form, lambda _name, _year: meeting)
    if planned is None:
        return _one(visit, found, form, _blank(visit), status=422)
    try:
        entry = _record(visit, planned, form, corrects=seen)
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        form.typed["stands"] = str(found.entry)
        status = 409 if isinstance(error, Conflict) else 422
        theirs = _planned_typed(visit, found) if status == 409 else None
        return _one(visit, found, form, _blank(visit), status=status, theirs=theirs)
    return go_to(f"/events/{quote(meeting)}", saved=entry.number)


@router.post("/events/{meeting}/close")
def close(visit: Writer, meeting: str, given: Typed) -> Response:
    """Write down how an event ended; a second time corrects the first."""
    found = meeting_named(visit.garage, meeting)
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    written = written_before(visit.garage, form.text("key"), MeetingClosed)
    if written:
        return go_to(f"/events/{quote(meeting)}", saved=written.number)
    result = form.words("result", needed=True)
    if form.is_good:
        ended = MeetingClosed(
            meeting=meeting, result=result, is_finished=form.choice("finish", ("yes", "no"), "yes") == "yes"
        )
        before = _closing(visit.garage.book, meeting)
        draft = Draft(
            key=form.text("key") or new_key(),
            day=min(visit.garage.today(), found.planned.last_day),
            who=visit.who,
            matter=ended,
            corrects=before.number if before else None,
        )
        try:
            entry = write(visit.garage, [draft], draft.key)
            return go_to(f"/events/{quote(meeting)}", saved=entry.number)
        except (BadInput, Conflict) as error:
            form.refuse_all(error)
    return _one(visit, found, _planned_typed(visit, found), form, status=422)


def _closing(book: Logbook, meeting: str) -> Entry | None:
    found = [entry for entry, ended in book.of(MeetingClosed) if ended.meeting == meeting]
    return found[-1] if found else None


def _record(visit: Visit, planned: MeetingPlanned, form: TypedForm, corrects: int | None = None) -> Entry:
    draft = Draft(
        key=form.text("key") or new_key(),
        day=visit.garage.today(),
        who=visit.who,
        matter=planned,
        corrects=corrects,
    )
    return write(visit.garage, [draft], draft.key)


def _named(entry: Entry) -> str:
    return entry.matter.meeting if isinstance(entry.matter, MeetingPlanned) else ""


def _blank(visit: Visit) -> TypedForm:
    return TypedForm(hand=hand_of(visit.garage), typed={})


def _like_the_last(visit: Visit) -> TypedForm:
    """A blank plan under the rule books of the last event planned."""
    found = kept(visit.garage, "meetings", meetings)
    ticked = _ticked(found[-1].planned.rule_books) if found else {}
    return TypedForm(hand=hand_of(visit.garage), typed=ticked)


def _ticked(books: Sequence[str]) -> dict[str, str]:
    """Books as they are ticked and placed in a form."""
    places = {f"place_{id}": str(place) for place, id in enumerate(books, start=1)}
    return {**{f"book_{id}": "yes" for id in books}, **places}


def _read(garage: Garage, form: TypedForm, name_it: Callable[[str, int], str]) -> MeetingPlanned | None:
    """The event as typed; None when something is asked or wrong, which then stands in the form."""
    name = form.words("name", needed=True)
    first = form.day("first_day")
    last = form.day("last_day", usual=first) if first else form.day("last_day", usual=garage.today())
    circuit = form.choice("circuit", ("", *garage.document_names("circuits")))
    document = form.choice("document", ("", *garage.document_names("events")))
    road = form.value("road_distance", "distance") or 0.0
    planned: list[PlannedSession] = []
    for row in range(1, ROWS + 1):
        title = form.words(f"session_{row}")
        duration = form.value(f"minutes_{row}", "minutes", needed=bool(title))
        kind = form.choice(f"kind_{row}", _KINDS, "practice")
        if duration is not None and not title:
            form.refuse(f"session_{row}", "Found a length without a name; expected a name such as Practice.")
        if title.casefold() in {each.name.casefold() for each in planned}:
            form.refuse(f"session_{row}", "Found the same name twice; expected a name of its own.")
        if title and duration and form.is_good:
            planned.append(PlannedSession(name=title, kind=kind, duration=duration))  # type: ignore[arg-type]
    if first and last and not first <= last <= first + _LONGEST_EVENT:
        form.refuse("last_day", "Found a day outside the event; expected the first day or one soon after.")
    books = in_order(garage, form)
    if first is None or last is None or not form.is_good:
        return None
    return MeetingPlanned(
        meeting=name_it(name, first.year),
        name=name,
        first_day=first,
        last_day=last,
        circuit=circuit,
        document=document,
        sessions=tuple(planned),
        road_distance=road,
        rule_books=books,
    )


def _planned_typed(visit: Visit, meeting: Meeting) -> TypedForm:
    planned = meeting.planned
    unit = unit_named(visit.garage.settings.units["distance"], "length")
    road = f"{number_text(planned.road_distance / unit.factor)} {spelled(unit.name)}"
    values = {
        "name": planned.name,
        "first_day": planned.first_day.isoformat(),
        "last_day": planned.last_day.isoformat(),
        "circuit": planned.circuit,
        "document": planned.document,
        "road_distance": road if planned.road_distance else "",
        "stands": str(meeting.entry),
        **_ticked(planned.rule_books),
    }
    for row, session in enumerate(planned.sessions[:ROWS], start=1):
        values |= {
            f"session_{row}": session.name,
            f"kind_{row}": session.kind,
            f"minutes_{row}": running(session.duration),
        }
    return TypedForm(hand=hand_of(visit.garage), typed=values)


def _choices(visit: Visit, form: TypedForm) -> dict[str, object]:
    garage = visit.garage
    books, books_together = ticked_books(garage, form)
    return {
        "circuits": [(name, _plain(name)) for name in garage.document_names("circuits")],
        "documents": [(name, _plain(name)) for name in garage.document_names("events")],
        "kinds": [(kind, kind) for kind in _KINDS],
        "books": books,
        "books_together": books_together,
        "book_words": {book.id: book.words for book in books},
        "rows": range(1, ROWS + 1),
        "form_key": new_key(),
    }


def _plain(document: str) -> str:
    return document.partition("/")[2].rpartition(".")[0].replace("_", " ") or document


def _list(visit: Visit, form: TypedForm, status: int = 200) -> Response:
    found = kept(visit.garage, "meetings", meetings)
    return show(
        visit,
        "events.html",
        status=status,
        form=form,
        next=next((each for each in found if each.state is MeetingState.NEXT), None),
        coming=[each for each in found if each.state is MeetingState.COMING],
        past=[each for each in reversed(found) if each.state is MeetingState.PAST],
        **_choices(visit, form),
    )


def _one(
    visit: Visit,
    meeting: Meeting,
    form: TypedForm,
    closing: TypedForm,
    *,
    status: int = 200,
    theirs: TypedForm | None = None,
) -> Response:
    garage, name = visit.garage, meeting.planned.meeting
    driven = kept(garage, "sessions by event", lambda book, day: _by_meeting(sessions(book, day))).get(
        name, ()
    )
    happened = _happened(garage, name, {session.run.session for session in driven})
    ended = _closing(garage.book, name)
    if ended and isinstance(ended.matter, MeetingClosed) and not closing.typed:
        closing.typed |= {
            "result": ended.matter.result,
            "finish": "yes" if ended.matter.is_finished else "no",
        }
    return show(
        visit,
        "event.html",
        status=status,
        meeting=meeting,
        sheets=sheets_of(garage.book, meeting),
        driven=driven,
        costs=_costs(garage, name) if visit.may_write else None,
        jobs=[job for job in kept(garage, "jobs", jobs_on).open if job.job.meeting in ("", name)]
        if meeting.state is not MeetingState.PAST
        else [],
        happened=happened[:100],
        pressure_digits=DIGITS.get(garage.settings.units["pressure"], 1),
        as_read=lambda matter: as_read(matter, garage.settings.units),
        more=max(len(happened) - 100, 0),
        form=form,
        theirs=theirs,
        closing=closing,
        **_choices(visit, form),
    )


def _by_meeting(found: tuple[Session, ...]) -> Mapping[str, tuple[Session, ...]]:
    by_meeting: dict[str, list[Session]] = {}
    for session in found:
        by_meeting.setdefault(session.run.meeting, []).append(session)
    return {name: tuple(each) for name, each in by_meeting.items()}


def _costs(garage: Garage, meeting: str) -> list[tuple[Entry, CostPaid]]:
    by_meeting = kept(garage, "costs by event", lambda book, _day: _costs_by_meeting(book))
    return by_meeting.get(meeting, [])


def _costs_by_meeting(book: Logbook) -> dict[str, list[tuple[Entry, CostPaid]]]:
    found: dict[str, list[tuple[Entry, CostPaid]]] = {}
    for entry, cost in book.of(CostPaid):
        if cost.meeting:
            found.setdefault(cost.meeting, []).append((entry, cost))
    return found


def _happened(garage: Garage, meeting: str, driven: set[str]) -> list[Entry]:
    """Standing entries that name an event or one of its sessions, the newest first; costs stand elsewhere."""
    money = (CostPaid, SupportReceived, SupportReturned)
    found = [
        entry
        for kind, entries in garage.book.standing.items()
        if kind not in money
        for entry in entries
        if _names(entry, meeting, driven)
    ]
    return sorted(found, key=lambda entry: (entry.day, entry.clock, entry.number), reverse=True)


def _names(entry: Entry, meeting: str, driven: set[str]) -> bool:
    matter = entry.matter
    if getattr(matter, "meeting", "") == meeting or getattr(matter, "about", "") == meeting:
        return True
    session = getattr(matter, "session", "") or getattr(matter, "about", "")
    return bool(session) and session in driven
