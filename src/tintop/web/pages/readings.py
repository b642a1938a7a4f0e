"""One reading outside a session: pads after the event, tread, discs, weights, corner loads."""

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, Conflict
from tintop.garage.keeper import Garage
from tintop.logbook.entries import Draft, Measure, Reading
from tintop.web.hand_memory import remember_who, who_of
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, show
from tintop.web.reading_fields import KINDS, Kind, read_spots, spots_of
from tintop.web.typed_form import TypedForm
from tintop.web.writing import form_of, write

router = APIRouter()


@router.get("/reading")
def choose(visit: Visitor) -> Response:
    """What is to be written down."""
    return show(visit, "readings.html", kinds=KINDS.values())


@router.get("/reading/{address}")
def reading_form(visit: Visitor, address: str) -> Response:
    """The fields of one kind of reading."""
    kind = _kind(address)
    form = form_of(visit.garage, {"who": who_of(visit), "instrument": last_tool(visit.garage, kind.measure)})
    return _shown(visit, kind, form)


@router.post("/reading/{address}")
def write_reading(visit: Writer, address: str, given: Typed) -> Response:
    """Write down what was typed."""
    kind = _kind(address)
    form = form_of(visit.garage, given)
    found = read_spots(form, kind)
    day = form.day("day", "day past", visit.garage.today())
    clock = form.meaning("clock", "clock")
    who, instrument = form.words("who") or visit.who, form.words("instrument")
    if day is None or not form.is_good:
        return _shown(visit, kind, form, status=422)
    drafts = [
        Draft(
            key=form.text("key") if place == 0 else f"{form.text('key')} {spot.name}",
            day=day,
            who=who,
            matter=reading,
            clock=clock.in_full if clock else "",
            instrument=instrument,
        )
        for place, (spot, reading) in enumerate(found)
    ]
    try:
        entry = write(visit.garage, drafts, form.text("key"))
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return _shown(visit, kind, form, status=422)
    answer = go_to(f"/reading/{address}", saved=entry.number)
    remember_who(answer, form.text("who"))
    return answer


def last_tool(garage: Garage, measure: Measure) -> str:
    """The instrument last used for such a reading."""
    for entry in reversed(garage.book.standing.get(Reading, ())):
        if isinstance(entry.matter, Reading) and entry.matter.measure is measure and entry.instrument:
            return entry.instrument
    return ""


def _kind(address: str) -> Kind:
    if address not in KINDS:
        raise HTTPException(404)
    return KINDS[address]


def _shown(visit: Visit, kind: Kind, form: TypedForm, status: int = 200) -> Response:
    last = [
        entry
        for entry in reversed(visit.garage.book.standing.get(Reading, ()))
        if isinstance(entry.matter, Reading) and entry.matter.measure is kind.measure
    ][:12]
    return show(visit, "reading.html", status=status, kind=kind, spots=spots_of(kind), form=form, last=last)
