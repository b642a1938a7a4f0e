"""The cursor across the strips, and the sliders that answer at once, as fingers and keys use them."""

import re

import pytest
from playwright.sync_api import Page, expect

from browser.conftest import PHONE, WIDE, Served, Watching
from tintop.garage.what_if import drive_with
from tintop.lap.what_if import as_it_stands
from tintop.web.formats import lap_time


@pytest.fixture
def lap_page(looked_at: Served, watch: Watching) -> Page:
    page = watch(viewport=WIDE).page()
    page.goto(f"{looked_at.address}/lap")
    expect(page.locator("#lap-strips")).to_have_attribute("tabindex", "0")
    return page


def _cursors(page: Page) -> list[str]:
    return page.eval_on_selector_all("line.cursor", "lines => lines.map(line => line.getAttribute('x1'))")


def test_keys_move_one_cursor_across_every_strip_and_the_map(lap_page: Page) -> None:
    page, read_out = lap_page, lap_page.locator("[data-read-out]")
    page.focus("#lap-strips")
    page.keyboard.press("Home")
    expect(read_out).to_contain_text("At 0 m: held back by")
    page.keyboard.press("Shift+ArrowRight")
    far = read_out.inner_text()
    assert len(set(_cursors(page))) == 1 and len(_cursors(page)) == 6
    page.keyboard.press("ArrowLeft")
    assert read_out.inner_text() != far
    page.keyboard.press("ArrowRight")
    assert read_out.inner_text() == far
    assert page.locator("#lap-map circle.cursor").get_attribute("visibility") == "visible"
    page.keyboard.press("Escape")
    expect(read_out).to_contain_text("Touch a strip")
    assert page.locator("line.cursor").first.get_attribute("visibility") == "hidden"


def test_the_pointer_reads_the_values_where_it_is(lap_page: Page) -> None:
    page = lap_page
    page.eval_on_selector("svg[data-strip=gear]", "strip => strip.scrollIntoView({block: 'center'})")
    box = page.locator("svg[data-strip=gear]").bounding_box()
    assert box
    page.mouse.move(box["x"] + 0.5 * box["width"], box["y"] + 0.5 * box["height"])
    assert _cursors(page)[0] is not None
    assert float(_cursors(page)[0].rstrip("%")) == pytest.approx(50.0, abs=0.3)


def test_a_slider_shows_the_lap_of_the_changed_car_and_reset_takes_it_back(
    looked_at: Served, lap_page: Page
) -> None:
    page = lap_page
    meeting = looked_at.garage.next_meeting()
    assert meeting is not None
    prediction = looked_at.garage.prediction(meeting)
    assert prediction is not None
    now = page.locator("[data-time]").inner_text()
    slide = page.locator("#slide-mass")
    slide.focus()
    for _ in range(30):
        page.keyboard.press("ArrowLeft")
    mass = float(page.locator("#lever-mass").input_value())
    assert mass == pytest.approx(as_it_stands(prediction.quick.described.car).mass - 30.0, abs=1.0)
    levers = as_it_stands(prediction.quick.described.car)
    lighter = drive_with(prediction, type(levers)(**{**_values(levers), "mass": mass}))
    expect(page.locator("[data-time]")).to_have_text(lap_time(lighter.lap_time))
    expect(page.locator("[data-difference]")).to_contain_text("quicker a lap")
    assert len(page.locator("path[data-changed=speed]").get_attribute("d") or "") > 500
    assert "mass=" in page.url
    page.reload()
    expect(page.locator("[data-time]")).to_have_text(lap_time(lighter.lap_time))
    page.click("[data-reset]")
    expect(page.locator("[data-time]")).to_have_text(now)
    assert page.locator("path[data-changed=speed]").get_attribute("d") == ""
    assert "mass=" not in page.url


def _values(levers: object) -> dict[str, float]:
    return {name: getattr(levers, name) for name in levers.__slots__}  # type: ignore[attr-defined]


def test_a_number_that_cannot_be_says_so_in_place_and_stays_typed(lap_page: Page) -> None:
    page = lap_page
    now = page.locator("[data-time]").inner_text()
    page.fill("#lever-grip", "9")
    expect(page.locator("#lever-grip-problem")).to_have_text(re.compile("Found 9; expected"))
    assert page.locator("#lever-grip").get_attribute("aria-invalid") == "true"
    assert page.locator("#lever-grip").input_value() == "9"
    assert page.locator("[data-time]").inner_text() == now
    page.fill("#lever-grip", page.locator("#lever-grip").get_attribute("data-now") or "")
    expect(page.locator("#lever-grip-problem")).to_be_hidden()


def test_a_finger_moves_the_cursor_of_the_race(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE, has_touch=True, is_mobile=True).page()
    page.goto(f"{looked_at.address}/race")
    expect(page.locator("#race-strips")).to_have_attribute("tabindex", "0")
    page.locator("svg[data-strip=discs]").tap()
    expect(page.locator("[data-read-out]")).to_have_text(re.compile(r"^Lap \d+: .*brake discs front \d+ °C"))


def test_without_scripts_the_charts_stand_and_the_form_works(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=WIDE, java_script_enabled=False).page()
    page.goto(f"{looked_at.address}/lap")
    assert page.locator("svg[data-strip]").count() == 6
    assert page.locator("#slide-mass").is_hidden()
    page.fill("#lever-power", "200")
    page.click("text=Work it out")
    assert "quicker a lap" in page.locator("[data-difference]").inner_text()
