"""Money: what running the car has cost, what is to come, and what supporters gave and are owed."""

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, Conflict, TintopError
from tintop.garage.answers import readiness_of
from tintop.garage.keeper import Garage
from tintop.logbook.costs import Costs, costs_on
from tintop.logbook.entries import CostKind, CostPaid, Draft, Entry, Matter, SupportReceived, SupportReturned
from tintop.logbook.meetings import meetings
from tintop.logbook.support import SupportState, supporters
from tintop.questions.what_will_it_cost import answer_of
from tintop.web.kept import kept
from tintop.web.page import Typed, Visit, Visitor, Writer, go_to, new_key, show
from tintop.web.paging import page_of
from tintop.web.typed_form import TypedForm, build_today, hand_of, short_name
from tintop.web.writing import write, written_before

router = APIRouter()
_MONTHS_SHOWN = 12
_OF_NO_EVENT = "none"


@router.get("/costs")
def costs_page(visit: Visitor, page: str = "1", event: str = "", kind: str = "") -> Response:
    """All money: the sums, then the lines, the newest first, a hundred at a time."""
    return _shown(visit, TypedForm(hand=hand_of(visit.garage), typed={}), page=page, event=event, kind=kind)


@router.post("/costs")
def pay(visit: Writer, given: Typed) -> Response:
    """Write down a cost paid or planned."""
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    cost, day = read_cost(visit, form)
    if cost is None or day is None:
        return _shown(visit, form, status=422)
    return _record(visit, form, cost, day=day)


@router.post("/costs/planned/{number}/paid")
def planned_paid(visit: Writer, number: int, given: Typed) -> Response:
    """A planned cost was paid: its entry is corrected by what it came to."""
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    cents = form.cents(f"came_to_{number}", needed=True)
    planned = visit.garage.book.entry(number)
    if planned is None or not isinstance(planned.matter, CostPaid):
        raise HTTPException(404)
    if cents is None:
        return _shown(visit, form, status=422)
    was = planned.matter
    paid = CostPaid(
        cost_kind=was.cost_kind,
        cents=cents,
        what=was.what,
        supplier=was.supplier,
        meeting=was.meeting,
        part=was.part,
    )
    return _record(visit, form, paid, corrects=number)


@router.post("/costs/received")
def support_received(visit: Writer, given: Typed) -> Response:
    """Write down help in kind."""
    garage = visit.garage
    form = TypedForm(hand=hand_of(garage), typed=given)
    supporter = form.words("supporter", needed=True)
    what = form.words("support_what", needed=True)
    list_price = form.cents("list_price", needed=True)
    paid = form.cents("support_paid") or 0
    owed = form.words("owed")
    by = form.day("owed_by", "day coming") if form.text("owed_by") else None
    part = form.choice("support_part", ("", *build_today(garage).by_name))
    if list_price is None or not form.is_good:
        return _shown(visit, form, status=422)
    taken = {received.support for _entry, received in garage.book.of(SupportReceived)}
    try:
        received = SupportReceived(
            support=short_name(f"{supporter} {what}", taken),
            supporter=supporter,
            what=what,
            list_price_cents=list_price,
            paid_cents=paid,
            owed=owed,
            owed_by=by,
            part=part,
        )
    except TintopError as error:
        form.refuse_all(error)
        return _shown(visit, form, status=422)
    return _record(visit, form, received)


@router.post("/costs/returned")
def support_returned(visit: Writer, given: Typed) -> Response:
    """Write down what was done for a supporter."""
    form = TypedForm(hand=hand_of(visit.garage), typed=given)
    known = {received.support for _entry, received in visit.garage.book.of(SupportReceived)}
    support = form.choice("support", known)
    what = form.words("returned_what", needed=True)
    if not form.is_good:
        return _shown(visit, form, status=422)
    return _record(
        visit, form, SupportReturned(support=support, what=what, is_settled=form.ticked("is_settled"))
    )


def read_cost(visit: Visit, form: TypedForm) -> tuple[CostPaid | None, Any]:
    """A cost as typed with its day; None when something is asked or wrong, which then stands in the form."""
    garage = visit.garage
    what = form.words("what", needed=True)
    cents = form.cents("amount", needed=True)
    kind = form.choice("cost_kind", [each.value for each in CostKind], CostKind.OTHER.value)
    events = [each.planned.meeting for each in kept(garage, "meetings", meetings)]
    meeting = form.choice("meeting", ("", *events))
    supplier = form.words("supplier")
    is_planned = form.choice("state", ("paid", "planned"), "paid") == "planned"
    day = form.day("cost_day", usual=garage.today())
    part = form.choice("part", ("", *build_today(garage).by_name))
    if day is not None and not is_planned and day > garage.today():
        form.refuse("cost_day", "Found a day to come for money paid; expected today or before, or planned.")
    if cents is None or not form.is_good:
        return None, day
    return CostPaid(
        cost_kind=CostKind(kind),
        cents=cents,
        what=what,
        supplier=supplier,
        meeting=meeting,
        part=part,
        is_planned=is_planned,
    ), day


def _record(
    visit: Visit, form: TypedForm, matter: Matter, *, day: Any = None, corrects: int | None = None
) -> Response:
    key = form.text("key") or new_key()
    written = written_before(visit.garage, key, type(matter))
    if written and not isinstance(matter, CostPaid):  # what is named anew each time is not compared
        return go_to("/costs", saved=written.number)
    draft = Draft(key=key, day=day or visit.garage.today(), who=visit.who, matter=matter, corrects=corrects)
    try:
        entry = write(visit.garage, [draft], key)
        return go_to("/costs", saved=entry.number)
    except (BadInput, Conflict) as error:
        form.refuse_all(error)
        return _shown(visit, form, status=409 if isinstance(error, Conflict) else 422)


def _costs(garage: Garage) -> Costs:
    ready = readiness_of(garage)
    book, day = garage.book, garage.today()
    return garage.remember(
        "costs", (book.last_number, day, ready), lambda: costs_on(book, day, ready.orders, ready.jobs.open)
    )


def _chosen(garage: Garage, event: str, kind: str) -> tuple[tuple[Entry, CostPaid], ...]:
    """Cost entries of an event and a kind, the newest first."""
    found = kept(garage, "cost lines", lambda book, _day: tuple(book.of(CostPaid))[::-1])
    if event:
        meeting = "" if event == _OF_NO_EVENT else event
        found = tuple(pair for pair in found if pair[1].meeting == meeting)
    if kind:
        found = tuple(pair for pair in found if pair[1].cost_kind == kind)
    return found


def _shown(
    visit: Visit, form: TypedForm, *, page: str = "1", event: str = "", kind: str = "", status: int = 200
) -> Response:
    if not visit.may_write:
        raise HTTPException(403, "Money is not shown to readers.")
    garage = visit.garage
    costs = _costs(garage)
    helpers = kept(garage, "supporters", supporters)
    chosen = _chosen(garage, event, kind)
    events = [(each.planned.meeting, each.planned.name) for each in kept(garage, "meetings", meetings)]
    owed = [
        (item.received.support, f"{helper.name}: {item.received.owed or item.received.what}")
        for helper in helpers
        for item in helper.items
        if item.state in (SupportState.OVERDUE, SupportState.OWED)
    ]
    return show(
        visit,
        "costs.html",
        status=status,
        costs=costs,
        answer=answer_of(costs, helpers, garage.settings.currency),
        helpers=helpers,
        page=page_of(chosen, int(page) if page.isdecimal() and len(page) < 7 else 1),
        chosen_cents=sum(cost.cents for _entry, cost in chosen if not cost.is_planned),
        event=event,
        kind=kind,
        turn_to="/costs?" + urlencode({"event": event, "kind": kind}) + "&",
        kinds=[(each.value, each.value) for each in CostKind],
        events=events[::-1],
        event_names=dict(events),
        owed=owed,
        parts=[(each.part.part, each.title) for each in build_today(garage).fitted],
        months=_bars(dict(list(costs.by_month.items())[-_MONTHS_SHOWN:])),
        by_kind=_bars(costs.season_by_kind),
        by_meeting=[each for each in reversed(costs.by_meeting) if each.paid_cents or each.planned_cents],
        form=form,
        state_of_support=SupportState,
    )


def _bars(sums: Mapping[Any, int]) -> list[tuple[str, int, float]]:
    """Name, sum and length of a bar in hundredths of the longest."""
    longest = max([abs(cents) for cents in sums.values()], default=0) or 1
    return [(str(name), cents, 100.0 * abs(cents) / longest) for name, cents in sums.items()]
