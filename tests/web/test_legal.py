"""Is it legal: the findings for an event in words, sorted, found again; what a reader sees."""

import re

import pytest
from own_book import BOOK, name_the_book, proof
from test_car import words

ANCHOR = {"x": "-300", "y": "100", "z": "-50", "form": "measurement"}


@pytest.fixture
def ruled(garage):
    """The garage with a rule book named for its events."""
    name_the_book(garage)
    return garage


def test_without_a_book_it_is_not_proven_and_says_where_to_name_one(page):
    html = page.get("/legal").text
    assert "Not proven: no rule book is named for this event" in words(html)
    assert 'href="/events/midsummer"' in html


def test_every_clause_stands_under_its_heading(page, ruled):
    html = page.get("/legal").text
    assert "No evidence yet" in html and "Passed" not in html
    assert html.count('<details class="finding"') == BOOK.count("[[clause]]")
    assert "Harrow Down series" in html and "4.1" in html


def test_a_value_beyond_its_limit_stops_the_car_with_what_to_do(page, ruled):
    proof(page, "test.top", x="0", y="100", z="0", form="measurement")
    assert proof(page, "test.anchor", "right", **ANCHOR).status_code == 200
    steep = {**ANCHOR, "x": "-100", "z": "-300"}
    assert proof(page, "test.anchor", "left", **steep).status_code == 200
    html = page.get("/legal").text
    text = words(html)
    assert text.index("Not legal") < text.index("What stops you")
    assert "Move the anchor up or back." in text and "A steep strap pushes down on the spine." in text
    assert "71.6" in text and "45" in text  # atan(300/100) in degrees, against its limit
    assert 'href="/legal/fact/test.anchor?event=midsummer"' in html


def test_figures_from_memory_stand_apart_and_never_pass(page, ruled):
    proof(page, "test.height", value="260", unit="mm", form="measurement")
    html = page.get("/legal").text
    start = html.index("Figure from memory: read it in your regulations")
    assert html.index("Height of numbers", start) > start
    assert "ruling-pass" not in html[start:]


def test_what_passes_is_folded_by_group(page, ruled):
    proof(page, "test.opens", value="yes", form="witness")
    html = page.get("/legal").text
    passed = html[html.index("<h2>Passed") :]
    assert re.search(r'<details class="passes" id="passed-body"><summary>.*Body', passed)
    assert "Bonnet opened by marshals" in passed


@pytest.mark.parametrize(
    ("query", "there", "gone"),
    [("group=kit", "Helmet standard", "Belt in date"), ("text=belt+label", "Belt in date", "Helmet standard"),
     ("group=kit&text=nothing", "Nothing in the books is like that", "Helmet standard")],
)  # fmt: skip
def test_findings_are_found_by_group_and_words(page, ruled, query, there, gone):
    text = words(page.get(f"/legal?{query}").text).replace(" Harrow Down series", "")
    assert there in text
    assert gone not in text


def test_home_leads_here(page, ruled):
    assert 'href="/legal"' in page.get("/").text


def test_home_has_the_few_cautions_that_always_hold_and_legal_has_all(page, ruled):
    home, legal = words(page.get("/").text), words(page.get("/legal").text)
    of_the_book = "A working aid of figures, never the regulations."
    always = ("Only the event's licensed scrutineer decides", "After any crash or hard hit")
    for caution in always:
        assert caution in home and caution in legal
    assert of_the_book in legal and of_the_book not in home
    assert "has the cautions of every rule book in force" in home


def test_met_but_for_what_nobody_has_read_never_looks_as_if_all_were_proven(page, garage):
    start, end = BOOK.index('[[clause]]\nid = "number-height"'), BOOK.index('[[clause]]\nid = "plate-area"')
    alone = BOOK[: BOOK.index("[[clause]]")] + BOOK[start:end].replace("must be mended", "advice")
    name_the_book(garage, alone)
    proof(page, "test.height", value="260", unit="mm", form="measurement")
    html = page.get("/legal").text
    assert "1 by figures from memory that nobody has read" in words(html)
    assert "<h2>Passed" not in html


def test_a_reason_does_not_repeat_the_title_above_it(page, ruled):
    html = page.get("/legal").text
    assert "Height of numbers: not recorded" not in words(html)
    assert re.search(r'<p class="reason"><strong>Not recorded', html)


def test_on_paper_each_open_item_has_clause_and_what_to_do_without_unfolding(page, ruled):
    html = page.get("/legal").text
    lines = [words(each) for each in re.findall(r'<span class="paper-line">.*?</summary>', html, flags=re.S)]
    assert len(lines) == html.count('<details class="finding"')
    assert any("4.1, Harrow Down series." in line and "To do: Record:" in line for line in lines)


def test_another_event_is_asked_for_by_name(page, ruled):
    assert "Spring Two Hours" in page.get("/legal?event=spring").text
    assert page.get("/legal?event=elsewhere").status_code == 404


def test_a_book_that_cannot_be_read_is_said_and_nothing_passes(page, garage):
    name_the_book(garage)
    (garage.folder / "rule_books" / "harrow.toml").write_text("[book]\nid = 3\n")
    garage.look_outside()
    answer = page.get("/legal")
    assert answer.status_code == 200
    assert "harrow" in answer.text and "✓" not in answer.text


def test_a_reader_looks_and_is_offered_nothing_to_write(reader, ruled):
    html = reader.get("/legal").text
    assert "Hit something?" not in html and 'class="missing' not in html
    assert "<form" not in re.sub(r'<form method="get".*?</form>', "", html, flags=re.S)
