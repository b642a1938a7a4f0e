"""A set-up sheet typed back in a browser: doubts asked as they are typed, chosen by a tap, saved once."""

from browser.conftest import PHONE, Served, Watching
from tintop.garage.bench import bench_of
from tintop.physics.toe import toe_over_rim


def test_a_sheet_is_typed_back_on_the_phone(served: Served, watch: Watching) -> None:
    watched = watch(viewport=PHONE)
    page = watched.page()
    page.goto(served.address + "/bench/setups/dry")
    page.get_by_text("Type the sheet back").click()
    page.locator("#toe_FL").fill("2")
    page.get_by_role("button", name="2 mm toe-out per wheel").click()
    page.locator("#ride_height_FL").fill("12 in")
    page.get_by_role("button", name="128 mm").click()
    page.locator("#bump_FL").fill("17")
    page.locator("#bump_FL-understood").get_by_text("0 to 16 clicks").wait_for()
    page.locator("#bump_FL").fill("4 from hard")
    page.locator("#bump_FL-understood").get_by_text("12 clicks from full soft").wait_for()
    page.get_by_role("button", name="Front right as left").click()
    assert page.locator("#bump_FR").input_value() == "4 from hard"
    page.locator("#pressure_cold_RR").fill("26 psi")
    page.locator("#pressure_cold_RR-understood").get_by_text("26 psi").wait_for()
    page.get_by_label("This is on the car now").check()
    page.get_by_role("button", name="Save the sheet").click()
    page.get_by_text("The sheet is saved.").wait_for()
    bench = bench_of(served.garage)
    setup, rim = bench.setups["dry"], bench.chassis.front.rim_diameter
    for one in setup.corners[:2]:
        assert round(1e3 * toe_over_rim(one.toe, rim), 6) == -2.0
        assert one.bump == 12
    assert round(setup.corners[3].pressure_cold / 6894.757, 3) == 26.0
    assert bench.fitted == "dry"
    assert watched.complaints == [] and watched.strangers == []


def test_jobs_are_compared_as_they_are_chosen(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(looked_at.address + "/bench/setups/compare?from=road&to=dry")
    page.get_by_role("link", name="What it stands on").click()
    page.get_by_text("Off: road tyres; on: semi-slicks.").first.wait_for()
    page.locator("#to").select_option("wet")
    page.get_by_text("Off: road tyres; on: wets.").first.wait_for()
    assert page.url.endswith("from=road&to=wet")
