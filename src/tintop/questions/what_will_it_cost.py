"""What does running the car cost: this season so far, still to come, by the hour of race and by the lap?"""

from datetime import date

from tintop.answer import Answer, Figure, Verdict
from tintop.logbook.amounts import day_in_words, with_small_first, written_money
from tintop.logbook.book import Logbook
from tintop.logbook.costs import Costs, costs_on
from tintop.logbook.readiness import Readiness, readiness_on
from tintop.logbook.support import Supporter, supporters

CAUTIONS = (
    "Only what was written down is counted: no value lost on the car, no crash, no hour of your own.",
    "What is to come is what was planned, parts out of life or worn by then at the price last paid, and "
    "jobs with a price; a season brings more.",
)


def what_will_it_cost(
    book: Logbook, day: date, currency: str = "£", *, ready: Readiness | None = None
) -> Answer:
    """Answer from the costs of the book by the end of a day; figures in the garage's money, not cents.

    `ready` spares a second fold where the readiness of that day is at hand.
    """
    ready = readiness_on(book, day) if ready is None else ready
    return answer_of(costs_on(book, day, ready.orders, ready.jobs.open), supporters(book, day), currency)


def answer_of(costs: Costs, helpers: tuple[Supporter, ...], currency: str = "£") -> Answer:
    """Answer from folds already made."""
    if not costs.by_kind and not costs.season_planned:
        return Answer(
            question="What does it cost?",
            verdict=Verdict.NOT_PROVEN,
            sentence="Not known: the book holds no cost of running the car.",
            figures=(),
            next_thing="Write down what the last event cost: entry, tyres, fuel, travel, parts.",
            cautions=CAUTIONS,
        )
    return Answer(
        question="What does it cost?",
        verdict=Verdict.FOUND,
        sentence=_sentence(costs, currency),
        figures=_figures(costs, currency),
        why=_why(costs, helpers, currency),
        next_thing=_next_thing(costs, helpers, currency),
        cautions=CAUTIONS,
        working={
            "season": costs.year,
            "per_race_hour_formula": "racing this season / hours of race this season",
            "per_lap_formula": "racing this season / laps of all sessions this season",
            "season_racing_cents": costs.season_racing_cents,
            "season_build_and_tools_cents": costs.season_build_cents,
            "season_cents_by_kind": {str(kind): cents for kind, cents in costs.season_by_kind.items()},
            "cents_by_event": {each.name: each.paid_cents for each in costs.by_meeting},
            "planned_cents_by_event": {
                each.name: each.planned_cents for each in costs.by_meeting if each.planned_cents
            },
            "cents_of_no_event": costs.other_cents,
            "cents_by_month": dict(costs.by_month),
            "car_itself_cents": costs.car_cents,
            "race_time_s": costs.season_driven.racing,
            "running_time_s": costs.season_driven.running,
            "laps": costs.season_driven.laps,
        },
    )


def _sentence(costs: Costs, currency: str) -> str:
    spent = (
        f"{written_money(costs.season_paid_cents, currency, 0)} to run the car in {costs.year} so far: "
        f"build and tools {written_money(costs.season_build_cents, currency, 0)}, "
        f"racing {written_money(costs.season_racing_cents, currency, 0)}"
    )
    per_hour = (
        f"; {written_money(costs.per_race_hour_cents, currency, 0)} an hour of racing"
        if costs.per_race_hour_cents is not None
        else "; no hour of race yet"
    )
    if not costs.season_to_come_cents and not costs.unpriced:
        return f"{spent}{per_hour}; nothing is planned to come."
    to_come = f"; {written_money(costs.season_to_come_cents, currency, 0)} to come"
    return f"{spent}{per_hour}{to_come} as far as it is known."


def _figures(costs: Costs, currency: str) -> tuple[Figure, ...]:
    figures = [
        _figure("this season so far", costs.season_paid_cents, currency, "sum of cost lines"),
        _figure(
            "build and tools", costs.season_build_cents, currency, "the car's parts, kit and work of no event"
        ),
        _figure("racing", costs.season_racing_cents, currency, "events, and what racing uses up of no event"),
        _figure(
            "this season still to come",
            costs.season_to_come_cents,
            currency,
            "planned costs, parts due at the last price of their family, priced jobs",
        ),
    ]
    if costs.per_race_hour_cents is not None:
        hours = costs.season_driven.racing / 3600.0
        figures.append(
            _figure(
                "an hour of racing", costs.per_race_hour_cents, currency, f"racing over {hours:.1f} h of race"
            )
        )
    if costs.per_lap_cents is not None:
        figures.append(
            _figure(
                "a lap", costs.per_lap_cents, currency, f"racing over {costs.season_driven.laps} laps driven"
            )
        )
    figures.append(
        _figure("the car itself", costs.car_cents, currency, "bought, less what was sold off it; kept apart")
    )
    return tuple(figures)


def _figure(name: str, cents: float, currency: str, basis: str) -> Figure:
    money = cents / 100.0
    return Figure(name=name, value=money, low=money, high=money, unit=currency, basis=basis)


def _why(costs: Costs, helpers: tuple[Supporter, ...], currency: str) -> tuple[str, ...]:
    total = sum(cents for cents in costs.season_by_kind.values() if cents > 0)
    said = [
        f"{kind} {written_money(cents, currency, 0)}, {100.0 * cents / total:.0f} % of what was spent"
        for kind, cents in list(costs.season_by_kind.items())[:4]
        if cents > 0
    ]
    driven = [each for each in costs.by_meeting if each.driven.laps and each.paid_cents]
    if driven:
        dearest = max(driven, key=lambda each: each.paid_cents)
        said.append(f"dearest event: {dearest.name}, {written_money(dearest.paid_cents, currency, 0)}")
    if costs.sold_cents:
        said.append(
            f"{written_money(-costs.sold_cents, currency, 0)} came in from sales and shares, all told"
        )
    if costs.parts_due:
        said.append(
            f"parts due, {written_money(costs.parts_due_cents, currency, 0)}: "
            f"{'; '.join(with_small_first(each.name) for each in costs.parts_due)}"
        )
    if costs.unpriced:
        said.append(f"no price known for {'; '.join(with_small_first(name) for name in costs.unpriced)}")
    in_kind = sum(each.in_kind_cents for each in helpers)
    if in_kind:
        said.append(f"{written_money(in_kind, currency, 0)} of help in kind, not counted above")
    return tuple(said)


def _next_thing(costs: Costs, helpers: tuple[Supporter, ...], currency: str) -> str:
    if late := [each for each in helpers if each.overdue]:
        return f"Return what is owed to {late[0].name}: it is overdue."
    if costs.unpriced:
        return f"Find the price of {with_small_first(costs.unpriced[0])}."
    if costs.season_planned:
        line = costs.season_planned[0]
        return (
            f"Next to pay: {line.cost.what}, {written_money(line.cost.cents, currency)}, "
            f"{day_in_words(line.day)}."
        )
    to_buy = [each for each in costs.parts_due if not each.spare and each.part not in costs.parts_planned]
    if to_buy:
        return (
            f"Order {with_small_first(to_buy[0].name)} now, to be there by "
            f"{day_in_words(to_buy[0].needed_by)}."
        )
    return "Write down what the next event will cost, so that the season can be seen ahead."
