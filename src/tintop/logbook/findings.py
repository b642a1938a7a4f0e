"""All that bears on the car's readiness, as findings in words, gravest first."""

from collections.abc import Iterator
from dataclasses import dataclass

from tintop.answer import Verdict
from tintop.logbook.amounts import (
    amount,
    day_in_words,
    is_plural,
    millimetres,
    minutes_of,
    name_within,
    written_money,
)
from tintop.logbook.entries import Counter, Measure
from tintop.logbook.lives import Life, LifeState, ToOrder
from tintop.logbook.meetings import Meeting, Moment, moment_in
from tintop.logbook.readiness import Readiness
from tintop.logbook.wear import Wear, WearState

_MUST_BE_KNOWN = ((Measure.PAD_THICKNESS, "brake pads"), (Measure.TREAD_DEPTH, "tyres"))
_GRAVITY = (Verdict.NO, Verdict.NOT_PROVEN, Verdict.CLOSE, Verdict.YES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that bears on readiness: the verdict it asks for, in words, and what to do about it.

    A finding whose verdict is YES is told, and changes nothing.
    """

    verdict: Verdict
    item: str
    sentence: str
    next_thing: str


def findings_of(ready: Readiness, currency: str = "£") -> tuple[Finding, ...]:
    """All that bears on readiness, gravest first."""
    order = {verdict: place for place, verdict in enumerate(_GRAVITY)}
    return tuple(sorted(_findings(ready, currency), key=lambda each: order[each.verdict]))


def _findings(ready: Readiness, currency: str) -> Iterator[Finding]:
    orders = {each.part: each for each in ready.orders}
    for part in ready.build.fitted:
        name, be = name_within(part.title), "are" if is_plural(part.title) else "is"
        for failure in part.failed:
            yield Finding(
                verdict=Verdict.NO,
                item=part.title,
                sentence=f"{name} failed ({failure.what}) and {be} still on the car",
                next_thing=_renew(part.title, orders.get(part.part.part), currency),
            )
    for job in ready.jobs.open:
        if job.job.stops_running:
            yield Finding(
                verdict=Verdict.NO,
                item=job.job.title,
                sentence=f"the car is not to run before this is done: {job.job.title}",
                next_thing=f"{job.job.title}.",
            )
    if ready.meeting is None:
        yield Finding(
            verdict=Verdict.NOT_PROVEN,
            item="event",
            sentence="no event is planned to be ready for",
            next_thing="Plan the next event with its sessions.",
        )
    elif not ready.meeting.planned.sessions:
        yield Finding(
            verdict=Verdict.NOT_PROVEN,
            item="sessions",
            sentence=f"no sessions are planned at {ready.meeting.planned.name}, so what it uses is not known",
            next_thing="Plan the event's sessions with their lengths.",
        )
    for wear in ready.wears:
        if wear.state not in (WearState.FAILED, WearState.LASTS):
            yield _of_wear(wear, ready.meeting, orders.get(wear.part), currency)
        elif wear.is_contradicted:
            yield _contradicted(wear)
    for life in ready.lives:
        if life.state not in (LifeState.FAILED, LifeState.GOOD, LifeState.DUE_SOON):
            yield _of_life(life, ready.meeting, orders.get(life.part), currency)
    yield from _due_soon([life for life in ready.lives if life.state is LifeState.DUE_SOON])
    for measure, name in _MUST_BE_KNOWN:
        if not any(wear.measure is measure for wear in ready.wears):
            yield Finding(
                verdict=Verdict.NOT_PROVEN,
                item=name,
                sentence=f"the book knows no {name} on the car",
                next_thing=f"Enter the {name} on the car and measure them.",
            )
    for name in ready.build.unknown:
        yield Finding(
            verdict=Verdict.NOT_PROVEN,
            item=name,
            sentence=f"{name} was fitted or taken off, but no such part was ever entered",
            next_thing=f"Enter the part {name}.",
        )
    here = ready.meeting.planned.meeting if ready.meeting else ""
    for job in ready.jobs.open:
        if not job.job.stops_running and here and job.job.meeting == here:
            yield Finding(
                verdict=Verdict.CLOSE,
                item=job.job.title,
                sentence=f"to be done before this event: {job.job.title}",
                next_thing=f"{job.job.title}.",
            )


def _of_wear(wear: Wear, meeting: Meeting | None, order: ToOrder | None, currency: str) -> Finding:
    name = name_within(wear.title)
    s = "" if is_plural(wear.title) else "s"
    their = "their" if is_plural(wear.title) else "its"
    least = millimetres(wear.least)
    if wear.state is WearState.UNKNOWN:
        return Finding(
            verdict=Verdict.NOT_PROVEN,
            item=wear.title,
            sentence=f"{name}: {wear.why_unknown}",
            next_thing=f"Measure {name} and write it down.",
        )
    if wear.state is WearState.WORN:
        are = "are" if is_plural(wear.title) else "is"
        at = wear.read if wear.read is not None and wear.driven_since == 0.0 else wear.thickness
        return Finding(
            verdict=Verdict.NO,
            item=wear.title,
            sentence=f"{name} {are} at {millimetres(at)}, {their} least is {least}{_at(wear)}",
            next_thing=_renew(wear.title, order, currency),
        )
    if wear.state is WearState.RUNS_OUT:
        moment = moment_in(meeting.still_planned, wear.lasts) if meeting and wear.lasts is not None else None
        return Finding(
            verdict=Verdict.NO,
            item=wear.title,
            sentence=f"{name} reach{'es' if s else ''} {their} least thickness {_when(moment)}",
            next_thing=_renew(wear.title, order, currency),
        )
    return Finding(
        verdict=Verdict.CLOSE,
        item=wear.title,
        sentence=f"{name} may reach {their} least thickness of {least} before the event is over: "
        f"{millimetres(wear.at_end)} left then, {1e3 * (wear.at_end_low or 0.0):.1f} to "
        f"{millimetres(wear.at_end_high)}{_at(wear)}",
        next_thing=f"Measure {name} before the last session. {_renew(wear.title, order, currency)}",
    )


def forecast_words(wear: Wear) -> str:
    """What the race forecast says of a part whose own history leads; "" where it says nothing else."""
    if wear.forecast is None:
        return ""
    found = wear.forecast
    left = f"{millimetres(found.left)} left" if found.left > 0.0 else "nothing left"
    return (
        f"the race forecast says {left} at the end ({1e3 * found.low:.1f} to {millimetres(found.high)}), "
        f"least {millimetres(wear.least)}"
    )


def _contradicted(wear: Wear) -> Finding:
    assert wear.rate is not None
    name, last = name_within(wear.title), "last" if is_plural(wear.title) else "lasts"
    return Finding(
        verdict=Verdict.CLOSE,
        item=wear.title,
        sentence=f"{name} {last} the event by {wear.rate.basis}, but {forecast_words(wear)}",
        next_thing=f"Measure {name} after the first session and before the race.",
    )


def _of_life(life: Life, meeting: Meeting | None, order: ToOrder | None, currency: str) -> Finding:
    name, counter = name_within(life.title), life.limit.counter
    limit = f"{amount(life.limit.limit, counter)} ({life.limit.basis})"
    is_inspection = life.limit.action == "inspect"
    what = "inspection" if is_inspection else "life"
    plural = is_plural(life.title)
    cure = (
        f"Inspect {name} and write down what was found."
        if is_inspection
        else _renew(life.title, order, currency)
    )
    if life.state is LifeState.UNKNOWN:
        return Finding(
            verdict=Verdict.NOT_PROVEN,
            item=life.title,
            sentence=f"{name}: {life.why_unknown} (limit {limit})",
            next_thing=f"Find out what {name} {'have' if plural else 'has'} done and write it down.",
        )
    if life.state is LifeState.OVERDUE:
        return Finding(
            verdict=Verdict.NO,
            item=life.title,
            sentence=f"{name} {'are' if plural else 'is'} {amount(-life.left, counter)} past "
            f"{'their' if plural else 'its'} {what} at {limit}",
            next_thing=cure,
        )
    reaches = f"{name} reach{'' if plural else 'es'} {'their' if plural else 'its'} {what} at {limit}"
    if counter is Counter.RUNNING and meeting is not None and life.reached_in is not None:
        when = _when(moment_in(meeting.still_planned, life.reached_in))
    else:
        when = f"before the event is over: {amount(life.left, counter)} left"
        if life.next_use is not None:
            when += f", {amount(life.next_use, counter)} to come"
    return Finding(
        verdict=Verdict.CLOSE if is_inspection else Verdict.NO,
        item=life.title,
        sentence=f"{reaches} {when}",
        next_thing=cure,
    )


def _due_soon(lives: list[Life]) -> Iterator[Finding]:
    if lives:
        first, others = lives[0], len(lives) - 1
        what = "inspection" if first.limit.action == "inspect" else "life"
        more = f", and {others} more limit{'s' if others > 1 else ''}" if others else ""
        yield Finding(
            verdict=Verdict.YES,
            item=first.title,
            sentence=f"due before the event after this one is over: {name_within(first.title)}, "
            f"{amount(first.left, first.limit.counter)} to {what}{more}",
            next_thing="",
        )


def _when(moment: Moment | None) -> str:
    if moment is None:
        return "before the event is over"
    of = "the race" if moment.session.kind == "race" else moment.session.name
    return f"{minutes_of(moment.before_end)} before the end of {of}"


def _renew(title: str, order: ToOrder | None, currency: str) -> str:
    name = name_within(title)
    if order is None:
        return f"Replace {name}."
    if order.spare:
        return f"Replace {name}: a spare is on the shelf ({order.spare_name})."
    price = f"; last paid {written_money(order.price_cents, currency)}" if order.price_cents else ""
    new, them = ("new", "them") if is_plural(title) else ("a new", "it")
    return f"Order {new} {name} now and fit {them} before {day_in_words(order.needed_by)}{price}."


def _at(wear: Wear) -> str:
    return f" ({wear.where})" if wear.where else ""
