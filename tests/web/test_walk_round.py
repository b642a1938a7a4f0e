"""The walk-round: a card for each fact by station, open ones on top, sent from the phone."""

import re

import pytest
from own_book import BOOK, name_the_book, proof
from test_car import words

CARDS = re.compile(r'<details class="card( open-card)?" id="([A-Za-z0-9_-]+)">')


@pytest.fixture
def ruled(garage):
    name_the_book(garage)
    return garage


def cards(html: str) -> dict[str, bool]:
    """The cards by id, and whether each is open."""
    return {found[2]: bool(found[1]) for found in CARDS.finditer(html)}


def test_cards_stand_in_the_scrutineers_order(page, ruled):
    html = page.get("/legal/walk").text
    assert list(cards(html)) == [
        "test-opens",
        "test-height",
        "test-top",
        "test-anchor-left",
        "test-anchor-right",
        "test-label",
        "test-plate",
        "test-standard",
        "test-drivers",
    ]
    stations = re.findall(r"<h2>\d\. ([^<]+)</h2>", html)
    assert stations == ["Outside", "Cabin", "Underneath", "Driver&#39;s kit", "Papers"]


def test_a_fact_for_each_driver_gets_a_card_once_the_drivers_are_recorded(page, ruled):
    proof(page, "test.drivers", value="Robin, Sam", form="witness")
    assert {"test-licence-Robin", "test-licence-Sam"} <= set(cards(page.get("/legal/walk").text))


def test_a_card_that_is_proven_is_open_no_longer(page, ruled):
    before = cards(page.get("/legal/walk").text)
    assert all(before.values())
    proof(page, "test.opens", value="yes", form="witness")
    after = cards(page.get("/legal/walk").text)
    assert {name for name in after if before[name] != after[name]} == {"test-opens"}
    proof(page, "test.opens", value="no", form="witness")
    assert cards(page.get("/legal/walk").text)["test-opens"]


def test_every_card_is_a_form_with_a_key_of_its_own(page, ruled):
    html = page.get("/legal/walk").text
    keys = re.findall(r'name="key" value="([0-9a-f]{32})"', html)
    assert len(keys) == len(set(keys)) == len(cards(html))
    assert html.count("data-outbox=") == len(cards(html))
    assert html.count('capture="environment"') == len(cards(html))


def test_what_a_bulletin_adds_stands_on_top_as_new(page, ruled):
    assert "New since the last event" not in page.get("/legal/walk").text
    bulletin = BULLETIN
    ruled.save_document("rule_books/bulletin.toml", bulletin, based_on=None, who="Robin", why="")
    stands = re.search(r'name="stands" value="(\d+)"', page.get("/events/midsummer").text)
    plan = {
        "key": "b", "stands": stands[1], "name": "Midsummer Two Hours", "first_day": "2026-06-20",
        "book_harrow": "yes", "book_bulletin": "yes",
    }  # fmt: skip
    assert page.post("/events/midsummer/plan", data=plan).status_code == 303
    text = words(page.get("/legal/walk").text)
    top = text[text.index("New since the last event") :][:300]
    assert "Transponder number" in top and "new" in top and "Event bulletin" in top


BULLETIN = """[book]
id = "bulletin"
title = "Event bulletin"
edition = "1"
jurisdiction = "Harrow Down Touring Club"
valid_from = 2026-01-01
builds_on = ["harrow"]
cautions = ["A working aid, never the bulletin."]

[[fact]]
name = "test.transponder"
ask = "Transponder number"
kind = "text"
station = "papers"

[[clause]]
id = "transponder"
group = "papers"
title = "Transponder"
requirement = "Its number is known to the timekeepers."
reference = "B1"
severity = "stops you racing"
known = "own"
shown = ["test.transponder"]
"""


def test_without_a_book_there_is_nothing_to_walk_round_for(page):
    assert "No rule book is named" in page.get("/legal/walk").text


def test_a_reader_sees_the_cards_and_no_form(reader, ruled):
    html = reader.get("/legal/walk").text
    assert len(cards(html)) == 9
    assert "<form" not in html


def test_every_clause_of_the_book_is_reached_by_a_card(page, ruled):
    html = page.get("/legal/walk").text
    asked = set(re.findall(r'name = "(test\.\w+)"', BOOK)) - {"test.licence"}
    assert {name.replace(".", "-") for name in asked} <= {
        re.sub("-(left|right)$", "", one) for one in cards(html)
    }


def test_no_card_says_pass_of_what_is_not_recorded(page, ruled):
    either = BOOK + EITHER
    seen = ruled.document("rule_books/harrow.toml").digest
    ruled.save_document("rule_books/harrow.toml", either, based_on=seen, who="", why="")
    proof(page, "test.opens", value="yes", form="witness")
    html = page.get("/legal/walk").text
    for card in re.findall(r"<summary>.*?</summary>", html, flags=re.S):
        assert not ("nothing recorded" in card and "ruling-pass" in card), words(card)


EITHER = """
[[fact]]
name = "test.pins"
ask = "Bonnet pins"
kind = "yes or no"
station = "outside"

[[clause]]
id = "pins-or-catch"
group = "body"
title = "Pins, or a catch"
requirement = "One of both."
reference = "4.8"
severity = "advice"
known = "own"
holds = "test.opens or test.pins"
"""
