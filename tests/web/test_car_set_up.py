"""The set-up put on the car shows on its page, and home says what is predicted for another."""

import html
import re

from chassis_described import describe_chassis
from test_car import put

from tintop.logbook.entries import Measure, Reading, SetupChanged

WET_ON = SetupChanged(item="set-up", written="wet")


def _words(found) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", found.text)).split())


def test_the_set_up_put_on_stands_on_the_page_of_the_car_by_its_sheet(garage, page):
    describe_chassis(garage, "dry", "wet")
    put(garage, SetupChanged(item="camber", corner="FL", value=-0.0506, written="-2.9", quantity="angle"))
    put(garage, WET_ON, key="on")
    said = _words(page.get("/car"))
    assert "by the sheet Wet circuit" in said
    assert "tyres wets" in said and "camber by the sheet, 1 Jun" in said
    assert "−2.9°" not in said.split("Set-up", 1)[1].split("What changed last")[0]


def test_a_pressure_read_after_the_set_up_was_put_on_wins_over_its_sheet(garage, page):
    describe_chassis(garage, "dry", "wet")
    read = Reading(measure=Measure.PRESSURE_COLD, value=171000.0, written="1.71", corner="FL")
    put(garage, read, key="before")
    assert "24.8 psi" in _words(page.get("/car"))
    put(garage, WET_ON, key="on")
    assert "24.8 psi" not in _words(page.get("/car"))
    put(garage, read, key="after")
    assert "24.8 psi" in _words(page.get("/car"))


def test_home_says_that_the_lap_is_predicted_for_another_set_up(garage, page):
    describe_chassis(garage, "dry", "wet")
    put(garage, SetupChanged(item="set-up", written="dry"), key="dry")
    assert "Predicted with the" not in _words(page.get("/"))
    put(garage, WET_ON, key="wet")
    said = page.get("/").text
    assert "camber" in said and "Wet circuit, on the car, has others" in said
    assert 'href="/bench/setups/wet"' in said
