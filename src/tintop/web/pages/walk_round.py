"""The inspection sheet on the phone: what the books ask for, card by card, as one walks round the car."""

from collections.abc import Sequence
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import TintopError
from tintop.logbook.entries import MeetingPlanned
from tintop.rules.facts import Station
from tintop.web.hand_memory import who_of
from tintop.web.inspected import Inspected, inspected, meeting_before, meeting_of, nothing_inspected
from tintop.web.legal_view import words_for
from tintop.web.page import Visit, Visitor, go_to, show
from tintop.web.proof_form import parts_on_hand, units_of
from tintop.web.walk_cards import (
    Card,
    Stop,
    cards_of,
    instruments_used,
    shown_on_top,
    station_address,
    stops,
)

router = APIRouter()
ALL = "all"


@router.get("/legal/walk")
def walk_round(visit: Visitor, event: str = "", station: str = "", card: str = "") -> Response:
    """The facts to be recorded at one station, or at all; what is new or open stands on top.

    Without a station: the one of the card named, or else the first where something is open. What is recorded
    stands there by one line each; its forms follow by `/legal/walk/recorded`.
    """
    meeting = meeting_of(visit, event)
    if meeting is None:
        return go_to("/legal")
    found, nothing = _inspected(visit, meeting)
    cards = _cards(visit, found, meeting)
    new, open_ones = shown_on_top(cards)
    every = stops(cards)
    return show(
        visit,
        "walk_round.html",
        meeting=meeting,
        cards=cards,
        new=new,
        open=open_ones,
        stops=every,
        here=_here(every, station, card),
        is_all=station == ALL,
        nothing=nothing,
        **_words(visit, found),
    )


@router.get("/legal/walk/recorded")
def recorded(visit: Visitor, event: str = "", station: str = "") -> Response:
    """The cards of what is recorded at a station, with their forms: what its page leaves out at first."""
    meeting = meeting_of(visit, event)
    if meeting is None:
        raise HTTPException(404)
    found, _nothing = _inspected(visit, meeting)
    here = _here(stops(_cards(visit, found, meeting)), station, "")
    cards = [card for stop in here for card in stop.recorded]
    return show(visit, "walk_recorded.html", meeting=meeting, cards=cards, **_words(visit, found))


def _here(every: Sequence[Stop], station: str, card: str) -> tuple[Stop, ...]:
    if station and station not in (ALL, *map(station_address, Station)):
        raise HTTPException(404)
    if station:
        return tuple(stop for stop in every if station in (ALL, stop.address))
    with_card = (stop for stop in every if any(one.id == card for one in stop.cards))
    with_open = (stop for stop in every if stop.open_count)
    chosen = next(with_card, None) or next(with_open, None)
    return (chosen,) if chosen is not None else tuple(every[:1])


def _inspected(visit: Visit, meeting: MeetingPlanned) -> tuple[Inspected, str]:
    nothing = (
        "No rule book is named for this event: name one with the event, and what it asks for stands here."
    )
    try:
        return inspected(visit.garage, meeting), nothing
    except TintopError as error:
        return nothing_inspected(visit.garage), str(error)


def _cards(visit: Visit, found: Inspected, meeting: MeetingPlanned) -> tuple[Card, ...]:
    earlier = meeting_before(visit.garage, meeting)
    try:
        before = inspected(visit.garage, earlier) if earlier is not None and earlier.rule_books else None
    except TintopError:
        before = None
    return cards_of(found, before, visit.garage.book)


def _words(visit: Visit, found: Inspected) -> dict[str, Any]:
    return {
        "parts": parts_on_hand(visit.garage),
        "units_of": units_of,
        "who": who_of(visit),
        "instruments": sorted(set(instruments_used(visit.garage.book).values())),
        **words_for(found),
    }
