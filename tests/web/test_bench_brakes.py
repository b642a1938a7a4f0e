"""The page of the brakes: unsafe is said first, and turns, grip and pads are turned live."""

import re

import pytest
from chassis_described import describe_chassis


@pytest.fixture
def bench_page(garage, page):
    describe_chassis(garage, "dry", "road", "wet")
    return page


def front_share(page, query):
    text = page.get(f"/bench/brakes?setup=dry&part=answer&{query}").text
    return float(re.search(r"front share of the brake force</th><td class=\"num\">([0-9.]+)", text)[1])


def test_a_rear_that_locks_first_is_called_unsafe(bench_page):
    found = bench_page.get("/bench/brakes?setup=dry&friction=1.2&turns=-12")
    assert found.status_code == 200
    assert "Unsafe: the rear locks first" in found.text
    assert "UNSAFE: on a dry road of grip 1.20 the rear axle locks first" in found.text
    assert found.text.count("<svg") >= 4
    assert "faster than anybody steers" in found.text


def test_on_little_grip_the_same_car_is_front_first(bench_page):
    found = bench_page.get("/bench/brakes?setup=dry&friction=0.25")
    assert "the front axle locks first" in found.text


def test_turns_towards_the_front_and_cooler_rear_pads_move_the_share(bench_page):
    assert front_share(bench_page, "turns=2") > front_share(bench_page, "turns=-3")
    assert front_share(bench_page, "front_temp=700") < front_share(bench_page, "front_temp=400")
    assert front_share(bench_page, "knee=20") != front_share(bench_page, "knee=0")


def test_each_set_of_pads_goes_through_the_race_when_asked(bench_page):
    found = bench_page.get("/bench/brakes?setup=dry&event=midsummer&circuit=larkmoor&part=answer")
    assert found.status_code == 200
    assert "Through the race" in found.text and "fast-road pads" in found.text


@pytest.mark.parametrize(
    "query", ["setup=none", "turns=40", "turns=lots", "friction=9", "event=nowhere", "front_temp=4000"]
)
def test_what_cannot_be_is_said_and_kept(bench_page, query):
    found = bench_page.get(
        f"/bench/brakes?setup=dry&{query}" if "setup" not in query else f"/bench/brakes?{query}"
    )
    assert found.status_code == 422
    assert 'class="problem"' in found.text


def test_without_a_chassis_it_says_what_to_do(page):
    assert "chassis.toml" in page.get("/bench/brakes").text


def test_the_lock_order_stands_before_the_drawings_and_what_is_assumed_is_listed(bench_page):
    text = bench_page.get("/bench/brakes?setup=dry").text
    places = [text.index(each) for each in ("Which axle locks first</h2>", "<svg", "Pads by temperature")]
    assert places == sorted(places)
    assert "Assumed, not measured:" in text and "pad friction front and rear" in text


def test_nothing_rearward_is_offered_for_the_road(bench_page):
    assert "to the rear (at" not in bench_page.get("/bench/brakes?setup=road").text
