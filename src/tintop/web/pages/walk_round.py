"""The inspection sheet on the phone: what the books ask for, card by card, as one walks round the car."""

from fastapi import APIRouter
from fastapi.responses import Response

from tintop.errors import TintopError
from tintop.web.hand_memory import who_of
from tintop.web.inspected import inspected, meeting_before, meeting_of, nothing_inspected
from tintop.web.legal_view import words_for
from tintop.web.page import Visitor, go_to, show
from tintop.web.proof_form import parts_on_hand, units_of
from tintop.web.walk_cards import cards_of, instruments_used, shown_on_top, stops

router = APIRouter()


@router.get("/legal/walk")
def walk_round(visit: Visitor, event: str = "") -> Response:
    """Every fact to be recorded, by station; what is new or open stands on top."""
    meeting = meeting_of(visit, event)
    if meeting is None:
        return go_to("/legal")
    earlier = meeting_before(visit.garage, meeting)
    nothing = (
        "No rule book is named for this event: name one with the event, and what it asks for stands here."
    )
    try:
        found = inspected(visit.garage, meeting)
    except TintopError as error:
        found, nothing = nothing_inspected(visit.garage), str(error)
    try:
        before = inspected(visit.garage, earlier) if earlier is not None and earlier.rule_books else None
    except TintopError:
        before = None
    cards = cards_of(found, before, visit.garage.book)
    new, open_ones = shown_on_top(cards)
    return show(
        visit,
        "walk_round.html",
        meeting=meeting,
        cards=cards,
        new=new,
        open=open_ones,
        stops=stops(cards),
        nothing=nothing,
        parts=parts_on_hand(visit.garage),
        units_of=units_of,
        who=who_of(visit),
        instruments=sorted(set(instruments_used(visit.garage.book).values())),
        **words_for(found),
    )
