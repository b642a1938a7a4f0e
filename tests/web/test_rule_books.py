"""Rule books on the page: listed, opened, copied, edited with what is wrong said."""

import pytest
from own_book import BOOK, name_the_book, proof
from test_car import words

from tintop.store.rule_books.shipped import shipped_book, shipped_ids


def test_every_shipped_book_is_listed_and_opens(page):
    html = page.get("/rule-books").text
    for id in shipped_ids():
        assert f'href="/rule-books/{id}"' in html
        text = words(page.get(f"/rule-books/{id}").text)
        for clause in shipped_book(id).clauses:
            assert words(clause.title) in text, clause.id


def test_a_book_says_where_each_figure_was_read_and_how_it_is_decided(page, garage):
    name_the_book(garage)
    text = words(page.get("/rule-books/harrow").text)
    assert "your copy" in text and "4.4" in text
    assert "from memory: nobody has read it" in text
    assert "angle_below(test.top, test.anchor)" in text and "at most: 45 deg" in text


def test_clauses_are_found_by_words(page, garage):
    name_the_book(garage)
    text = words(page.get("/rule-books/harrow?text=belt").text)
    assert "Belt in date" in text and "Helmet standard" not in text


def test_a_shipped_book_is_copied_once_and_then_decides(page, garage):
    for _time in range(2):
        answer = page.post("/rule-books/road_drive/copy")
        assert answer.status_code == 303
        assert answer.headers["location"] == "/documents/rule_books/road_drive.toml"
    assert garage.document_names("rule_books") == ("rule_books/road_drive.toml",)
    assert "your copy" in page.get("/rule-books/road_drive").text
    assert page.post("/rule-books/none_such/copy").status_code == 404


@pytest.mark.parametrize(
    "wrong", [BOOK.replace("severity", "severety", 1), BOOK.replace("45 deg", "45 mm"), "x = "]
)
def test_a_book_that_cannot_be_read_is_not_saved(page, garage, wrong):
    name = "rule_books/harrow.toml"
    answer = page.post("/documents/new", data={"name": name, "text": wrong})
    assert answer.status_code == 422
    assert "harrow.toml" in answer.text and "Traceback" not in answer.text
    assert garage.document_names("rule_books") == ()


def test_a_book_nobody_has_is_not_here(page):
    for id in ("none_such", "..%2fcar", "facts"):
        assert page.get(f"/rule-books/{id}").status_code == 404


def test_only_the_laptop_copies(crew, reader, garage):
    assert crew.post("/rule-books/road_drive/copy").status_code == 403
    assert reader.post("/rule-books/road_drive/copy").status_code == 403
    assert "Copy it" not in crew.get("/rule-books/road_drive").text
    assert garage.document_names("rule_books") == ()


def test_what_changed_between_editions_and_what_that_turns(page, garage):
    name_the_book(garage)
    proof(page, "test.opens", value="yes", form="witness")
    text = BOOK.replace('at_most = "45 deg"', 'at_most = "30 deg"').replace(
        'holds = "test.opens"', 'holds = "not test.opens"'
    )
    seen = garage.document("rule_books/harrow.toml").digest
    saved = page.post(
        "/documents/rule_books/harrow.toml", data={"text": text, "seen": seen, "why": "bulletin 2"}
    )
    assert saved.status_code == 303
    said = words(page.get("/rule-books/harrow/changes").text)
    assert "from revision 1 to revision 2" in said
    assert "45" in said and "30" in said and "Shoulder strap, side view" in said
    turns = said[said.index("What it turns") : said.index("Clauses that differ")]
    assert "Bonnet opened by marshals" in turns and "fail" in turns
    assert "Bonnet opens from outside ✓ recorded" in said
    same = words(page.get("/rule-books/harrow/changes?old=revision+2&new=revision+2").text)
    assert "No clause differs" in same


def test_a_copy_as_shipped_differs_in_nothing(page, garage):
    page.post("/rule-books/road_drive/copy")
    assert "No clause differs" in words(page.get("/rule-books/road_drive/changes").text)
    assert page.get("/rule-books/none_such/changes").status_code == 404


def test_a_new_book_is_begun_and_opened_to_be_written(page, crew, garage):
    begun = page.post("/rule-books", data={"title": "Ferrier Vale saloons", "builds_on": "road_drive"})
    assert begun.status_code == 303
    assert begun.headers["location"] == "/documents/rule_books/ferrier-vale-saloons.toml"
    assert "Ferrier Vale saloons" in page.get("/rule-books").text
    assert "Builds on road_drive" in words(page.get("/rule-books/ferrier-vale-saloons").text)
    assert (
        page.post("/rule-books", data={"title": "Ferrier Vale saloons"})
        .headers["location"]
        .endswith("-2.toml")
    )
    assert page.post("/rule-books", data={"title": ""}).status_code == 422
    assert page.post("/rule-books", data={"title": 'A "book"'}).status_code == 422
    assert page.post("/rule-books", data={"title": "x", "builds_on": "none_such"}).status_code == 422
    assert crew.post("/rule-books", data={"title": "Crew's"}).status_code == 403
    assert len(garage.document_names("rule_books")) == 2


def test_the_last_revision_against_this_one_is_what_changed(page, garage):
    name_the_book(garage)
    for at_most in ("30", "25"):
        seen = garage.document("rule_books/harrow.toml").digest
        text = BOOK.replace('at_most = "45 deg"', f'at_most = "{at_most} deg"')
        garage.save_document("rule_books/harrow.toml", text, based_on=seen, who="Robin", why="")
    said = words(page.get("/rule-books/harrow/changes").text)
    assert "from revision 2 to revision 3" in said and "30" in said and "25" in said
