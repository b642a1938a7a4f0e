"""A set-up sheet typed back in a browser: doubts asked as they are typed, chosen by a tap, saved once."""

from browser.conftest import PHONE, Served, Watching
from tintop.garage.bench import bench_of
from tintop.physics.toe import toe_over_rim


def test_a_sheet_is_typed_back_on_the_phone(served: Served, watch: Watching) -> None:
    watched = watch(viewport=PHONE)
    page = watched.page()
    page.goto(served.address + "/bench/setups/dry")
    page.locator("#toe_FL").fill("2 mm out")
    page.get_by_role("button", name="2 mm toe-out per wheel").click()
    page.locator("#pressure_cold_RR").fill("26 psi")
    page.locator("#pressure_cold_RR-understood").get_by_text("26 psi").wait_for()
    page.get_by_label("This is on the car now").check()
    page.get_by_role("button", name="Save the sheet").click()
    page.get_by_text("The sheet is saved.").wait_for()
    bench = bench_of(served.garage)
    setup, rim = bench.setups["dry"], bench.chassis.front.rim_diameter
    assert round(1e3 * toe_over_rim(setup.corners[0].toe, rim), 6) == -2.0
    assert round(setup.corners[3].pressure_cold / 6894.757, 3) == 26.0
    assert bench.fitted == "dry"
    assert watched.complaints == [] and watched.strangers == []


def test_jobs_are_compared_as_they_are_chosen(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(looked_at.address + "/bench/setups/compare?from=road&to=dry")
    page.get_by_text("Off: road tyres; on: semi-slicks.").first.wait_for()
    page.locator("#to").select_option("wet")
    page.get_by_text("Off: road tyres; on: wets.").first.wait_for()
    assert page.url.endswith("from=road&to=wet")
