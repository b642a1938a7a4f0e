"""Papers: event card, build book, pack for the scrutineer, the logbook as a spreadsheet, originals kept."""

from dataclasses import dataclass
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import refuse
from tintop.garage.keeper import Garage
from tintop.garage.papers import build_book, event_card, is_predicted, logbook_spreadsheet
from tintop.garage.scrutineer_pack import scrutineer_pack
from tintop.logbook.entries import (
    Entry,
    JobOpened,
    MeetingPlanned,
    PaperAdded,
    PartAdded,
    SessionRun,
)
from tintop.logbook.meetings import meetings
from tintop.web.page import Owner, Visit, Visitor, show
from tintop.web.paging import Page, page_of

router = APIRouter()
_PDF = "application/pdf"
_SPREADSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPaper:
    """One original: paper and entry, what it is about and where that stands; `is_open` to the visitor."""

    paper: PaperAdded
    entry: Entry
    about: str
    address: str
    is_open: bool


@router.get("/papers")
def papers(visit: Visitor, page: str = "") -> Response:
    """The page of papers."""
    garage = visit.garage
    known = [each.planned for each in meetings(garage.book, garage.today())]
    coming = garage.next_meeting()
    return show(
        visit,
        "papers.html",
        meeting=coming,
        is_predicted=coming is not None and is_predicted(garage, coming),
        meetings=known,
        kept=_kept(visit, int(page) if page.isdecimal() and len(page) < 7 else 1),
        sees_money=visit.may_write,
    )


@router.get("/papers/event-card.pdf")
def card(visit: Visitor, event: str = "") -> Response:
    """The card of the next event, or of the event named; a reader's holds no sum of money."""
    meeting = _meeting(visit.garage, event)
    content = event_card(visit.garage, meeting, shows_money=visit.may_write)
    return _file(content, _PDF, "event-card.pdf")


@router.get("/papers/scrutineer-pack.pdf")
def pack(visit: Visitor, event: str = "", prices: str = "") -> Response:
    """The pack for the scrutineer of the next event, or of the one named; with prices for owner and crew."""
    has_prices = prices == "yes"
    if has_prices and not visit.may_write:
        raise HTTPException(403, "Prices are not shown to readers; the copy to hand over holds none.")
    name = "scrutineer-pack-with-prices.pdf" if has_prices else "scrutineer-pack.pdf"
    meeting = _meeting(visit.garage, event)
    return _file(scrutineer_pack(visit.garage, meeting, has_prices=has_prices), _PDF, name)


@router.get("/papers/build-book.pdf")
def book(visit: Visitor) -> Response:
    """The build book with prices, for owner and crew."""
    if not visit.may_write:
        raise HTTPException(403, "Prices are not shown to readers; the public edition holds none.")
    return _file(build_book(visit.garage, public=False), _PDF, "build-book.pdf")


@router.get("/papers/build-book-public.pdf")
def public_book(visit: Visitor) -> Response:
    """The build book without prices, costs or sums of support."""
    return _file(build_book(visit.garage, public=True), _PDF, "build-book-public.pdf")


@router.get("/papers/logbook.xlsx")
def spreadsheet(visit: Owner) -> Response:
    """The whole logbook as a spreadsheet, on the laptop alone."""
    return _file(logbook_spreadsheet(visit.garage), _SPREADSHEET, "logbook.xlsx")


def _file(content: bytes, media_type: str, name: str) -> Response:
    return Response(
        content,
        media_type=media_type,
        headers={"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"},
    )


def _meeting(garage: Garage, name: str) -> MeetingPlanned:
    if not name:
        found = garage.next_meeting()
        if found is None:
            raise refuse("event", "no event planned", "an event to make a card for", "Plan one under Events.")
        return found
    named = next((plan for _, plan in garage.book.of(MeetingPlanned) if plan.meeting == name), None)
    if named is None:
        raise refuse("event", repr(name[:60]), "the short name of an event in the logbook")
    return named


def _kept(visit: Visit, page: int) -> Page[KeptPaper]:
    book = visit.garage.book
    places: dict[str, tuple[str, str]] = {}
    for _, job in book.of(JobOpened):
        places[job.job] = job.title, "/ready"
    for _, plan in book.of(MeetingPlanned):
        places[plan.meeting] = plan.name, f"/events/{quote(plan.meeting, safe='')}"
    for _, run in book.of(SessionRun):
        address = f"/events/{quote(run.meeting, safe='')}/run-sheet/{quote(run.session, safe='')}"
        places[run.session] = run.name, address
    for _, part in book.of(PartAdded):
        places[part.part] = part.name, f"/car/parts/{quote(part.part, safe='')}"
    shown = page_of(tuple(reversed(tuple(book.of(PaperAdded)))), page)
    lines = []
    for entry, paper in shown.lines:
        about, address = places.get(paper.about, (paper.about, ""))
        is_open = visit.may_write or paper.media_type.startswith("image/")
        lines.append(KeptPaper(paper=paper, entry=entry, about=about, address=address, is_open=is_open))
    return Page(
        lines=tuple(lines),
        number=shown.number,
        pages=shown.pages,
        first=shown.first,
        last=shown.last,
        total=shown.total,
    )
