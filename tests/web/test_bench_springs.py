"""Springs and bars on the page: what is turned, what is asked back, and the map."""

import pytest
from chassis_described import describe_chassis


@pytest.fixture
def bench(garage, page):
    describe_chassis(garage, "dry", "road")
    return page


def answer(bench, **typed):
    typed = {"setup": "dry", "circuit": "", **typed}
    return bench.get("/bench/springs", params={**typed, "part": "answer"})


def test_the_page_stands_as_the_set_up_does(bench):
    found = bench.get("/bench/springs?setup=dry&circuit=")
    assert found.status_code == 200
    assert 'name="front_spring" value="70"' in found.text
    assert "Hz in front" in found.text
    assert "Name a circuit" in found.text
    assert 'href="/bench/springs?setup=road"' in found.text
    assert found.text.count("<svg") == 2


def test_a_stiffer_spring_changes_what_is_said(bench):
    before, after = answer(bench), answer(bench, front_spring="90")
    assert before.status_code == after.status_code == 200
    assert "90.0 N/mm at the spring" in after.text
    assert "70.0 N/mm at the spring" in before.text


def test_pounds_an_inch_are_asked_about_at_their_field_and_taken_with_their_unit(bench):
    asked = answer(bench, front_spring="400")
    assert asked.status_code == 422
    assert 'data-problem="front_spring"' in asked.text
    assert "Is it 400 lb/in, which is 70.05 N/mm" in asked.text
    assert answer(bench, front_spring="400 lb/in").status_code == 200
    whole = bench.get("/bench/springs?setup=dry&circuit=&front_spring=400")
    assert whole.status_code == 422
    assert 'value="400"' in whole.text


def test_a_bar_is_unhooked_moved_or_made_up(bench):
    unhooked = answer(bench, rear_bar="24 mm, three holes, unhooked")
    assert "the bar holds 0 %" in unhooked.text
    made_up = answer(bench, front_other_bar="400")
    assert made_up.status_code == 200
    assert made_up.text != answer(bench).text
    assert answer(bench, front_other_bar="99999").status_code == 422
    assert answer(bench, rear_bar="hole 9").status_code == 422


def test_round_a_circuit_it_says_what_a_step_is_worth_and_draws_the_map(bench):
    found = answer(bench, circuit="larkmoor", map="springs")
    assert found.status_code == 200
    assert "One change at a time" in found.text
    assert 'id="map-wide-title"' in found.text
    assert "bump 5" in found.text


def test_a_map_needs_a_circuit(bench):
    found = answer(bench, map="bars")
    assert found.status_code == 422
    assert 'data-problem="map"' in found.text


def test_a_garage_without_a_chassis_is_told_what_to_do(page):
    assert 'href="/documents/new?name=chassis.toml"' in page.get("/bench/springs").text


def test_a_reader_sees_it_too(bench, reader):
    assert reader.get("/bench/springs?setup=dry&circuit=").status_code == 200


def test_a_set_up_that_is_not_there_is_said(bench):
    found = bench.get("/bench/springs?setup=dri")
    assert found.status_code == 422
    assert "Did you mean dry?" in found.text


def test_the_class_defaults_it_took_are_listed_on_the_page_and_in_its_part(bench):
    whole = bench.get("/bench/springs?setup=dry&circuit=")
    for found in (whole, answer(bench)):
        assert 'id="fold-assumed"' in found.text
        assert "suspension, roll centre height front" in found.text
