"""The parts of the car: one added, its history, what is done to it, and entries corrected."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.charts.car_words import in_owner_units
from tintop.errors import Conflict, TintopError, refuse
from tintop.known import Origin
from tintop.logbook.entries import (
    Area,
    Basis,
    Counter,
    Draft,
    Entry,
    Fate,
    Matter,
    PartAdded,
    PartFitted,
    SessionRun,
)
from tintop.logbook.stands import look_words, stands_of
from tintop.store.entry_rows import EntryConflict
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, show
from tintop.web.part_deeds import FIELDS, LABELS, act_of, part_of, read_deed, session_names, typed_deed
from tintop.web.part_form import (
    LIMIT_ROWS,
    PART_LABELS,
    USUAL_DOUBT,
    corrected_part,
    read_part,
    typed_part,
)
from tintop.web.part_view import part_page
from tintop.web.setup_form import ITEM_KINDS
from tintop.web.typed_form import CORNERS, TypedForm, build_today, short_name
from tintop.web.writing import Difference, differences, form_of, write, written_before

router = APIRouter()
_CORNER_OPTIONS = [
    ("FL", "FL front left"),
    ("FR", "FR front right"),
    ("RL", "RL rear left"),
    ("RR", "RR rear right"),
]


@router.get("/car/parts/new")
def new_part(visit: Writer) -> Response:
    """Where a part is added."""
    return _part_form(visit, form_of(visit.garage, {}))


@router.post("/car/parts/new")
def add_part(visit: Writer, sent: Typed) -> Response:
    """Add a part, and fit it if that was ticked."""
    garage = visit.garage
    form = form_of(garage, sent)
    key = form.text("key")
    there = written_before(garage, key)
    if there is not None and isinstance(there.matter, PartAdded):
        return go_to(f"/car/parts/{_quoted(there.matter.part)}", saved=there.number)
    part = read_part(form, short_name(form.text("name"), {*build_today(garage).by_name, "new"}))
    day, note = form.day("day", "day past", garage.today()), form.words("note", is_long=True)
    if part is None or day is None or not form.is_good:
        return _part_form(visit, form, status=422)
    drafts = [Draft(key=key, day=day, who=visit.who, matter=part, note=note)]
    if form.ticked("is_fitted") and not part.came_with_car:
        fitted = PartFitted(part=part.part, corner=part.corner)
        drafts.append(Draft(key=f"{key} fitted", day=day, who=visit.who, matter=fitted))
    try:
        entry = write(garage, drafts, key)
    except TintopError as error:
        form.refuse_all(error)
        return _part_form(visit, form, status=409 if isinstance(error, Conflict) else 422)
    return go_to(f"/car/parts/{_quoted(part.part)}", saved=entry.number)


@router.get("/car/entries/{number}")
def entry_form(visit: Writer, number: int) -> Response:
    """Where an entry about a part or the set-up is corrected."""
    entry = _entry(visit, number)
    if not visit.garage.book.stands(number):
        raise refuse(
            f"entry {number}", "that it was corrected or taken back meanwhile", "an entry that stands"
        )
    return _correction(visit, entry, form_of(visit.garage, _typed_again(visit, entry)))


@router.post("/car/entries/{number}")
def correct_entry(visit: Writer, number: int, sent: Typed) -> Response:
    """Write an entry that takes the place of another; show both sides when somebody was quicker."""
    entry = _entry(visit, number)
    form = form_of(visit.garage, sent)
    there = written_before(visit.garage, form.text("key"))
    if there is not None and type(there.matter) is type(entry.matter):
        return go_to(_home_of(there), saved=there.number)
    matter = _typed_matter(visit, entry, form)
    day, note = form.day("day", "day past", entry.day), form.words("note", is_long=True)
    clock = form.meaning("clock", "clock")
    if matter is None or day is None or not form.is_good:
        return _correction(visit, entry, form, status=422)
    draft = Draft(
        key=form.text("key"),
        day=day,
        who=visit.who,
        matter=matter,
        clock=clock.in_full if clock else "",
        instrument=entry.instrument,
        note=note,
        corrects=number,
    )
    try:
        written = write(visit.garage, [draft], draft.key)
    except EntryConflict as conflict:
        return _clash(visit, entry, conflict.stands, form)
    except TintopError as error:
        form.refuse_all(error)
        return _correction(visit, entry, form, status=422)
    return go_to(_home_of(written), saved=written.number)


@router.get("/car/parts/{part:path}")
def part(visit: Visitor, part: str) -> Response:
    """One part: what it is, what it has run, what happened to it."""
    return _part(visit, part, form_of(visit.garage, {}))


@router.post("/car/parts/{part:path}")
def deed(visit: Writer, part: str, sent: Typed) -> Response:
    """Fit a part, take it off, say it was inspected or that it failed."""
    garage = visit.garage
    if part not in build_today(garage).by_name:
        raise HTTPException(404)
    form = form_of(garage, sent)
    act = form.text("act")
    matter = read_deed(form, act if act != "set" else "", part, build_today(garage), _sessions(visit))
    day = form.day(f"{act}_day", "day past", garage.today())
    clock = form.meaning(f"{act}_clock", "clock")
    if matter is None or day is None or not form.is_good:
        return _part(visit, part, form, status=422)
    draft = Draft(
        key=form.text("key"), day=day, who=visit.who, matter=matter, clock=clock.in_full if clock else ""
    )
    try:
        entry = write(garage, [draft], draft.key)
    except TintopError as error:
        form.refuse_all(error)
        return _part(visit, part, form, status=409 if isinstance(error, Conflict) else 422)
    return go_to(f"/car/parts/{_quoted(part)}", saved=entry.number)


def _quoted(part: str) -> str:
    from urllib.parse import quote

    return quote(part)


def _home_of(entry: Entry) -> str:
    if isinstance(entry.matter, PartAdded):
        return f"/car/parts/{_quoted(entry.matter.part)}"
    name = part_of(entry.matter)
    return f"/car/parts/{_quoted(name)}" if name else "/car"


def _entry(visit: Visit, number: int) -> Entry:
    entry = visit.garage.book.entry(number)
    if entry is None or not (isinstance(entry.matter, PartAdded) or act_of(entry)):
        raise HTTPException(404)
    return entry


def _sessions(visit: Visit) -> set[str]:
    return {run.session for _, run in visit.garage.book.of(SessionRun)}


def _typed_matter(visit: Visit, entry: Entry, form: TypedForm) -> Matter | None:
    if isinstance(entry.matter, PartAdded):
        found = read_part(form, entry.matter.part)
        return corrected_part(found, entry.matter) if found else None
    known = {*_sessions(visit), form.text("failed_session") if _keeps_session(entry, form) else ""}
    return read_deed(form, act_of(entry), part_of(entry.matter), build_today(visit.garage), known)


def _keeps_session(entry: Entry, form: TypedForm) -> bool:
    return form.text("failed_session") == getattr(entry.matter, "session", "")


def _typed_again(visit: Visit, entry: Entry) -> dict[str, str]:
    """An entry as it would be typed."""
    if isinstance(entry.matter, PartAdded):
        return typed_part(entry.matter, entry.day, visit.garage.settings.units, entry.note)
    common = {"day": entry.day.isoformat(), "clock": entry.clock, "note": entry.note}
    return {**common, **typed_deed(entry.matter)}


def _clash(visit: Visit, entry: Entry, stands: Entry, form: TypedForm) -> Response:
    """Show what stands now beside what was typed; saving again corrects what stands."""
    by = stands.who or "somebody"
    if stands.matter.kind != entry.matter.kind:
        form.refuse("", f"Nothing was saved: {by} took this entry back meanwhile. What you typed is below.")
        return _correction(visit, entry, form, status=409)
    labels = [*FIELDS.get(stands.matter.kind, ()), ("day", "Day"), ("clock", "Clock"), ("note", "Note")]
    if isinstance(stands.matter, PartAdded):
        labels = PART_LABELS
    found = differences(labels, _typed_again(visit, stands), form.typed)
    return _correction(visit, stands, form, status=409, clash=found)


def _correction(
    visit: Visit, entry: Entry, form: TypedForm, status: int = 200, clash: list[Difference] | None = None
) -> Response:
    if isinstance(entry.matter, PartAdded):
        return _part_form(visit, form, status=status, entry=entry, clash=clash)
    runs = [run for _, run in visit.garage.book.of(SessionRun)]
    return show(
        visit,
        "part_entry.html",
        status=status,
        form=form,
        entry=entry,
        act=act_of(entry),
        clash=clash,
        home=_home_of(entry),
        item_kinds=ITEM_KINDS,
        alike=[(name, each.title) for name, each in build_today(visit.garage).by_name.items()],
        **_choices(runs),
    )


def _choices(runs: list[SessionRun]) -> dict[str, Any]:
    return {
        "corner_options": _CORNER_OPTIONS,
        "fates": [(fate.value, fate.value) for fate in Fate],
        "sessions": session_names(runs),
        "labels": LABELS,
    }


def _part_form(
    visit: Visit,
    form: TypedForm,
    status: int = 200,
    entry: Entry | None = None,
    clash: list[Difference] | None = None,
) -> Response:
    build = build_today(visit.garage)
    return show(
        visit,
        "part_form.html",
        status=status,
        form=form,
        entry=entry,
        clash=clash,
        families=sorted({each.part.family for each in build.by_name.values()}),
        suppliers=sorted({each.part.supplier for each in build.by_name.values()} - {""}),
        areas=[(area.value, area.value) for area in Area],
        corner_options=_CORNER_OPTIONS,
        origins=[(origin.value, origin.value) for origin in Origin if origin in USUAL_DOUBT],
        counters=[(counter.value, counter.value) for counter in Counter],
        bases=[(basis.value, basis.value) for basis in Basis],
        actions=[("replace", "replaced"), ("inspect", "inspected")],
        limit_rows=[row for row in LIMIT_ROWS if row <= _limits_shown(form)],
        length_unit=visit.garage.settings.units.get("length", "mm"),
    )


def _part(visit: Visit, name: str, form: TypedForm, status: int = 200) -> Response:
    found = part_page(visit.garage, name)
    if found is None:
        raise HTTPException(404)
    runs = [run for _, run in visit.garage.book.of(SessionRun)]
    units = visit.garage.settings.units
    return show(
        visit,
        "part.html",
        status=status,
        form=form,
        page=found,
        part=found.today.part,
        alike=[(each.part.part, each.title) for each in found.alike],
        stands_of=stands_of,
        look_words=look_words,
        sees_money=visit.may_write,
        kilograms=lambda value: in_owner_units(value, "mass", units),
        lengths=lambda value: in_owner_units(value, "length", units),
        correctable={event.entry for event in found.history if _is_own(visit, event.entry)},
        corners=CORNERS,
        **_choices(runs),
    )


def _is_own(visit: Visit, number: int) -> bool:
    entry = visit.garage.book.entry(number)
    return entry is not None and (isinstance(entry.matter, PartAdded) or bool(act_of(entry)))


def _limits_shown(form: TypedForm) -> int:
    """Two rows of limits, or one more than are filled."""
    filled = [row for row in LIMIT_ROWS if form.text(f"limit_{row}")]
    return max(2, max(filled, default=0) + 1)
