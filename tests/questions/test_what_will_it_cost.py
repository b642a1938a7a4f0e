from pytest import approx

from books import HOUR, Writer, limit, on, planned
from tintop.answer import Answer, Verdict
from tintop.logbook.entries import CostKind, CostPaid, Counter, SupportReceived
from tintop.questions.what_will_it_cost import what_will_it_cost

DAY = on("2026-06-30")


def season() -> Writer:
    """This year 700 of entry, 480 of tyres and 60.50 of fuel less 30: 1210.50 in 4 h of race and 121 laps.

    To come: 360 of entry and a hub at 74.
    """
    book = Writer()
    book.meeting("2026-01-01", "april", "2026-04-11", name="April Hours")
    book.meeting("2026-01-01", "july", "2026-07-18", name="July Hours", sessions=(planned("Race", 120),))
    for day, kind, pounds, meeting in (
        ("2025-11-01", CostKind.CAR, 1800, ""),
        ("2026-04-01", CostKind.ENTRY, 700, "april"),
        ("2026-04-12", CostKind.FUEL, 60.50, "april"),
        ("2026-04-12", CostKind.FUEL, -30, "april"),
        ("2026-05-02", CostKind.TYRES, 480, ""),
    ):
        cost = CostPaid(cost_kind=kind, cents=round(pounds * 100), what=str(kind), meeting=meeting)
        book.write(day, cost)
    cost = CostPaid(
        cost_kind=CostKind.ENTRY, cents=36000, what="entry, July", meeting="july", is_planned=True
    )
    book.write("2026-07-01", cost)
    book.part("2026-01-01", "hub", price_cents=7400, limits=(limit(Counter.RUNNING, 5 * HOUR),))
    book.fit("2026-01-02", "hub")
    book.run("2026-04-11", "race", hours=4, laps=121, meeting="april")
    return book


def ask(book: Writer) -> Answer:
    return what_will_it_cost(book.book, DAY, "£")


def test_the_season_in_one_sentence():
    answer = ask(season())
    assert answer.verdict is Verdict.FOUND
    assert answer.sentence == (
        "£1,210 to run the car in 2026 so far: build and tools £0, racing £1,210; £303 an hour of racing; "
        "£434 to come as far as it is known."
    )
    assert answer.next_thing == "Next to pay: entry, July, £360.00, Wed 1 July."


def test_figures_are_in_money():
    figures = {figure.name: figure for figure in ask(season()).figures}
    assert figures["this season so far"].value == approx(1210.50)
    assert figures["this season still to come"].value == approx(434.0)
    assert figures["an hour of racing"].value == approx(302.625)
    assert figures["a lap"].value == approx(1210.50 / 121)
    assert figures["the car itself"].value == approx(1800.0)
    assert {figure.unit for figure in figures.values()} == {"£"}


def test_why_names_kinds_event_parts_and_help():
    """Of 1210.50, entry is 58 %, tyres 40 %, fuel less the share of it 3 %."""
    book = season()
    book.write(
        "2026-02-01",
        SupportReceived(
            support="1", supporter="Fell Friction", what="pads", list_price_cents=9000, owed="a sticker",
            owed_by=on("2026-05-01"),
        ),
    )  # fmt: skip
    answer = ask(book)
    assert answer.why == (
        "entry £700, 58 % of what was spent",
        "tyres £480, 40 % of what was spent",
        "fuel £30, 3 % of what was spent",
        "dearest event: April Hours, £730",
        "£30 came in from sales and shares, all told",
        "parts due, £74: hub",
        "£90 of help in kind, not counted above",
    )
    assert answer.next_thing == "Return what is owed to Fell Friction: it is overdue."


def test_an_empty_book_knows_no_cost():
    answer = ask(Writer())
    assert answer.verdict is Verdict.NOT_PROVEN
    assert answer.sentence == "Not known: the book holds no cost of running the car."


def test_a_season_without_a_race_has_no_price_of_an_hour():
    book = Writer()
    book.write("2026-05-02", CostPaid(cost_kind=CostKind.TYRES, cents=48000, what="tyres"))
    assert ask(book).sentence == (
        "£480 to run the car in 2026 so far: build and tools £0, racing £480; no hour of race yet; "
        "nothing is planned to come."
    )


def test_a_part_whose_price_nothing_tells_is_named():
    book = season()
    book.part("2026-01-01", "belt", limits=(limit(Counter.RUNNING, 5 * HOUR),))
    book.fit("2026-01-02", "belt")
    answer = ask(book)
    assert "no price known for belt" in answer.why
    assert answer.next_thing == "Find the price of belt."
