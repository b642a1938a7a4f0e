"""The first questions on the page: a tap each, recorded as any proof, and fewer questions after."""

import re
from dataclasses import replace

import pytest
from own_book import name_the_book
from test_car import words

from tintop.logbook.entries import Draft
from tintop.logbook.proof_entries import ProofRecorded

FORM = re.compile(r'<form method="post" action="/legal/proofs" data-outbox.*?</form>', re.DOTALL)


@pytest.fixture
def ruled(garage):
    """The next event under a shipped book, of which nothing is recorded."""
    name_the_book(garage)
    meeting = garage.next_meeting()
    entry = next(
        entry for entry, planned in garage.book.of(type(meeting)) if planned.meeting == meeting.meeting
    )
    garage.record(
        [
            Draft(
                key="under a shipped book",
                day=garage.today(),
                who="Robin",
                matter=replace(meeting, rule_books=("united_kingdom_club",)),
                corrects=entry.number,
            )
        ]
    )
    return garage


def forms(html: str) -> dict[str, dict[str, object]]:
    found = {}
    for form in FORM.findall(html):
        fields = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form))
        found[f"{fields['fact']} {fields['each']}".strip()] = {
            "fields": fields,
            "taps": re.findall(r'<button type="submit" name="value" value="([^"]+)"', form),
        }
    return found


def test_the_drivers_are_asked_first_and_every_question_says_what_waits_for_it(page, ruled):
    html = page.get("/legal/begin").text
    asked = forms(html)
    assert 12 <= len(asked) <= 15 and next(iter(asked)) == "drivers"
    assert len(re.findall(r"\d+ clauses? waits? for it", words(html))) == len(asked)
    counted = [int(found) for found in re.findall(r"(\d+) clauses? waits? for it", words(html))]
    assert counted[1:] == sorted(counted[1:], reverse=True)
    assert re.search(r"\d+ of \d+ clauses apply to your car", words(html))


def test_a_tap_is_a_proof_by_ones_own_word_and_the_question_is_gone(page, ruled):
    asked = forms(page.get("/legal/begin").text)
    fact, form = next((name, one) for name, one in asked.items() if one["taps"] == ["yes", "no"])
    saved = page.post("/legal/proofs", data={**form["fields"], "value": "no"})
    assert saved.status_code == 303 and saved.headers["location"].startswith("/legal/begin?saved=")
    (proof,) = [proof for _entry, proof in ruled.book.of(ProofRecorded)]
    assert (proof.fact, proof.values, proof.form) == (fact, (0.0,), "witness")
    assert fact not in forms(page.get("/legal/begin").text)


def test_answers_settle_more_clauses_each_time(page, ruled):
    def unknown() -> int:
        found = re.search(r"of (\d+) it is not known yet", words(page.get("/legal/begin").text))
        return int(found[1]) if found else 0

    before = unknown()
    for form in forms(page.get("/legal/begin").text).values():
        fields = form["fields"]
        value = form["taps"][-1] if form["taps"] else "Robin" if fields["fact"] == "drivers" else ""
        if value:
            answer = page.post(
                "/legal/proofs", data={**fields, "value": value}, headers={"Accept": "application/json"}
            )
            assert answer.status_code == 200, answer.text
    assert unknown() < before / 2


def test_legal_and_the_walk_lead_there_while_many_conditions_are_open(page, ruled, reader):
    for path in ("/legal", "/legal/walk"):
        assert 'href="/legal/begin' in page.get(path).text
    looking = reader.get("/legal/begin")
    assert looking.status_code == 200 and not forms(looking.text)


def test_without_books_it_says_what_to_do_first(page, garage):
    text = words(page.get("/legal/begin").text)
    assert "Name the event's rule books first" in text.replace("&#39;", "'")
