"""A lap and a short race of the demo to draw, and what can be read back from an SVG."""

import re
from functools import cache
from xml.etree import ElementTree

from demo_cars import demo_car, demo_lane, demo_weather
from events import twenty_minutes
from tintop.event import Event, Stop
from tintop.lap.flying_lap import flying_lap
from tintop.lap.performance import PerformanceEnvelope, performance_envelope
from tintop.lap.trace import LapTrace
from tintop.race.lasting import Lasts, lasting
from tintop.race.march import RaceTrace, march
from tintop.race.odds import Odds, odds

STEP = 3.0
SVG = "{http://www.w3.org/2000/svg}"
NO_NUMBER = re.compile(r"(?<![a-z])(nan|inf)(?![a-z])", re.IGNORECASE)


@cache
def lap() -> LapTrace:
    return flying_lap(demo_car(), demo_lane(STEP), demo_weather())


@cache
def envelope() -> PerformanceEnvelope:
    return performance_envelope(demo_car(), demo_weather(), speeds=8, shares=9)


def event() -> Event:
    return twenty_minutes(
        stops=(Stop(at=600.0, standing=60.0, fuel_volume=0.005),),
        safety_cars_per_hour=3.0,
        safety_car_length=180.0,
        traffic_share=0.3,
    )


@cache
def race() -> RaceTrace:
    return march(demo_car(), demo_lane(STEP), event())


@cache
def chances() -> Odds:
    return odds(demo_car(), demo_lane(STEP), event(), {}, races=40)


@cache
def judged() -> tuple[Lasts, ...]:
    return lasting(demo_car(), event(), race(), chances())


def read(svg: str) -> ElementTree.Element:
    """The SVG as XML, with what every chart owes its reader checked."""
    root = ElementTree.fromstring(svg)
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    ids = [each.get("id") for each in root.iter() if each.get("id")]
    assert len(ids) == len(set(ids))
    title, description = (root.get("aria-labelledby") or "").split()
    assert root.find(f"{SVG}title[@id='{title}']").text
    assert root.find(f"{SVG}desc[@id='{description}']").text
    assert not [text for each in root.iter() for text in _numbers(each) if NO_NUMBER.search(text)]
    return root


def _numbers(element: ElementTree.Element) -> list[str]:
    """The attributes that draw; what people named stands in text, ids and labels alone."""
    return [text for name, text in element.items() if name not in ("id", "class") and "aria-" not in name]


def words(svg: str) -> list[str]:
    """Every piece of text that is text in the chart, none of it a number that is none."""
    found = ["".join(each.itertext()) for each in read(svg).iter(f"{SVG}text")]
    assert not [text for text in found if NO_NUMBER.search(text)]
    return found


def inside_view(svg: str) -> bool:
    """Whether every text starts inside the picture."""
    root = read(svg)
    _, _, width, height = map(float, root.get("viewBox").split())
    places = [
        (float(each.get("x", "0")), float(each.get("y", "0")))
        for each in root.iter(f"{SVG}text")
        if each.get("x")
    ]
    assert places
    return all(0.0 <= x <= width and 0.0 <= y <= height for x, y in places)
