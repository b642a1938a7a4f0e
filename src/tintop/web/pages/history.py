"""The logbook, the newest first: every entry in words, taken back, put right or brought back."""

from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, Conflict
from tintop.handwriting import Understood
from tintop.handwriting.notes import number_text
from tintop.logbook.entries import (
    CostKind,
    CostPaid,
    Draft,
    Entry,
    Matter,
    Reading,
    Remark,
    RoadDriven,
    Withdrawn,
)
from tintop.logbook.meetings import meetings
from tintop.web.history_search import (
    KINDS,
    MONEY_KINDS,
    Wanted,
    corrected_by,
    look_through,
    where_corrected,
)
from tintop.web.kept import kept
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, new_key, show
from tintop.web.pages.costs import read_cost
from tintop.web.pages.shell import local_address
from tintop.web.paging import page_of
from tintop.web.reading_fields import as_read, field_of
from tintop.web.saved_together import taken_back
from tintop.web.typed_form import CORNERS, TypedForm, build_today
from tintop.web.writing import UsedBefore, form_of, write, written_before

router = APIRouter()
_LONGEST_SEARCH = 100


@router.get("/history")
def history(
    visit: Visitor, page: str = "1", kind: str = "", day: str = "", text: str = "", number: str = ""
) -> Response:
    """The logbook, a hundred entries at a time."""
    return _shown(visit, page=page, kind=kind, day=day, text=text, number=number)


@router.post("/history/{number}/withdraw")
def withdraw(visit: Writer, number: int, given: Typed) -> Response:
    """Take an entry back; taking back a taking-back brings the entry back."""
    garage = visit.garage
    back = local_address(given.get("back", "/")).split("?")[0]
    key = given.get("key", "")
    written = written_before(garage, key, Withdrawn) if key else None
    if written is not None and written.corrects != number:
        raise UsedBefore(written)
    if written is not None:
        return go_to(back, saved=written.number)
    there = garage.book.entry(number)
    if there is None:
        raise HTTPException(404)
    try:
        entry = _taken_back(
            visit, there, key or new_key(), given.get("reason", ""), together=given.get("together") == "yes"
        )
    except (BadInput, Conflict) as error:
        status = 409 if isinstance(error, Conflict) else 422
        return _shown(visit, number=str(number), problem=str(error), status=status)
    return go_to(back, saved=entry.number)


def _taken_back(visit: Visit, entry: Entry, key: str, reason: str, *, together: bool) -> Entry:
    """Take an entry back, or all its form wrote; what they had taken the place of stands again."""
    day = visit.garage.today()
    draft = Draft(key=key, day=day, who=visit.who, matter=Withdrawn(reason=reason), corrects=entry.number)
    return write(visit.garage, taken_back(visit.garage.book, entry, draft) if together else [draft], key)


@router.get("/history/{number}/correct")
def correct_form(visit: Writer, number: int) -> Response:
    """Where an entry is put right."""
    entry = _entry(visit, number)
    return _correction(visit, entry, form_of(visit.garage, _typed_again(visit, entry)))


@router.post("/history/{number}/correct")
def correct(visit: Writer, number: int, given: Typed) -> Response:
    """Write the entry that takes the place of another; 409 when somebody was quicker."""
    entry = _entry(visit, number)
    form = form_of(visit.garage, given)
    written = written_before(visit.garage, form.text("key"), type(entry.matter))
    if written is not None and written.corrects != number:
        raise UsedBefore(written)
    if written is not None:
        return go_to("/history", saved=written.number)
    matter = _read(visit, entry, form)
    day = form.day("cost_day" if isinstance(entry.matter, CostPaid) else "day", usual=entry.day)
    clock = form.meaning("clock", "clock")
    who, instrument = form.words("who") or visit.who, form.words("instrument")
    note = form.words("note", is_long=True)
    if matter is None or day is None or not form.is_good:
        return _correction(visit, entry, form, status=422)
    draft = Draft(
        key=form.text("key"),
        day=day,
        who=who,
        matter=matter,
        clock=clock.in_full if clock else "",
        instrument=instrument,
        note=note,
        corrects=number,
    )
    try:
        written = write(visit.garage, [draft], draft.key)
        return go_to("/history", saved=written.number)
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return _correction(visit, entry, form, status=409 if isinstance(error, Conflict) else 422)


def _entry(visit: Visit, number: int) -> Entry:
    entry = visit.garage.book.entry(number)
    if entry is None or not isinstance(entry.matter, (Reading, CostPaid, RoadDriven, Remark)):
        raise HTTPException(404)
    if isinstance(entry.matter, Reading) and not field_of(entry.matter.measure):
        raise HTTPException(404)
    return entry


def _typed_again(visit: Visit, entry: Entry) -> dict[str, str]:
    typed_again = {
        "day": entry.day.isoformat(),
        "cost_day": entry.day.isoformat(),
        "clock": entry.clock,
        "who": visit.who,
        "instrument": entry.instrument,
        "note": entry.note,
    }
    match entry.matter:
        case Reading(written=written, corner=corner, place=place):
            typed_again |= {"value": written, "corner": corner, "place": place}
        case RoadDriven(distance=distance, meeting=meeting, purpose=purpose):
            km = f"{number_text(distance / 1e3)} km"
            typed_again |= {"distance": km, "meeting": meeting, "purpose": purpose}
        case Remark(text=text, about=about):
            typed_again |= {"text": text, "about": about}
        case CostPaid() as cost:
            typed_again |= {
                "what": cost.what,
                "amount": f"{cost.cents / 100:.2f}",
                "cost_kind": cost.cost_kind.value,
                "meeting": cost.meeting,
                "supplier": cost.supplier,
                "part": cost.part,
                "state": "planned" if cost.is_planned else "paid",
            }
    return typed_again


def _read(visit: Visit, entry: Entry, form: TypedForm) -> Matter | None:
    match entry.matter:
        case Reading() as reading:
            found = form.meaning("value", field_of(reading.measure), needed=True)
            corner = form.choice("corner", ("", *CORNERS))
            place = form.words("place")
            if not isinstance(found, Understood) or not form.is_good:
                return None
            return Reading(
                measure=reading.measure,
                value=found.value,
                written=form.text("value"),
                corner=corner,  # type: ignore[arg-type]
                place=place,
                part=reading.part,
                session=reading.session,
                is_guessed_unit=found.is_guessed,
            )
        case RoadDriven():
            distance = form.value("distance", "distance", needed=True)
            meeting = form.choice("meeting", ("", *(name for name, _title in _events(visit))))
            purpose = form.words("purpose")
            return RoadDriven(distance=distance, meeting=meeting, purpose=purpose) if distance else None
        case Remark():
            text = form.words("text", needed=True, is_long=True)
            return Remark(text=text, about=form.words("about"))
        case CostPaid():
            return read_cost(visit, form)[0]
    return None


def _events(visit: Visit) -> list[tuple[str, str]]:
    found = kept(visit.garage, "meetings", meetings)
    return [(each.planned.meeting, each.planned.name) for each in reversed(found)]


def _correction(visit: Visit, entry: Entry, form: TypedForm, status: int = 200) -> Response:
    others = corrected_by(visit.garage).get(entry.number, [])
    standing = [number for number in others if visit.garage.book.stands(number)]
    return show(
        visit,
        "correct.html",
        status=status,
        entry=entry,
        instead=visit.garage.book.entry(standing[-1]) if standing else None,
        form=form,
        field_kind=field_of(entry.matter.measure) if isinstance(entry.matter, Reading) else "",
        corners=[(corner, corner) for corner in CORNERS],
        events=_events(visit),
        kinds=[(kind.value, kind.value) for kind in CostKind],
        parts=[(part.part.part, part.title) for part in build_today(visit.garage).fitted],
    )


def _shown(
    visit: Visit,
    *,
    page: str = "1",
    kind: str = "",
    day: str = "",
    text: str = "",
    number: str = "",
    problem: str = "",
    status: int = 200,
) -> Response:
    garage = visit.garage
    form = form_of(garage, {"on": day.strip()})
    wanted = Wanted(
        kind=kind if kind in KINDS else "",
        day=form.day("on") if form.text("on") else None,
        text=text[:_LONGEST_SEARCH].strip(),
        number=int(number) if number.isdecimal() and len(number) < 10 else None,
    )
    found = look_through(garage, wanted, sees_money=visit.may_write)
    shown = page_of(found, int(page) if page.isdecimal() and len(page) < 7 else 1)
    query: dict[str, Any] = {"kind": wanted.kind, "day": day if wanted.day else "", "text": wanted.text}
    corrections = corrected_by(garage)
    book = garage.book
    return show(
        visit,
        "history.html",
        status=status,
        page=shown,
        wanted=wanted,
        day_problem=form.problems.get("on", "") or ("Which day is meant?" if form.asks else ""),
        day=day[:20],
        kinds=[name for name in KINDS if visit.may_write or name not in MONEY_KINDS],
        turn_to="/history?" + urlencode(query) + "&",
        standing={entry.number for entry in shown.lines if book.stands(entry.number)},
        corrections={
            entry.number: [one for one in corrections.get(entry.number, []) if book.stands(one)]
            for entry in shown.lines
        },
        addresses={entry.number: where_corrected(book, entry) for entry in shown.lines},
        problem=problem,
        as_read=lambda matter: as_read(matter, garage.settings.units),
    )
