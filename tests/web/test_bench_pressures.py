"""The page of the cold pressures: what stands, what is typed, and what is asked."""

import re

import pytest
from chassis_described import describe_chassis

from tintop.garage.bench import bench_of
from tintop.garage.keep_pressures import keep_cold
from tintop.logbook.entries import Draft, SetupChanged


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


def _cold(text):
    return [
        float(each)
        for each in re.findall(r"(?:FL|FR|RL|RR) ([0-9.]+)", text.split("Set cold: ")[1].split(";")[0])
    ]


def test_page_and_sheet_name_each_other_and_today_is_taken_onto_the_sheet(garage, bench_page):
    page = bench_page.get("/bench/pressures?setup=dry&tyres_at=10")
    assert "The sheet Dry circuit says FL" in page.text and "today" in page.text
    assert "The sheet Dry circuit says FL" in bench_page.get("/bench/setups/dry").text
    seen = re.search(r'name="seen" value="([^"]+)"', page.text)[1]
    sent = {"seen": seen, "setup": "dry", "tyres_at": "10"}
    assert bench_page.post("/bench/pressures/keep", data=sent).status_code == 303
    kept = [one.pressure_cold / 6894.757 for one in bench_of(garage).setups["dry"].corners]
    assert kept == pytest.approx(_cold(page.text), abs=0.06)
    again = bench_page.get("/bench/pressures?setup=dry&tyres_at=10").text
    assert "The sheet Dry circuit has the same cold pressures" in again
    assert "/bench/pressures/keep" not in again
    older = {**sent, "tyres_at": "25"}
    assert bench_page.post("/bench/pressures/keep", data=older).status_code == 409, "saved meanwhile"


def test_a_pressure_changed_since_the_set_up_was_put_on_is_changed_on_the_car_too(garage, bench_page):
    changes = [
        SetupChanged(item="set-up", written="dry"),
        SetupChanged(item="cold pressure", corner="FL", value=180000.0, quantity="pressure"),
    ]
    garage.record(
        [Draft(key=f"on {n}", day=garage.today(), who="Robin", matter=each) for n, each in enumerate(changes)]
    )
    cold = [150000.0, 151000.0, 160000.0, 161000.0]
    seen = garage.document("setups/dry.toml").digest
    keep_cold(garage, bench_of(garage), "dry", cold, based_on=seen, who="Robin")
    bench = bench_of(garage)
    for found in (bench.setups["dry"], bench.as_written["dry"]):
        assert [one.pressure_cold for one in found.corners] == pytest.approx(cold, abs=400.0)
