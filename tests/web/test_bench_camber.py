"""The page of camber and strut: the top moved live, other ends and circuits, and what cannot be."""

import re

import pytest
from chassis_described import describe_chassis

from tintop.circuit.path import path_along


@pytest.fixture
def bench_page(garage, page, monkeypatch):
    """The page of a garage with a chassis; the line round a circuit is its centre line, found at once."""
    monkeypatch.setattr(
        "tintop.garage.setup_effects.driven_path", lambda _car, read, _weather, **_rest: path_along(read)
    )
    describe_chassis(garage, "dry", "road", "wet")
    return page


def test_a_garage_without_chassis_is_told_what_to_do(page):
    assert 'href="/documents/new?name=chassis.toml"' in page.get("/bench/camber").text


def test_as_the_car_stands(bench_page, reader):
    found = bench_page.get("/bench/camber?setup=dry")
    assert found.status_code == 200
    assert 'min="-20.0" max="6.0"' in found.text
    assert found.text.count("<svg") == 6
    for words in ("king pin", "Camber to the road at the limit", "off the inner edge"):
        assert words in found.text
    assert "style=" not in found.text
    assert reader.get("/bench/camber?setup=dry").status_code == 200


def test_the_top_moved_changes_the_answer_alone(bench_page):
    def camber(query):
        text = bench_page.get(f"/bench/camber?setup=dry&part=answer&{query}").text
        assert "<html" not in text
        return float(re.search(r"Front camber −([0-9.]+)°", text)[1])

    assert camber("top=5") == pytest.approx(camber("top=0") + 0.45, abs=0.11)
    assert "track rods" in bench_page.get("/bench/camber?setup=dry&part=answer&top=5").text


def test_the_beam_has_no_slider_and_no_front_view(bench_page):
    found = bench_page.get("/bench/camber?setup=dry&end=rear")
    assert found.status_code == 200
    assert "No strut top moves at this end" in found.text
    assert found.text.count("<svg") == 4


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("setup=dry&top=20", "by its slots"),
        ("setup=dry&top=five", "top"),
        ("setup=dry&road=", "nothing"),
        ("setup=dry&road=-5", "road"),
        ("setup=dry&limit=2 psi", "pressure"),
        ("setup=dry&end=middle", "one of"),
        ("setup=dry&circuit=moon", "one of"),
        ("setup=drie", "one of: dry, road, wet"),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_what_was_typed_stays(bench_page, query, said):
    found = bench_page.get(f"/bench/camber?{query}")
    assert found.status_code == 422
    assert said in found.text
    if "top=five" in query:
        assert 'value="five"' in found.text
