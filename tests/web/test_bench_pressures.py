"""The page of the cold pressures: what stands, what is typed, and what is asked."""

import re

import pytest
from chassis_described import describe_chassis


@pytest.fixture
def bench_page(garage, page):
    describe_chassis(garage, "dry", "road", "wet")
    return page


def test_it_answers_for_the_fitted_set_up_with_four_numbers_at_the_wheels(bench_page):
    found = bench_page.get("/bench/pressures?setup=dry")
    assert found.status_code == 200
    assert "Set cold: FL" in found.text
    assert found.text.count("cold, to set") >= 2  # wide and narrow
    assert "/reading/cold-pressures" in found.text
    assert "Never below the least cold pressure" in found.text


def test_a_warmer_tyre_is_set_higher(bench_page):
    def front_left(query):
        text = bench_page.get(f"/bench/pressures?setup=dry&part=answer&{query}").text
        return float(re.search(r"Set cold: FL ([0-9.]+)", text)[1])

    assert front_left("tyres_at=30") > front_left("tyres_at=10")
    assert front_left("target_FL=2.3 bar") > front_left("target_FL=2.0 bar")
    assert front_left("air=5&tyres_at=10") > front_left("air=30&tyres_at=10")


def test_psi_typed_as_bar_is_answered_with_a_cure_at_its_field(bench_page):
    found = bench_page.get("/bench/pressures?setup=dry&target_FL=31 bar")
    assert found.status_code == 422
    assert "31 psi" in found.text and 'value="31 bar"' in found.text
    assert "Not worked out" in found.text


@pytest.mark.parametrize(
    "query", ["setup=none", "height=50000", "set_height=-9999", "air=hot", "circuit=nowhere", "tyres_at=140"]
)
def test_what_cannot_be_is_said_and_kept(bench_page, query):
    found = bench_page.get(f"/bench/pressures?{query}")
    assert found.status_code == 422
    assert 'class="problem"' in found.text


def test_without_a_chassis_it_says_what_to_do(page):
    assert "chassis.toml" in page.get("/bench/pressures").text


def test_the_road_has_its_cold_pressures(bench_page):
    found = bench_page.get("/bench/pressures?setup=road")
    assert found.status_code == 200
    assert "For the road, cold: FL" in found.text and "sticker in the door" in found.text
    assert "Cold target" in found.text and "Hot target" not in found.text
