"""Is it legal? The inspection for an event: what stops the car, runs out, is not proven, passes."""

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.errors import TintopError
from tintop.garage.answers import standing
from tintop.garage.rule_books import own_books
from tintop.logbook.entries import MeetingPlanned
from tintop.logbook.meetings import meetings
from tintop.rules.findings import WORST_FIRST, Inspection
from tintop.store.rule_books.copying import has_changed_since
from tintop.web.inspected import inspected, meeting_of
from tintop.web.kept import kept
from tintop.web.legal_view import like, sorted_findings, words_for
from tintop.web.page import Visit, Visitor, show
from tintop.web.pages.home import shown
from tintop.web.verify_view import verify_words

router = APIRouter()
_LONGEST = 100
NOTHING = "Not proven: no rule book is named for this event, so nothing was held against the car."


@router.get("/legal")
def legal(
    visit: Visitor, event: str = "", group: str = "", text: str = "", unfold: str = "", verified: str = ""
) -> Response:
    """The findings for an event, the next one if none is named; `verified` is a clause noted as read now."""
    meeting = meeting_of(visit, event)
    try:
        found = inspected(visit.garage, meeting) if meeting is not None else None
        sentence = NOTHING if meeting is not None else "Plan an event first."
    except TintopError as error:
        found, sentence = None, str(error)
    if meeting is None or found is None or not found.inspection.books:
        return _nothing(visit, meeting, sentence)
    inspection, text = found.inspection, text[:_LONGEST]
    chosen = like(inspection.findings, group, text)
    noted = found.clauses.get(verified)
    one = shown(visit, standing(visit.garage, meeting, "legal"), meeting)
    return show(
        visit,
        "legal.html",
        meeting=meeting,
        inspection=inspection,
        one=one,
        counts=[(ruling, len(of)) for ruling in WORST_FIRST if (of := inspection.of(ruling))],
        groups=sorted({each.clause.group for each in inspection.findings}),
        chosen=group,
        text=text,
        unfold=unfold == "yes",
        found=chosen,
        sorted=sorted_findings(chosen),
        all_sorted=sorted_findings(inspection.findings),
        noted=noted if noted is not None and noted[1].is_verified else None,
        changed=_changed(visit, inspection),
        other_events=_others(visit, meeting.meeting),
        cautions=one.answer.cautions if one.answer else inspection.cautions,
        **words_for(found),
        **verify_words(visit),
    )


def _changed(visit: Visit, inspection: Inspection) -> frozenset[str]:
    """The ids of the books whose shipped edition is another one since the garage's copy was made."""
    own = own_books(visit.garage)
    return frozenset(book.id for book in inspection.books if has_changed_since(book.id, own.get(book.id, "")))


def _nothing(visit: Visit, meeting: object, sentence: str) -> Response:
    return show(visit, "legal.html", meeting=meeting, inspection=None, sentence=sentence)


def _others(visit: Visit, name: str) -> list[MeetingPlanned]:
    return [
        each.planned for each in kept(visit.garage, "meetings", meetings) if each.planned.meeting != name
    ][-8:]
