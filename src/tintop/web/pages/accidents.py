"""Hit something: written down, with what it means for belts, seat, helmet and cage."""

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.errors import BadInput, Conflict
from tintop.logbook.entries import Draft
from tintop.logbook.meetings import meetings
from tintop.logbook.proof_entries import AccidentHappened
from tintop.web.hand_memory import remember_who, who_of
from tintop.web.inspected import meeting_of
from tintop.web.kept import kept
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, show
from tintop.web.typed_form import TypedForm
from tintop.web.writing import form_of, write, written_before

router = APIRouter()


@router.get("/legal/accident")
def accident(visit: Visitor, event: str = "") -> Response:
    """Where a hit is written down, and those that were."""
    meeting = meeting_of(visit, event)
    about = meeting.meeting if meeting is not None and meeting.first_day <= visit.garage.today() else ""
    return _shown(visit, form_of(visit.garage, {"who": who_of(visit), "meeting": about, "event": event}))


@router.post("/legal/accident")
def write_accident(visit: Writer, given: Typed) -> Response:
    """Write down a hit."""
    form = form_of(visit.garage, given)
    written = written_before(visit.garage, form.text("key"), AccidentHappened)
    if written is not None:
        return go_to("/legal", saved=written.number)
    what = form.words("what", needed=True)
    force = form.choice("force", ("", "hard", "light"))
    if not force:
        form.refuse("force", "Found neither; choose one. In doubt it was hard.")
    day = form.day_past("day", visit.garage.today())
    meeting = form.choice("meeting", ("", *_meetings(visit)))
    who = form.words("who") or visit.who
    if day is None or not form.is_good:
        return _shown(visit, form, status=422)
    hit = AccidentHappened(what=what, is_hard=force == "hard", meeting=meeting)
    try:
        entry = write(
            visit.garage, [Draft(key=form.text("key"), day=day, who=who, matter=hit)], form.text("key")
        )
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return _shown(visit, form, status=422)
    answer = go_to("/legal", saved=entry.number)
    remember_who(answer, form.text("who"))
    return answer


def _meetings(visit: Visit) -> dict[str, str]:
    today = visit.garage.today()
    found = kept(visit.garage, "meetings", meetings)
    return {
        each.planned.meeting: each.planned.name for each in reversed(found) if each.planned.first_day <= today
    }


def _shown(visit: Visit, form: TypedForm, status: int = 200) -> Response:
    before = tuple(reversed(tuple(visit.garage.book.of(AccidentHappened))))[:20]
    return show(
        visit,
        "accident.html",
        status=status,
        form=form,
        meetings=list(_meetings(visit).items()),
        before=before,
    )
