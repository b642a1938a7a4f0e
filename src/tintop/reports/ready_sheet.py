"""The answer to "Is it ready?" as a sheet and as plain content."""

from typing import Any

from tintop.answer import Answer
from tintop.logbook.amounts import amount, millimetres, written_money
from tintop.logbook.findings import forecast_words
from tintop.logbook.lives import Life, LifeState, ToOrder
from tintop.logbook.readiness import Readiness
from tintop.logbook.stands import look_words, stands_of
from tintop.logbook.wear import Wear
from tintop.reports.answer_content import answer_content
from tintop.reports.sheet import Sheet, Table


def ready_sheet(answer: Answer, ready: Readiness, currency: str = "£", has_good: bool = True) -> Sheet:
    """Readiness for reading: wear, lives, jobs and what to order, the worst on top.

    `has_good` lists the lives that are good too.
    """
    tables = (
        Table(
            title="Pads, discs and treads at the end of the event",
            columns=("part", "place", "read", "mm an hour", "by", "then", "least", "state"),
            rows=[_wear_row(wear) for wear in ready.wears],
        ),
        Table(
            title="Lives" if has_good else "Lives, those not good",
            columns=("part", "to", "used", "limit", "left", "the event uses", "basis", "state"),
            rows=[_life_row(life) for life in ready.lives if has_good or life.state is not LifeState.GOOD],
        ),
        Table(
            title="To do",
            columns=("job", "before", "minutes", ""),
            rows=[
                (
                    job.job.title,
                    job.job.meeting,
                    f"{job.job.minutes:.0f}" if job.job.minutes is not None else "",
                    "stops the car" if job.job.stops_running else "",
                )
                for job in ready.jobs.open
            ],
        ),
        Table(
            title="To have in hand",
            columns=("part", "why", "by", "price", "spare on the shelf"),
            rows=[_order_row(each, currency) for each in ready.orders],
        ),
    )
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            *(f"{why[:1].upper()}{why[1:]}." for why in answer.why if why not in answer.sentence),
            answer.next_thing,
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=answer.cautions,
    )


def ready_content(answer: Answer) -> dict[str, Any]:
    """Readiness as plain content; SI."""
    return {
        **answer_content(answer),
        **answer.working,
    }


def _wear_row(wear: Wear) -> tuple[str, ...]:
    spread = (
        f" ({wear.at_end_low * 1e3:.1f} to {wear.at_end_high * 1e3:.1f})"
        if wear.at_end_low is not None and wear.at_end_high is not None
        else ""
    )
    return (
        wear.title,
        wear.where,
        f"{millimetres(wear.read)}, {wear.read_on.isoformat()}" if wear.read_on else "never",
        f"{wear.rate.rate * 3.6e6:.2f}" if wear.rate else "–",
        "; ".join(filter(None, (wear.rate.basis if wear.rate else "–", forecast_words(wear)))),
        f"{millimetres(wear.at_end)}{spread}",
        millimetres(wear.least),
        wear.why_unknown or stands_of(wear).words,
    )


def _life_row(life: Life) -> tuple[str, ...]:
    counter = life.limit.counter
    source = f", {life.limit.source}" if life.limit.source else ""
    return (
        life.title,
        life.limit.action,
        amount(life.used, counter),
        amount(life.limit.limit, counter),
        amount(life.left, counter),
        amount(life.next_use, counter) if life.next_use is not None else "–",
        f"{life.limit.basis}{source}",
        "; ".join(filter(None, (life.why_unknown or stands_of(life).words, look_words(life)))),
    )


def _order_row(order: ToOrder, currency: str) -> tuple[str, ...]:
    return (
        order.name,
        order.why,
        order.needed_by.isoformat(),
        written_money(order.price_cents, currency) if order.price_cents is not None else "not known",
        order.spare_name,
    )
