"""What runs out before which event, what it costs, and that each date counts once."""

from dataclasses import replace
from datetime import date

import pytest

from books import Writer, on
from findings_by_hand import BOOK, clause, finding, inspection, proven
from tintop.logbook.entries import Area
from tintop.logbook.season import price_in_words, season
from tintop.rules.book import Expiry, ExpiryKind, Severity
from tintop.rules.evidence import Form
from tintop.rules.facts import FactKey
from tintop.rules.findings import Heard, Inspection, Ruling

TODAY = on("2026-06-09")
CLAUSES = (
    clause("harness-label", reference="art. 1", cure="Fit new belts."),
    clause("licence", Severity.MEND, reference="art. 2"),
)
HELD = replace(BOOK, clauses=CLAUSES)


def heard(
    id: str, expires: date | None, each: str = "", part: str = "", ruling: Ruling = Ruling.PASS
) -> Heard:
    return Heard(
        clause=f"{BOOK.id}:{id}",
        each=each,
        ruling=ruling,
        severity=Severity.STOPS,
        reason="",
        expires=expires,
        evidence=(proven(part=part),) if part else (),
    )


def inspected(first: str, *all_heard: Heard) -> Inspection:
    by_id: dict[str, list[Heard]] = {}
    for one in all_heard:
        by_id.setdefault(one.clause.partition(":")[2], []).append(one)
    findings = [finding(id, each[0].ruling, heard=tuple(each)) for id, each in by_id.items()]
    return inspection(*findings, first_day=on(first), last_day=on(first), books=(HELD,))


def two_events() -> Writer:
    writer = Writer()
    writer.meeting("2026-01-01", "june", "2026-06-20")
    writer.meeting("2026-01-01", "august", "2026-08-20")
    writer.meeting("2026-01-01", "gone", "2026-05-01")
    return writer


def both(*all_heard: Heard) -> dict[str, Inspection]:
    return {"june": inspected("2026-06-20", *all_heard), "august": inspected("2026-08-20", *all_heard)}


def test_each_date_counts_to_the_first_event_it_does_not_last():
    dates = {
        "Robin": on("2026-06-19"),
        "Sam": on("2026-06-20"),
        "Ali": on("2026-08-19"),
        "Max": on("2026-12-31"),
    }
    found = season(
        two_events().book, TODAY, both(*(heard("licence", day, driver) for driver, day in dates.items()))
    )
    assert [event.meeting for event in found.events] == ["june", "august"]
    due = {each.title: each.due_for for each in found.dates}
    assert due == {
        "Licence, Robin": "june",  # ran out the day before
        "Licence, Sam": "august",  # good on the event's last day itself
        "Licence, Ali": "august",
        "Licence, Max": "",
    }
    assert [each.expires for each in found.dates] == sorted(dates.values())
    assert found.dates[0].rule == f"art. 2, {BOOK.title}, {BOOK.edition}"
    assert not found.dates[0].stops_racing


def test_a_label_that_cannot_be_read_is_due_at_once():
    found = season(two_events().book, TODAY, both(heard("harness-label", None, ruling=Ruling.EXPIRES)))
    assert [(each.expires, each.due_for) for each in found.dates] == [(None, "june")]
    assert found.dates[0].to_do == "Fit new belts."


def test_what_has_no_date_or_does_not_apply_is_left_out():
    found = season(
        two_events().book,
        TODAY,
        both(
            heard("harness-label", None, ruling=Ruling.NOT_PROVEN),
            heard("licence", on("2026-01-01"), ruling=Ruling.NOT_APPLICABLE),
        ),
    )
    assert found.dates == ()


def test_of_two_clauses_on_one_thing_the_sooner_date_counts():
    pair = (heard("licence", on("2027-01-01")), heard("licence", on("2026-07-01")))
    found = season(two_events().book, TODAY, both(*pair))
    assert [(each.expires, each.due_for) for each in found.dates] == [(on("2026-07-01"), "august")]


def test_an_event_goes_by_its_own_books():
    found = season(
        two_events().book,
        TODAY,
        {
            "june": inspected("2026-06-20", heard("licence", on("2027-01-01"))),
            "august": inspected("2026-08-20", heard("licence", on("2026-07-01"))),
        },
    )
    assert [(each.expires, each.due_for) for each in found.dates] == [(on("2026-07-01"), "august")]


def test_the_price_is_that_of_the_part_that_bears_the_label_and_unknown_without_one():
    writer = two_events()
    writer.part("2026-01-01", "belts", area=Area.CABIN, price_cents=18000, name="Six-point belts")
    writer.fit("2026-01-01", "belts")
    writer.part("2026-01-01", "net", area=Area.CABIN)
    writer.fit("2026-01-01", "net")
    gone = on("2026-06-01")
    found = season(
        writer.book,
        TODAY,
        both(
            heard("harness-label", gone, "left", "belts"),
            heard("harness-label", gone, "right", "belts"),
            heard("licence", gone),
            heard("licence", gone, "net", "net"),
        ),
    )
    left, right, licence, net = found.dates
    assert (left.cents, left.part_name, right.cents) == (18000, "Six-point belts", 18000)
    assert licence.cents is None and net.cents is None
    assert found.cents_for("june") == 18000  # one set of belts, both labels
    assert found.cents_for("august") == 0
    assert {each.title for each in found.unpriced_for("june")} == {"Licence", "Licence, net"}


def test_a_sheet_or_certificate_that_runs_out_costs_no_part():
    writer = two_events()
    writer.part("2026-01-01", "engine", price_cents=90000)
    writer.fit("2026-01-01", "engine")
    sheet = replace(
        heard("licence", on("2026-06-01")), evidence=(proven(part="engine", form=Form.CERTIFICATE),)
    )
    found = season(writer.book, TODAY, both(sheet))
    assert (found.dates[0].part, found.dates[0].cents) == ("", None)


def test_a_spare_on_the_shelf_costs_nothing():
    writer = two_events()
    for name in ("belts", "new-belts"):
        writer.part("2026-01-01", name, family="belts", area=Area.CABIN, price_cents=18000)
    writer.fit("2026-01-01", "belts")
    found = season(writer.book, TODAY, both(heard("harness-label", on("2026-06-01"), part="belts")))
    assert found.dates[0].spare == "new-belts"
    assert found.cents_for("june") == 0 and found.unpriced_for("june") == ()


def test_an_event_whose_books_do_not_read_is_named():
    inspections = both(heard("licence", on("2026-07-01")))
    del inspections["june"]
    found = season(two_events().book, TODAY, inspections, {"june": "no book"})
    assert found.unread == {"june": "no book"}
    assert [each.due_for for each in found.dates] == ["august"]


def test_an_edition_that_is_not_in_force_is_a_date_and_comes_first():
    book = replace(HELD, valid_to=on("2026-07-31"))
    edition = finding(
        "in-force",
        Ruling.NOT_PROVEN,
        on=clause("in-force"),
        book=book,
        to_do="Get the one then in force.",
    )
    august = replace(
        inspected("2026-08-20", heard("licence", on("2026-06-01"))),
        books=(book,),
    )
    august = replace(august, findings=(*august.findings, edition))
    june = inspected("2026-06-20", heard("licence", on("2026-06-01")))
    first, licence = season(two_events().book, TODAY, {"june": june, "august": august}).dates
    assert first.title == f"Rule book: {BOOK.title}"
    assert (first.expires, first.due_for) == (book.valid_to, "august")
    assert first.rule == "2026, in force from 1 January 2026 to 31 July 2026"
    assert first.to_do == "Get the one then in force." and first.stops_racing
    assert licence.due_for == "june"
    unpriced = season(two_events().book, TODAY, {"june": june, "august": august}).unpriced_for("august")
    assert unpriced == ()  # a book costs no part
    early = replace(august, books=(replace(book, valid_from=on("2026-09-01"), valid_to=None),))
    (to_come, _) = season(two_events().book, TODAY, {"june": june, "august": early}).dates
    assert to_come.expires is None and to_come.until_words == "in force from 1 September 2026 on"


@pytest.mark.parametrize(
    ("proven_on", "is_renewed", "is_old"),
    [
        ("2026-05-01", True, True),
        ("2026-06-03", True, True),  # of the day itself: it may be from before
        ("2026-06-04", True, False),
        ("2026-05-01", False, False),
    ],
)
def test_after_a_hard_hit_a_date_holds_only_if_it_was_proven_anew(proven_on, is_renewed, is_old):
    label = FactKey("harness.label")
    dated = clause(
        "harness-label",
        check=Expiry(kind=ExpiryKind.LABEL_YEAR, marked=label),
        renewed_after_accident=is_renewed,
    )
    book = replace(BOOK, clauses=(dated, CLAUSES[1]))
    one = heard("harness-label", on("2028-12-31"), part="belts")
    one = replace(one, evidence=(replace(one.evidence[0], key=label, day=on(proven_on)),))
    other = heard("licence", on("2028-12-31"), "belts", part="belts")  # of the same part, by another clause
    hit = on("2026-06-03")
    after = {name: replace(found, books=(book,), accident=hit) for name, found in both(one, other).items()}
    found = season(two_events().book, TODAY, after).dates
    assert [each.hit for each in found] == [hit if is_old else None] * 2
    assert [each.due_for for each in found] == ["june" if is_old else ""] * 2
    words = "to be proven anew since the hard hit of 3 June 2026" if is_old else ""
    assert {each.hit_words for each in found} == {words}


def test_the_price_says_that_it_is_of_a_new_one_and_by_whom():
    writer = two_events()
    writer.part("2026-01-01", "belts", area=Area.CABIN, list_price_cents=18000)
    writer.fit("2026-01-01", "belts")
    found = season(writer.book, TODAY, both(heard("harness-label", on("2026-06-01"), part="belts")))
    assert price_in_words(found.dates[0], "£") == "a new one, list price £180.00"
    paid = replace(found.dates[0], is_list_price=False)
    assert price_in_words(paid, "£") == "a new one, last paid £180.00"
    assert price_in_words(replace(paid, cents=None), "£") == "price of a new one not known"
    assert price_in_words(replace(paid, spare="belts-2"), "£") == "a like one is on the shelf"
