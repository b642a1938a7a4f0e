"""The page of the treads: twelve boxes, one change, and nothing typed is lost."""

import pytest
from chassis_described import describe_chassis

from tintop.circuit.path import path_along

TREADS = {
    "FL": (82, 90, 80), "FR": (81, 89, 79), "RL": (78, 76, 74), "RR": (77, 75, 73),
}  # fmt: skip


@pytest.fixture
def bench_page(garage, page, monkeypatch):
    """The page of a garage with a chassis; the line round a circuit is its centre line, found at once."""
    monkeypatch.setattr(
        "tintop.garage.setup_effects.driven_path", lambda _car, read, _weather, **_rest: path_along(read)
    )
    describe_chassis(garage, "dry", "road")
    return page


def query(**more):
    boxes = {
        f"t_{corner}_{place}": str(value)
        for corner, three in TREADS.items()
        for place, value in zip(("inner", "middle", "outer"), three, strict=True)
    }
    return "&".join(f"{name}={value}" for name, value in {"setup": "dry", **boxes, **more}.items())


def test_twelve_typed_give_one_change(bench_page, reader):
    found = bench_page.get(f"/bench/treads?{query(laps=7, cool_down='no', minutes=1)}")
    assert found.status_code == 200
    assert "Front cold pressure" in found.text
    assert "because of this: at the front the middle is hotter than the edges" in found.text
    assert "style=" not in found.text
    assert reader.get(f"/bench/treads?{query()}").status_code == 200


def test_boxes_stand_as_seen_from_above(bench_page):
    text = bench_page.get("/bench/treads?setup=dry").text
    left, right = text.index('id="t_FL_outer"'), text.index('id="t_FL_inner"')
    assert left < right
    assert text.index('id="t_FR_inner"') < text.index('id="t_FR_outer"')


def test_while_some_are_missing_it_waits(bench_page):
    found = bench_page.get(f"/bench/treads?{query(t_RR_outer='')}&part=answer")
    assert found.status_code == 200
    assert "11 of twelve temperatures are there" in found.text


def test_after_a_cool_down_lap_it_says_measure_again(bench_page):
    text = bench_page.get(f"/bench/treads?{query(cool_down='yes')}&part=answer").text
    assert "Measure again" in text
    assert "Not proven" in text


def test_the_drivers_words_count(bench_page):
    text = bench_page.get(
        f"/bench/treads?{query(t_FL_middle=81, t_FR_middle=80, entry='oversteer')}&part=answer"
    ).text
    assert "Brake bias" in text


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"t_FL_inner": "warm"}, "t_FL_inner"),
        ({"hot_FL": "hot"}, "hot_FL"),
        ({"hot_FL": "900"}, "FL pressure hot"),
        ({"lap_before": "soon", "lap_after": "1:40.0"}, "lap_before"),
        ({"lap_before": "1:40.0"}, "both, or neither"),
        ({"entry": "sideways"}, "one of"),
        ({"setup": "drie"}, "one of: dry, road"),
    ],
)
def test_what_cannot_be_is_said_and_what_was_typed_stays(bench_page, more, said):
    found = bench_page.get(f"/bench/treads?{query(**more)}")
    assert found.status_code == 422
    assert said in found.text
    if "setup" not in more:
        assert 'name="t_FR_middle" value="89"' in found.text


def test_the_driver_may_say_it_in_his_own_words_and_fahrenheit_is_asked_once(bench_page):
    found = bench_page.get("/bench/treads?" + query(words="pushes mid, fine out"))
    assert "understeer in mid-corner; fine on the way out" in found.text
    assert bench_page.get("/bench/treads?" + query(words="wobbly")).status_code == 422
    asked = bench_page.get("/bench/treads?" + query(t_FL_inner="190", t_FR_inner="188"))
    assert asked.status_code == 422 and asked.text.count("Are all twelve in °F") == 1
