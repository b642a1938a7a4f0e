"""Hit something: written down, and what was proven before it is asked for anew."""

import pytest
from own_book import name_the_book, proof
from test_car import words

from tintop.logbook.proof_entries import AccidentHappened

ANCHOR = {"x": "-300", "y": "100", "z": "-50", "form": "measurement"}


@pytest.fixture
def ruled(garage):
    name_the_book(garage)
    return garage


def hit(page, **typed: str):
    return page.post(
        "/legal/accident", data={"key": "hit", "what": "Tyre wall at turn 4", "force": "hard", **typed}
    )


def test_after_a_hard_hit_the_belts_are_not_proven(page, ruled):
    proof(page, "test.top", x="0", y="100", z="0", form="measurement")
    for side in ("left", "right"):
        proof(page, "test.anchor", side, **ANCHOR)
    assert "Shoulder strap, side view" in words(page.get("/legal").text).partition("Passed")[2]
    assert hit(page).status_code == 303
    text = words(page.get("/legal").text)
    assert "Hit hard on Mon 15 June 2026" in text
    assert "Shoulder strap, side view" not in text.partition("Passed")[2]


def test_a_light_one_takes_nothing_away(page, ruled):
    proof(page, "test.top", x="0", y="100", z="0", form="measurement")
    for side in ("left", "right"):
        proof(page, "test.anchor", side, **ANCHOR)
    assert hit(page, force="light", meeting="spring", day="2026-04-18").status_code == 303
    assert "Shoulder strap, side view" in words(page.get("/legal").text).partition("Passed")[2]
    ((entry, found),) = ruled.book.of(AccidentHappened)
    assert (found.is_hard, found.meeting, entry.day.isoformat()) == (False, "spring", "2026-04-18")
    assert "Tyre wall at turn 4" in page.get("/legal/accident").text


@pytest.mark.parametrize("wrong", [{"what": ""}, {"force": ""}, {"force": "so so"}, {"meeting": "midsummer"},
                                   {"day": "2027-01-01"}, {"day": "soon"}])  # fmt: skip
def test_what_is_missing_or_wrong_writes_nothing(page, ruled, wrong):
    assert hit(page, **wrong).status_code == 422
    assert list(ruled.book.of(AccidentHappened)) == []


def test_sent_twice_it_happened_once(page, crew, reader, ruled):
    assert hit(page).status_code == hit(crew).status_code == 303
    assert hit(reader).status_code == 403
    assert len(list(ruled.book.of(AccidentHappened))) == 1
