"""I have read this figure: on the pages, into the garage's copy of the book, by the owner alone."""

import re

import pytest
from own_book import BOOK, name_the_book, proof
from test_car import words

from tintop.rules.book import Read
from tintop.store.rule_books.shipped import shipped_book, shipped_text

SHIPPED = "united_kingdom_club"
CLAUSE = next(clause for clause in shipped_book(SHIPPED).clauses if clause.read is Read.MEMORY)
HARROW = "rule_books/harrow.toml"


@pytest.fixture
def ruled(garage, page):
    name_the_book(garage)
    proof(page, "test.height", value="260", unit="mm", form="measurement")
    return garage


def sent(html: str, clause: str) -> dict[str, str]:
    """The hidden fields of the form of a clause, as the page has them."""
    forms = re.findall(r'<form[^>]*class="verify".*?</form>', html, flags=re.S)
    form = next(each for each in forms if f'name="clause" value="{clause}"' in each)
    return dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form))


def note(page, id: str, html: str, clause: str, **typed: str):
    data = {**sent(html, clause), "edition": "Yearbook 2026", "by": "Robin", **typed}
    return page.post(f"/rule-books/{id}/verify", data=data)


def test_the_figure_stands_in_the_form_and_once_noted_the_clause_passes(page, ruled):
    html = page.get("/legal").text
    form = html[html.index("I have read this figure") :]
    assert "at least: 230 mm" in words(form) and "test.height" in form
    answer = note(page, "harrow", html, "number-height", day="2026-06-01")
    assert answer.status_code == 303
    text = ruled.document(HARROW).text
    assert "verified_on = 2026-06-01" in text and 'verified_by = "Robin"' in text
    assert "read and verified in Yearbook 2026" in text
    after = page.get(answer.headers["location"]).text
    assert "Noted in your copy of Harrow Down series: Height of numbers, read by Robin" in words(after)
    assert "Figure from memory" not in after
    assert re.search(r'id="passed-numbers"', after)


def test_the_edition_read_last_is_offered_for_the_next(page, ruled):
    text = BOOK.replace('id = "plate-area"', 'id = "plate-area"\n').replace(
        'reference = "4.5"\nseverity = "advice"\nknown = "own"',
        'reference = "4.5"\nseverity = "advice"\nknown = "memory"',
    )
    seen = ruled.document(HARROW).digest
    ruled.save_document(HARROW, text, based_on=seen, who="", why="")
    note(page, "harrow", page.get("/rule-books/harrow").text, "number-height")
    assert 'value="Yearbook 2026"' in page.get("/rule-books/harrow").text


def test_over_a_copy_changed_meanwhile_nothing_is_noted_and_the_figure_is_shown_as_it_stands(page, ruled):
    html = page.get("/legal").text
    before = ruled.document(HARROW)
    changed = before.text.replace("230 mm", "250 mm")
    ruled.save_document(HARROW, changed, based_on=before.digest, who="Sam", why="bulletin")
    answer = note(page, "harrow", html, "number-height")
    assert answer.status_code == 409
    said = words(answer.text)
    assert "Nothing was noted" in said and "at least: 250 mm" in said
    assert 'value="Yearbook 2026"' in answer.text
    assert ruled.document(HARROW).text == changed
    assert note(page, "harrow", answer.text, "number-height").status_code == 303


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"edition": ""}, "Found nothing; this is needed."),
        ({"by": ""}, "Found nothing; this is needed."),
        ({"edition": "2026; K"}, "without ;"),
        ({"day": "2027-01-01"}, "a day to come"),
        ({"day": "soon"}, "soon"),
    ],
)
def test_what_is_wrong_is_said_beside_it_and_nothing_is_written(page, ruled, typed, said):
    before = ruled.document(HARROW).text
    answer = note(page, "harrow", page.get("/legal").text, "number-height", **typed)
    assert answer.status_code == 422
    assert said in words(answer.text)
    assert ruled.document(HARROW).text == before


def test_of_a_shipped_book_a_copy_is_made_first(page, garage):
    html = page.get(f"/rule-books/{SHIPPED}").text
    assert "From then on it goes before the shipped one" in words(html)
    answer = note(page, SHIPPED, html, CLAUSE.id)
    assert answer.status_code == 303
    assert garage.document_names("rule_books") == (f"rule_books/{SHIPPED}.toml",)
    after = page.get(answer.headers["location"]).text
    assert "Noted in your copy" in words(after) and f'id="read-{CLAUSE.id}"' not in after


def test_a_copy_older_than_the_shipped_book_says_so(page, garage, monkeypatch):
    page.post(f"/rule-books/{SHIPPED}/copy")
    said = "he shipped edition has changed since your copy"
    assert said not in words(page.get(f"/rule-books/{SHIPPED}").text + page.get("/rule-books").text)
    monkeypatch.setattr("tintop.store.rule_books.copying.shipped_text", lambda id: shipped_text(id) + "\n")
    assert said in words(page.get(f"/rule-books/{SHIPPED}").text)
    assert said in words(page.get("/rule-books").text)


def test_what_the_regulation_says_otherwise_is_edited_at_its_line(page, garage):
    for _time in range(2):
        answer = page.post(f"/rule-books/{SHIPPED}/copy", data={"clause": CLAUSE.id})
        place, _, line = answer.headers["location"].partition("?line=")
        assert place == f"/documents/rule_books/{SHIPPED}.toml"
        lines = garage.document(f"rule_books/{SHIPPED}.toml").text.split("\n")
        assert lines[int(line) - 1 : int(line) + 1] == ["[[clause]]", f'id = "{CLAUSE.id}"']


def test_nobody_but_the_owner_notes_a_figure(crew, reader, page, ruled):
    html = page.get("/legal").text
    for visitor in (crew, reader):
        assert 'class="verify"' not in visitor.get("/legal").text
        assert "on the laptop itself" in words(visitor.get("/legal").text)
        assert 'class="verify"' not in visitor.get("/rule-books/harrow").text
        assert note(visitor, "harrow", html, "number-height").status_code == 403
        assert visitor.get("/rule-books/harrow/verify?clause=number-height").status_code == 403


def test_a_clause_there_is_not_or_that_is_known_has_no_form(page, ruled):
    for id, clause in (("harrow", "none"), ("harrow", "bonnet"), ("none_such", "bonnet")):
        assert page.get(f"/rule-books/{id}/verify?clause={clause}").status_code == 404
        assert page.post(f"/rule-books/{id}/verify", data={"clause": clause}).status_code == 404
    assert page.get("/rule-books/harrow/verify?clause=number-height").status_code == 200


def test_the_way_back_leads_nowhere_else(page, ruled):
    html = page.get("/legal").text
    answer = note(page, "harrow", html, "number-height", back="https://elsewhere.example/")
    assert answer.headers["location"].startswith("/?")
