"""A garage just begun: every page opens, nothing is made up, and it says what to do first."""

from datetime import date

import pytest
from fastapi.testclient import TestClient
from test_car import words

from tintop.garage.keeper import Garage
from tintop.settings import Settings
from tintop.store.starting import start_garage
from tintop.web.app import make_app

PAGES = (
    "/", "/legal", "/legal/begin", "/legal/dates", "/legal/accident", "/legal/fact/harness.label",
    "/rule-books", "/car", "/car/mass", "/lap", "/race", "/events", "/ready", "/costs", "/circuits",
    "/papers", "/history", "/calculators", "/cage", "/cage/new", "/devices", "/documents",
    "/documents/car.toml",
)  # fmt: skip


@pytest.fixture
def begun(tmp_path):
    store = start_garage(tmp_path / "garage", Settings(title="My car", owner="Robin"))
    garage = Garage(store, today=lambda: date(2026, 6, 9))
    yield TestClient(
        make_app(garage),
        base_url="http://127.0.0.1:8080",
        client=("127.0.0.1", 50000),
        headers={"Accept": "text/html", "Origin": "http://127.0.0.1:8080"},
    )
    garage.close()


@pytest.mark.parametrize("path", PAGES)
def test_every_page_opens(begun, path):
    answer = begun.get(path)
    assert answer.status_code == 200
    assert "Traceback" not in answer.text and "cannot be drawn" not in answer.text
    assert "The demo: car, entries" not in answer.text


def test_the_walk_leads_to_what_is_first(begun):
    assert "Plan an event first" in words(begun.get("/legal/walk").text)


def test_home_says_what_to_do_first_in_order(begun):
    html = begun.get("/").text
    places = [
        html.index(f'href="{path}"', html.index("What to do first"))
        for path in ("/events", "/legal/begin", "/legal/walk", "/documents/car.toml")
    ]
    assert places == sorted(places)


def test_a_car_not_described_is_asked_for_and_not_refused(begun):
    assert "The car is not described yet" in words(begun.get("/car").text)


def test_no_answer_is_given_about_no_event(begun):
    for name in ("legal", "ready", "quick", "lasting", "affordable"):
        answer = begun.get(f"/answers/{name}")
        assert answer.status_code == 422 and "event" in answer.text and "Traceback" not in answer.text


def test_the_demo_is_called_one_on_every_page(tmp_path):
    store = start_garage(tmp_path / "garage", Settings(title="Lantern", is_demo=True))
    garage = Garage(store)
    page = TestClient(
        make_app(garage),
        base_url="http://127.0.0.1:8080",
        client=("127.0.0.1", 50000),
        headers={"Accept": "text/html"},
    )
    for path in ("/", "/legal", "/car"):
        assert "The demo: car, entries and proofs are invented." in page.get(path).text
    garage.close()
