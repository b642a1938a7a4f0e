"""The run sheet of a session: typed at the pit wall, in parts, read as it is typed."""

from dataclasses import replace
from typing import Any, get_args
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, Conflict
from tintop.garage.keeper import Garage
from tintop.logbook.entries import Entry, PlannedSession, Reading, SessionRun
from tintop.logbook.lives import pace_of
from tintop.logbook.meetings import Meeting, meetings
from tintop.web.hand_memory import remember_who, who_of
from tintop.web.kept import kept
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, new_key, show
from tintop.web.sheet_fields import (
    HANDLING,
    READINGS,
    TOOLS,
    WHERE,
    Sheet,
    as_typed,
    label_of,
    session_name,
    sheets_of,
    standing_readings,
)
from tintop.web.sheet_saving import (
    SAVING,
    Meanwhile,
    drafts_of,
    entries_since,
    lap_length,
    merge,
    read_readings,
    read_run,
    saved_names,
    take_over_saved,
)
from tintop.web.typed_form import CORNERS, TypedForm, build_today, hand_of

router = APIRouter()
NEW = "new"
_WHOLE = ("", "who", *TOOLS, "session_title", "session_kind")
_KINDS = get_args(PlannedSession.__annotations__["kind"])


@router.get("/events/{meeting}/run-sheet")
def next_sheet(visit: Visitor, meeting: str) -> Response:
    """On to the sheet of the next session."""
    found = meeting_named(visit.garage, meeting)
    sheets = sheets_of(visit.garage.book, found)
    coming = next((sheet for sheet in sheets if not sheet.is_driven), None)
    name = coming.session if coming else NEW
    return RedirectResponse(f"/events/{quote(meeting)}/run-sheet/{quote(name)}", status_code=303)


@router.get("/events/{meeting}/run-sheet/{session}")
def run_sheet(visit: Visitor, meeting: str, session: str) -> Response:
    """The sheet of one session as it stands."""
    found = meeting_named(visit.garage, meeting)
    sheet = _sheet(visit.garage, found, session)
    there = standing_readings(visit.garage.book, sheet.session)
    values = as_typed(visit.garage, sheet.run, there)
    for tool in TOOLS:
        values[tool] = _tool_used(visit.garage, there, tool)
    values["who"] = who_of(visit)
    form = TypedForm(hand=hand_of(visit.garage), typed=values)
    return _shown(visit, found, sheet, form, key=new_key(), seen=visit.garage.book.last_number)


@router.post("/events/{meeting}/run-sheet/{session}")
def save_sheet(visit: Writer, meeting: str, session: str, given: Typed) -> Response:
    """Save what is understood so far; 422 when something is asked or wrong, 409 when another was quicker."""
    garage = visit.garage
    form = TypedForm(hand=hand_of(garage), typed=given)
    key, seen = form.text("key")[:100] or new_key(), form.text("seen")
    found = meeting_named(garage, meeting)
    seen_number = int(seen) if seen.isdecimal() and len(seen) < 10 else garage.book.last_number
    with SAVING:
        entries: tuple[Entry, ...] | None = _written_before(garage, key)
        if entries:
            session = _session_of(entries) or session
            sheet = _sheet(garage, found, session) if _is_there(garage, found, session) else None
            if sheet is None or (_read(garage, found, sheet, form) and form.is_good):
                return _on(found, entries, key)
        else:
            sheet = _named(found, _sheet(garage, found, session), form, garage)
            others = entries_since(garage.book, seen_number, sheet.session)
            if others:
                meanwhile = merge(garage, sheet.session, form, seen_number, others)
                last = garage.book.last_number
                return _shown(visit, found, sheet, form, key=key, seen=last, meanwhile=meanwhile, status=409)
            entries = _save(visit, found, sheet, form, key)
    if entries is None:
        return _shown(visit, found, sheet, form, key=key, seen=seen_number, status=422)
    if form.is_good:
        answer = _on(found, entries, key, sheet.session)
    else:
        answer = _partly_saved(visit, found, sheet, form, entries, seen_number)
    remember_who(answer, form.text("who"))
    return answer


def _partly_saved(
    visit: Visit, meeting: Meeting, sheet: Sheet, form: TypedForm, entries: tuple[Entry, ...], seen: int
) -> Response:
    """The sheet again with what is left to choose or mend; it is saved under a key of its own."""
    last = max(entry.number for entry in entries)
    names = take_over_saved(visit.garage, sheet.session, form, seen=seen, saved=last)
    answer = _shown(
        visit,
        meeting,
        _sheet(visit.garage, meeting, sheet.session),
        form,
        key=new_key(),
        seen=last,
        saved_names=names,
        status=422,
    )
    answer.headers["Content-Location"] = _address(meeting, sheet.session)
    return answer


def _save(
    visit: Visit, meeting: Meeting, sheet: Sheet, form: TypedForm, key: str
) -> tuple[Entry, ...] | None:
    """Write what is understood; None when nothing was, or when something concerns the whole sheet."""
    garage = visit.garage
    run = _read(garage, meeting, sheet, form)
    if run is None or any(form.is_doubtful(name) for name in _WHOLE):
        return None
    if not form.is_good and not saved_names(garage, sheet.session, form, garage.book.last_number):
        return None
    first, last = meeting.planned.first_day, meeting.planned.last_day
    day = min(max(garage.today(), first), last)
    try:
        drafts = drafts_of(garage, sheet, form, run, key, day, form.text("who") or visit.who)
        if not drafts and not form.is_good:
            return None
        return garage.record(drafts) if drafts else ()
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return None


def _read(garage: Garage, meeting: Meeting, sheet: Sheet, form: TypedForm) -> SessionRun | None:
    read_readings(garage, sheet, form)
    form.words("who")
    tyres = {value for value, _words in _tyre_sets(garage)}
    return read_run(garage, meeting, sheet, form, _lap_kinds(garage, meeting), tyres)


def meeting_named(garage: Garage, name: str) -> Meeting:
    """An event by its short name; 404 when there is none."""
    found = next((each for each in kept(garage, "meetings", meetings) if each.planned.meeting == name), None)
    if found is None:
        raise HTTPException(404)
    return found


def _sheet(garage: Garage, meeting: Meeting, session: str) -> Sheet:
    if session == NEW:
        return Sheet(session="", name="", kind="practice", planned_duration=None)
    for sheet in sheets_of(garage.book, meeting):
        if sheet.session == session:
            return sheet
    raise HTTPException(404)


def _is_there(garage: Garage, meeting: Meeting, session: str) -> bool:
    return any(sheet.session == session for sheet in sheets_of(garage.book, meeting))


def _named(meeting: Meeting, sheet: Sheet, form: TypedForm, garage: Garage) -> Sheet:
    if sheet.session:
        return sheet
    name = form.words("session_title", needed=True)
    kind = form.choice("session_kind", _KINDS, "practice")
    taken = {each.session for each in sheets_of(garage.book, meeting)}
    if name.casefold() in {each.name.casefold() for each in sheets_of(garage.book, meeting)}:
        form.refuse(
            "session_title", "Found the name of another session of this event; expected its own name."
        )
    return replace(
        sheet, session=session_name(meeting.planned.meeting, name or NEW, {*taken, NEW}), name=name, kind=kind
    )


def _written_before(garage: Garage, key: str) -> tuple[Entry, ...]:
    return tuple(entry for entry in garage.book.entries if entry.key.startswith(f"{key} "))


def _session_of(entries: tuple[Entry, ...]) -> str:
    named = (getattr(entry.matter, "session", "") for entry in entries)
    return next((session for session in named if session), "")


def _on(meeting: Meeting, entries: tuple[Entry, ...], key: str, session: str = "") -> Response:
    saved = next((entry for entry in entries if entry.key == f"{key} run"), entries[0] if entries else None)
    address = _address(meeting, _session_of(entries) or session or NEW)
    return go_to(address, saved=saved.number if saved else None)


def _address(meeting: Meeting, session: str) -> str:
    return f"/events/{quote(meeting.planned.meeting)}/run-sheet/{quote(session)}"


def _shown(
    visit: Visit,
    meeting: Meeting,
    sheet: Sheet,
    form: TypedForm,
    *,
    key: str,
    seen: int,
    meanwhile: Meanwhile | None = None,
    saved_names: tuple[str, ...] = (),
    status: int = 200,
) -> Response:
    lap_kind, list_kind = _lap_kinds(visit.garage, meeting)
    return show(
        visit,
        "run_sheet.html",
        status=status,
        meeting=meeting,
        sheet=sheet,
        sheets=sheets_of(visit.garage.book, meeting),
        form=form,
        key=key,
        seen=seen,
        meanwhile=meanwhile,
        saved_names=saved_names,
        label_of=label_of,
        readings=READINGS,
        corners=CORNERS,
        tools=TOOLS,
        where=WHERE,
        handling=HANDLING,
        kinds=_KINDS,
        tyre_sets=_tyre_sets(visit.garage),
        drivers=kept(visit.garage, "drivers", lambda book, _day: _drivers(book.of(SessionRun))),
        lap_kind=lap_kind,
        list_kind=list_kind,
        knows_length=lap_length(visit.garage, meeting) is not None,
    )


def _lap_kinds(garage: Garage, meeting: Meeting) -> tuple[str, str]:
    lap = pace_of(garage.book, meeting, garage.today()).lap_time
    near = f" near {lap:.1f}" if lap is not None and 15.0 <= lap <= 1200.0 else ""
    return f"lap time{near}", f"lap times{near}"


def _tyre_sets(garage: Garage) -> tuple[tuple[str, str], ...]:
    build = build_today(garage)
    return tuple(
        (part.part.part, f"{part.part.name}{'' if part.is_fitted else ', on the shelf'}")
        for part in (*build.fitted, *build.shelf)
        if "tyre" in part.part.family.lower()
    )


def _drivers(runs: Any) -> tuple[str, ...]:
    return tuple(dict.fromkeys(run.driver for _entry, run in reversed(tuple(runs)) if run.driver))[:12]


def _tool_used(garage: Garage, there: dict[str, Entry], tool: str) -> str:
    """The instrument of this session, or else the one last used for such a reading."""
    measures = {field.measure for field in READINGS.values() if field.tool == tool}
    for entry in reversed((*garage.book.standing.get(Reading, ()), *there.values())):
        if isinstance(entry.matter, Reading) and entry.matter.measure in measures and entry.instrument:
            return entry.instrument
    return ""
