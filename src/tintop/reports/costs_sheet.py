"""The answer to "What does it cost?" as a sheet and as plain content."""

from typing import Any

from tintop.answer import Answer
from tintop.logbook.amounts import written_money
from tintop.logbook.costs import Costs, MeetingCost
from tintop.logbook.lives import ToOrder
from tintop.logbook.support import Supporter
from tintop.reports.sheet import Sheet, Table


def costs_sheet(
    answer: Answer, costs: Costs, helpers: tuple[Supporter, ...] = (), currency: str = "£"
) -> Sheet:
    """The money for reading: by kind, event and month, what is to come, help in kind."""

    def money(cents: float | None, digits: int = 2) -> str:
        return "–" if cents is None else written_money(cents, currency, digits)

    tables = (
        Table(
            title=f"Running the car in {costs.year}, by kind",
            columns=("kind", "paid"),
            rows=[(str(kind), money(cents)) for kind, cents in costs.season_by_kind.items()],
        ),
        Table(
            title="By event",
            columns=("event", "day", "paid", "to pay", "an hour of race", "a lap"),
            rows=[
                (
                    each.name,
                    each.first_day.isoformat(),
                    money(each.paid_cents),
                    money(each.planned_cents) if each.planned_cents else "",
                    money(each.per_race_hour_cents),
                    money(each.per_lap_cents),
                )
                for each in costs.by_meeting
                if _has_cost(each)
            ],
        ),
        Table(
            title="By month",
            columns=("month", "paid"),
            rows=[(month, money(cents)) for month, cents in costs.by_month.items()],
        ),
        Table(
            title="To come this season, as far as it is known",
            columns=("what", "when", "about"),
            rows=[
                *(
                    (line.cost.what, line.day.isoformat(), money(line.cost.cents))
                    for line in costs.season_planned
                ),
                *(
                    (each.name, each.needed_by.isoformat(), _due_price(money(each.price_cents), each, costs))
                    for each in costs.parts_due
                ),
                *((job.job.title, "", money(job.job.cost_cents)) for job in costs.jobs_to_pay),
            ],
        ),
        Table(
            title="Help in kind",
            columns=("from", "list price", "paid", "in kind", "still owed", "overdue"),
            rows=[
                (
                    each.name,
                    money(each.list_cents),
                    money(each.paid_cents),
                    money(each.in_kind_cents),
                    str(each.owed),
                    str(each.overdue),
                )
                for each in helpers
            ],
        ),
    )
    return Sheet(
        title=answer.question,
        sentences=(
            answer.sentence,
            f"Since the book began: {money(costs.paid_cents)} on running the car, "
            f"{money(costs.other_cents)} of it for no event; {money(costs.car_cents)} for the car itself.",
            answer.next_thing,
        ),
        tables=tuple(table for table in tables if table.rows),
        cautions=answer.cautions,
    )


def costs_content(answer: Answer, costs: Costs) -> dict[str, Any]:
    """The money as plain content; sums in hundredths of the garage's money."""
    return {
        "verdict": str(answer.verdict),
        "sentence": answer.sentence,
        "season_cents": costs.season_paid_cents,
        "season_racing_cents": costs.season_racing_cents,
        "season_build_and_tools_cents": costs.season_build_cents,
        "season_to_come_cents": costs.season_to_come_cents,
        "per_race_hour_cents": costs.per_race_hour_cents,
        "per_lap_cents": costs.per_lap_cents,
        "all_paid_cents": costs.paid_cents,
        "why": list(answer.why),
        "next_thing": answer.next_thing,
        "cautions": list(answer.cautions),
        **answer.working,
    }


def _has_cost(each: MeetingCost) -> bool:
    return bool(each.paid_cents or each.planned_cents or each.by_kind or each.driven.laps)


def _due_price(price: str, due: ToOrder, costs: Costs) -> str:
    if due.spare:
        return f"nothing: {due.spare_name} is on the shelf"
    return "planned above" if due.part in costs.parts_planned else price
