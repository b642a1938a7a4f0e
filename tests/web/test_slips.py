"""A figure that is likely a slip is asked before it is kept; what cannot be is refused."""

import re

import pytest
from own_book import name_the_book, proof

from tintop.logbook.proof_entries import ProofRecorded

CLEARANCE = "body.ground_clearance"


@pytest.fixture
def ruled(garage):
    name_the_book(garage)
    return garage


def kept(garage) -> list[str]:
    return [found.written for _entry, found in garage.book.of(ProofRecorded)]


def test_ten_times_the_last_is_asked_and_kept_once_it_is_said_to_be_right(page, ruled):
    assert proof(page, CLEARANCE, value="56", unit="mm", form="measurement").status_code == 200
    asked = proof(page, CLEARANCE, value="630", unit="mm", form="measurement")
    assert asked.status_code == 422 and asked.json()["is_asked"] is True
    assert "630 mm? The last was 56 mm; usual is 40 mm to 200 mm." in asked.json()["sentence"]
    assert kept(ruled) == ["56 mm"]
    sure = proof(page, CLEARANCE, value="630", unit="mm", form="measurement", sure="yes")
    assert sure.status_code == 200 and kept(ruled) == ["56 mm", "630 mm"]


def test_the_last_is_not_the_entry_that_is_corrected(page, ruled):
    slip = proof(page, "test.height", value="2360", unit="mm", form="measurement").json()["entry"]
    right = proof(page, "test.height", value="236", unit="mm", form="measurement", corrects=str(slip))
    assert right.status_code == 200 and kept(ruled) == ["236 mm"]


@pytest.mark.parametrize("fact", ["harness.bar_tube", "cage.main_hoop_tube"])
def test_a_tube_ten_times_too_big_is_asked(page, ruled, fact):
    asked = proof(page, fact, value="380 x 25 mm", form="measurement")
    assert asked.status_code == 422 and "380 x 25 mm? Usual is" in asked.json()["sentence"]


def test_less_than_nothing_is_refused_whatever_is_ticked(page, ruled):
    refused = proof(page, CLEARANCE, value="-63", unit="mm", form="measurement", sure="yes")
    assert refused.status_code == 422 and refused.json()["is_asked"] is False
    assert "-63 mm is less than nothing" in refused.json()["sentence"] and kept(ruled) == []


def test_a_check_in_the_future_is_refused_and_an_end_is_not(page, ruled):
    typed = {"day_marked": "25", "month": "11", "year": "2062", "form": "label"}
    refused = proof(page, "fire.hand_checked", **typed)
    assert refused.status_code == 422
    assert "25 November 2062 is still to come, on 15 June 2026" in refused.json()["sentence"]
    assert proof(page, "fire.hand_end", **typed).status_code == 200
    assert kept(ruled) == ["2062-11-25"]


def test_without_script_the_form_comes_back_with_the_question_and_a_box_to_tick(page, ruled):
    data = {"key": "k1", "fact": CLEARANCE, "value": "630", "unit": "mm", "form": "measurement"}
    back = page.post("/legal/proofs", data=data)
    assert back.status_code == 422 and "630 mm? Usual is 40 mm to 200 mm." in back.text
    shown = re.search(r'<div class="sure"( hidden)?>.*?</div>', back.text, re.DOTALL)
    assert shown is not None and not shown[1] and 'name="sure" value="yes"' in shown[0]
    assert page.post("/legal/proofs", data={**data, "sure": "yes"}).status_code == 303


def test_while_it_is_typed_a_day_to_come_is_told(page, ruled):
    query = {"fact": "fire.hand_checked", "year": "2062"}
    assert "still to come" in page.get("/legal/understood", params=query).text
