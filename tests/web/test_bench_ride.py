"""Dampers and ride on the page: clicks turned, other roads, a kerb, and what cannot be."""

import re

import pytest

from tintop.store.demo import demo_path


@pytest.fixture
def benched(garage):
    """The small garage with the demo's chassis and three of its set-ups."""
    (garage.folder / "setups").mkdir(exist_ok=True)
    demo = demo_path("chassis.toml").parent
    for name in ("chassis.toml", "setups/road.toml", "setups/dry.toml", "setups/wet.toml"):
        (garage.folder / name).write_bytes((demo / name).read_bytes())
    garage.look_outside()
    return garage


def test_a_garage_without_chassis_is_told_what_to_do(page):
    assert 'href="/documents/new?name=chassis.toml"' in page.get("/bench/ride").text


def test_as_the_car_stands_and_with_a_kerb(benched, page, reader):
    found = page.get("/bench/ride?setup=dry&kerb=60")
    assert found.status_code == 200
    assert 'name="front_bump" value="8"' in found.text and 'name="rear_rebound" value="9"' in found.text
    assert "Comfort and grip" in found.text and "Kerb of 60 mm" in found.text
    assert "style=" not in found.text
    assert reader.get("/bench/ride?setup=dry").status_code == 200


def test_clicks_turned_change_the_answer_alone(benched, page):
    stands = page.get("/bench/ride?setup=dry&part=answer").text
    turned = page.get("/bench/ride?setup=dry&front_bump=0&front_rebound=0&part=answer").text
    assert "<html" not in turned and "0 / 0" in turned
    comfort = re.compile(r"(\d\.\d\d) m/s²</text>")
    assert float(comfort.findall(turned)[0]) < float(comfort.findall(stands)[0])
    assert "Turn front" in turned


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("setup=dry&front_bump=99", "whole clicks from 0 to 16"),
        ("setup=dry&front_bump=2.5", "whole clicks"),
        ("setup=dry&speed=fast", "fast"),
        ("setup=dry&speed=900", "speed"),
        ("setup=dry&road=moon", "one of"),
        ("setup=drie", "one of: dry, road, wet"),
    ],
)
def test_what_cannot_be_is_said_at_its_field(benched, page, query, said):
    found = page.get(f"/bench/ride?{query}")
    assert found.status_code == 422
    assert said in found.text
