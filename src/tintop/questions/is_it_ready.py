"""Is the car ready: is anything worn, out of life, broken or left undone before the next event is over?"""

from collections.abc import Iterator
from datetime import date
from typing import Any

from tintop.answer import Answer, Figure, Verdict
from tintop.logbook.amounts import millimetres, name_within
from tintop.logbook.book import Logbook
from tintop.logbook.entries import Counter
from tintop.logbook.findings import Finding, findings_of
from tintop.logbook.lives import Life, LifeState, Pace
from tintop.logbook.readiness import Readiness, readiness_on
from tintop.logbook.wear import ForecastWear, WearState

CAUTIONS = (
    "This counts what the book was told. It sees no crack, leak or loose stud: look at the car before it "
    "runs, and what you find goes before what stands here.",
    "A limit is no promise that the part lasts to it. The maker, the regulations and the scrutineer come "
    "first.",
)
_SAID = {
    Verdict.NO: "Not ready",
    Verdict.NOT_PROVEN: "Not proven",
    Verdict.CLOSE: "Ready, but close",
    Verdict.YES: "Ready",
}
_UNITS = {Counter.DISTANCE: "m", Counter.RUNNING: "s", Counter.LAPS: "laps"}


def is_it_ready(
    book: Logbook,
    day: date,
    *,
    forecast: ForecastWear | None = None,
    pace: Pace | None = None,
    currency: str = "£",
) -> Answer:
    """Answer for the next event of the book, by the end of a day.

    `forecast` is the race forecast's own wear, `pace` the lap expected; without them the car's own readings
    and sessions are all there is.
    """
    return answer_of(readiness_on(book, day, forecast, pace), currency)


def answer_of(ready: Readiness, currency: str = "£") -> Answer:
    """Answer from folds already made."""
    findings = findings_of(ready, currency)
    worst = findings[0] if findings and findings[0].verdict is not Verdict.YES else None
    verdict = worst.verdict if worst else Verdict.YES
    return Answer(
        question="Is it ready?",
        verdict=verdict,
        sentence=f"{_SAID[verdict]}: {worst.sentence}." if worst else _good(ready),
        figures=tuple(_figures(ready)),
        why=tuple(each.sentence for each in findings),
        next_thing=worst.next_thing if worst else _watch(ready),
        cautions=CAUTIONS,
        working=_working(ready, worst),
    )


def _good(ready: Readiness) -> str:
    assert ready.meeting is not None
    sentence = f"Ready for {ready.meeting.planned.name}: nothing is worn or out of life before it is over"
    margins = [
        (wear.at_end - wear.least, wear)
        for wear in ready.wears
        if wear.at_end is not None and wear.least is not None
    ]
    if not margins:
        return f"{sentence}."
    margin, wear = min(margins, key=lambda each: each[0])
    return f"{sentence}; nearest {name_within(wear.title)}, with {millimetres(margin)} to spare."


def _watch(ready: Readiness) -> str:
    if ready.wears:
        return f"Measure {name_within(ready.wears[0].title)} after the first session and write it down."
    return "Measure pads and treads after the first session and write it down."


def _figures(ready: Readiness) -> Iterator[Figure]:
    for wear in ready.wears:
        if wear.state is WearState.FAILED:
            continue
        if wear.at_end is None or wear.at_end_low is None or wear.at_end_high is None or wear.least is None:
            continue
        assert wear.rate is not None
        yield Figure(
            name=f"{name_within(wear.title)}: to spare at the end",
            value=wear.at_end - wear.least,
            low=wear.at_end_low - wear.least,
            high=wear.at_end_high - wear.least,
            unit="m",
            basis=f"rate by {wear.rate.basis}",
        )
    for life in ready.lives:
        if life.next_use is None or life.state in (LifeState.FAILED, LifeState.UNKNOWN):
            continue
        left = life.left - life.next_use
        yield Figure(
            name=f"{name_within(life.title)}: {life.limit.counter} left at the end",
            value=left,
            low=left,
            high=left,
            unit=_UNITS.get(life.limit.counter, "d" if life.limit.counter is Counter.AGE else ""),
            basis=_basis(life),
        )


def _basis(life: Life) -> str:
    source = f", {life.limit.source}" if life.limit.source else ""
    return f"limit by {life.limit.basis}{source}; counted from the book"


def _working(ready: Readiness, worst: Finding | None) -> dict[str, Any]:
    """Formula and inputs of every life and thickness as plain values, SI."""
    return {
        "weakest": worst.item if worst else "",
        "planned_running_s": ready.planned_running,
        "life_formula": "left at the end = limit - used - what the event will use",
        "lives": [
            {
                "part": life.part,
                "name": life.title,
                "counter": str(life.limit.counter),
                "action": life.limit.action,
                "limit": life.limit.limit,
                "used": life.used,
                "left": life.left,
                "next_use": life.next_use,
                "state": str(life.state),
                "basis": str(life.limit.basis),
                "source": life.limit.source,
                "inspected_on": life.inspected_on.isoformat() if life.inspected_on else "",
            }
            for life in ready.lives
        ],
        "wear_formula": "left at the end = last reading - rate * (driven since + still to be driven)",
        "wear": [
            {
                "part": wear.part,
                "name": wear.title,
                "place": wear.place,
                "read_m": wear.read,
                "read_on": wear.read_on.isoformat() if wear.read_on else "",
                "entry": wear.entry,
                "rate_m_per_s": wear.rate.rate if wear.rate else None,
                "rate_basis": wear.rate.basis if wear.rate else "",
                "driven_since_s": wear.driven_since,
                "now_m": wear.thickness,
                "at_end_m": wear.at_end,
                "at_end_low_m": wear.at_end_low,
                "at_end_high_m": wear.at_end_high,
                "least_m": wear.least,
                "state": str(wear.state),
            }
            for wear in ready.wears
        ],
        "to_order": [
            {"part": each.part, "name": each.name, "why": each.why, "price_cents": each.price_cents}
            for each in ready.orders
        ],
    }
