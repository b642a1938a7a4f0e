"""The walk-round: a card for each fact by station, open ones on top, sent from the phone."""

import re

import numpy as np
import pytest
from own_book import BOOK, name_the_book, proof
from test_car import words

from tintop.charts.cage_views import SIDE

CARDS = re.compile(r'<details class="card(?: later|( open-card))?" id="([A-Za-z0-9_-]+)"')
ALL = "/legal/walk?station=all"
RECORDED = "/legal/walk/recorded?station=all"


@pytest.fixture
def ruled(garage):
    name_the_book(garage)
    return garage


def cards(html: str) -> dict[str, bool]:
    """The cards by id, and whether each is open."""
    return {found[2]: bool(found[1]) for found in CARDS.finditer(html)}


def test_cards_stand_in_the_scrutineers_order(page, ruled):
    html = page.get(ALL).text
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
    assert {"test-licence-Robin", "test-licence-Sam"} <= set(cards(page.get(ALL).text))


def test_a_card_that_is_proven_is_open_no_longer(page, ruled):
    before = cards(page.get(ALL).text)
    assert all(before.values())
    proof(page, "test.opens", value="yes", form="witness")
    after = cards(page.get(ALL).text)
    assert {name for name in after if before[name] != after[name]} == {"test-opens"}
    proof(page, "test.opens", value="no", form="witness")
    assert cards(page.get(ALL).text)["test-opens"]


def test_every_card_is_a_form_with_a_key_of_its_own(page, ruled):
    html = page.get(ALL).text
    keys = re.findall(r'name="key" value="([0-9a-f]{32})"', html)
    assert len(keys) == len(set(keys)) == len(cards(html))
    assert html.count("data-outbox=") == len(cards(html))
    assert html.count('capture="environment"') == len(cards(html))


def test_what_a_bulletin_adds_stands_on_top_as_new(page, ruled):
    assert "New since the last event" not in page.get(ALL).text
    bulletin = BULLETIN
    ruled.save_document("rule_books/bulletin.toml", bulletin, based_on=None, who="Robin", why="")
    stands = re.search(r'name="stands" value="(\d+)"', page.get("/events/midsummer").text)
    plan = {
        "key": "b", "stands": stands[1], "name": "Midsummer Two Hours", "first_day": "2026-06-20",
        "book_harrow": "yes", "book_bulletin": "yes",
    }  # fmt: skip
    assert page.post("/events/midsummer/plan", data=plan).status_code == 303
    text = words(page.get(ALL).text)
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


def test_one_station_stands_on_the_page_with_the_counts_of_all(page, ruled):
    proof(page, "test.opens", value="yes", form="witness")
    html = page.get("/legal/walk?station=cabin").text
    assert set(cards(html)) == {"test-top", "test-anchor-left", "test-anchor-right", "test-label"}
    tabs = words(html[html.index('aria-label="Stations"') :].partition("</nav>")[0])
    assert "Outside 1 open of / 2" in tabs and "Cabin 4 open of / 4" in tabs
    assert re.search(r'station=cabin#here" aria-current="page"', html)
    assert page.get("/legal/walk?station=roof").status_code == 404
    assert page.get("/legal/walk/recorded?station=roof").status_code == 404


def test_without_a_station_it_begins_where_something_is_open(page, ruled):
    assert "test-height" in cards(page.get("/legal/walk").text)
    proof(page, "test.opens", value="yes", form="witness")
    proof(page, "test.height", value="260", unit="mm", form="measurement")
    assert "test-top" in cards(page.get("/legal/walk").text)
    assert "test-opens" in cards(page.get("/legal/walk?card=test-opens").text)
    assert "test-top" in cards(page.get("/legal/walk?card=none-such").text)


def test_a_fact_whose_figure_alone_nobody_has_read_is_recorded(page, ruled):
    proof(page, "test.height", value="260", unit="mm", form="measurement")
    html = page.get("/legal/walk?station=outside").text
    line = html[html.index('id="test-height"') :].partition("</summary>")[0]
    assert "recorded" in line and "260.0 mm" in words(line) and "not proven" not in line
    assert not cards(html)["test-height"]
    assert "not proven" not in page.get("/legal/walk/recorded?station=outside").text
    assert "not proven" in page.get("/legal").text


def test_what_is_recorded_is_one_line_until_its_form_follows(page, reader, ruled):
    proof(page, "test.opens", value="yes", form="witness")
    html = page.get("/legal/walk?station=outside").text
    assert "Recorded: 1" in words(html)
    line = html[html.index('id="test-opens"') :].partition("</details>")[0]
    assert "<form" not in line and "/legal/fact/test.opens" in line
    assert 'data-recorded="/legal/walk/recorded?event=midsummer&amp;station=outside"' in html
    rest = page.get("/legal/walk/recorded?station=outside").text
    assert list(cards(rest)) == ["test-opens"] and 'data-outbox="test-opens"' in rest
    assert "<form" not in reader.get("/legal/walk/recorded?station=outside").text


def test_the_axes_drawn_are_right_handed_and_seen_from_where_the_cage_is(page, ruled):
    """ISO 8855: x forward, y left, z up, so x × y = z; in the drawing right, up and towards the eye."""
    html = page.get("/legal/fact/test.top").text
    drawing = html[html.index('<figure class="axes-drawing">') :].partition("</figure>")[0]
    along = re.search(r'class="axis-x" d="M150 110h(-?\d+)', drawing)
    up = re.search(r'class="axis-z" d="M150 110v(-?\d+)', drawing)
    deep = re.search(r'class="axis-y-(away|towards)"', drawing)
    x = np.array([np.sign(float(along[1])), 0.0, 0.0])
    z = np.array([0.0, -np.sign(float(up[1])), 0.0])
    y = np.array([0.0, 0.0, -1.0 if deep[1] == "away" else 1.0])
    assert np.cross(x, y).tolist() == z.tolist()
    assert SIDE.right == tuple(x) and SIDE.nearness(np.array([[0.0, 1.0, 0.0]])) == y[2]
    assert "y to the car's left, away from you" in drawing.replace("&#39;", "'")


def test_without_a_book_there_is_nothing_to_walk_round_for(page):
    assert "No rule book is named" in page.get(ALL).text


def test_a_reader_sees_the_cards_and_no_form(reader, ruled):
    html = reader.get(ALL).text
    assert len(cards(html)) == 9
    assert "<form" not in html


def test_every_clause_of_the_book_is_reached_by_a_card(page, ruled):
    html = page.get(ALL).text
    asked = set(re.findall(r'name = "(test\.\w+)"', BOOK)) - {"test.licence"}
    assert {name.replace(".", "-") for name in asked} <= {
        re.sub("-(left|right)$", "", one) for one in cards(html)
    }


def test_no_card_says_pass_of_what_is_not_recorded(page, ruled):
    either = BOOK + EITHER
    seen = ruled.document("rule_books/harrow.toml").digest
    ruled.save_document("rule_books/harrow.toml", either, based_on=seen, who="", why="")
    proof(page, "test.opens", value="yes", form="witness")
    html = page.get(ALL).text
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
