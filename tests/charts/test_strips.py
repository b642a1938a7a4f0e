import re
from xml.etree import ElementTree

import numpy as np
import pytest
from drawn import SVG, read
from hypothesis import given, settings
from hypothesis import strategies as some

from tintop.charts.ink import INK, Stroke
from tintop.charts.strips import (
    ACROSS,
    MOST_POINTS,
    Axis,
    Bound,
    Curve,
    Strip,
    curve_path,
    draw_strip,
    even_ticks,
    on_page,
    on_paper,
    peaks_kept,
    with_room,
)

_STROKE = Stroke(word="<b>&", colour=INK, line="-", marker="o")


def _axis(places: np.ndarray) -> Axis:
    return Axis(
        words="m",
        places=places,
        first=float(places[0]),
        last=float(places[-1]),
        ticks=((float(places[0]), "0"), (float(places[-1]), "end")),
        shades=((float(places[0]), float(places[-1])),),
        numbers=((float(places[0]), "1"),),
        stops=((float(places[-1]), 'stop <script>"'),),
    )


def _strip(values: np.ndarray, *, is_stepped: bool = False) -> Strip:
    low, high = with_room((values,))
    return Strip(
        name="speed",
        heading="Speed <i>",
        unit="km/h",
        curves=(Curve(name="speed", stroke=_STROKE, values=values, is_stepped=is_stepped),),
        low=low,
        high=high,
        ticks=even_ticks(low, high, 4),
        bounds=(Bound(words="limit <&>", value=float(values.max())),),
    )


def _points(path: str) -> np.ndarray:
    return np.array([[float(part) for part in pair.split(",")] for pair in path[1:].split()])


_VALUES = some.lists(some.floats(-1e4, 1e4, allow_nan=False), min_size=2, max_size=400)


@given(values=_VALUES, most=some.integers(4, 60))
def test_thinning_keeps_the_ends_and_every_peak_within_its_stretch(values: list[float], most: int) -> None:
    y = np.array(values)
    x = np.arange(float(y.size))
    kept_x, kept_y = peaks_kept(x, y, most)
    assert kept_x.size <= max(most, 2)
    assert (kept_x[0], kept_x[-1]) == (x[0], x[-1])
    assert (kept_y.min(), kept_y.max()) == (y.min(), y.max())
    assert np.all(np.diff(kept_x) > 0.0)
    assert np.array_equal(kept_y, y[kept_x.astype(int)])


@settings(max_examples=40)
@given(values=_VALUES, repeats=some.integers(1, 12))
def test_a_drawn_curve_has_the_ends_and_extremes_of_its_values(values: list[float], repeats: int) -> None:
    y = np.repeat(np.array(values), repeats)
    strip, axis = _strip(y), _axis(np.arange(float(y.size)))
    drawn = _points(curve_path(strip, axis, y))
    assert len(drawn) <= MOST_POINTS
    assert np.all(np.isfinite(drawn))
    assert tuple(drawn[0]) == pytest.approx((0.0, float(strip.up(y[0]))), abs=0.051)
    assert tuple(drawn[-1]) == pytest.approx((ACROSS, float(strip.up(y[-1]))), abs=0.051)
    assert drawn[:, 1].min() == pytest.approx(float(strip.up(y.max())), abs=0.051)
    assert drawn[:, 1].max() == pytest.approx(float(strip.up(y.min())), abs=0.051)


def test_points_left_out_lie_on_the_line_that_is_drawn() -> None:
    x = np.linspace(0.0, 3000.0, 1100)
    y = 120.0 + 60.0 * np.sin(x / 180.0) + 5.0 * np.sin(x / 11.0)
    strip, axis = _strip(y), _axis(x)
    drawn = _points(curve_path(strip, axis, y))
    assert len(drawn) < y.size
    again = np.interp(ACROSS * axis.share(x), drawn[:, 0], drawn[:, 1])
    assert np.max(np.abs(again - strip.up(y))) < 0.2


def test_a_stepped_curve_changes_only_where_its_values_do() -> None:
    gears = np.array([5.0, 5.0, 4.0, 4.0, 4.0, 5.0])
    strip, axis = _strip(gears, is_stepped=True), _axis(np.arange(6.0))
    drawn = _points(curve_path(strip, axis, gears, is_stepped=True))
    five, four = (round(float(strip.up(gear)), 1) for gear in (5.0, 4.0))
    assert drawn.tolist() == [
        [0.0, five],
        [400.0, five],
        [400.0, four],
        [1000.0, four],
        [1000.0, five],
        [1000.0, five],
    ]


def test_names_with_markup_are_only_text() -> None:
    values = np.array([1.0, 3.0, 2.0])
    svg = on_page(draw_strip(_strip(values), _axis(np.arange(3.0))))
    root = read(svg)
    said = ["".join(each.itertext()) for each in root.iter(f"{SVG}text")]
    assert {"Speed <i>", "limit <&>", 'stop <script>"'} <= set(said)
    assert not list(root.iter(f"{SVG}script")) and not list(root.iter(f"{SVG}i"))


def test_a_strip_on_the_page_stretches_and_keeps_its_words() -> None:
    root = read(on_page(draw_strip(_strip(np.array([1.0, 3.0, 2.0])), _axis(np.arange(3.0)))))
    assert root.get("width") == "100%" and root.get("viewBox") is None
    stretched = root.findall(f"{SVG}svg")
    assert [each.get("preserveAspectRatio") for each in stretched] == ["none"]
    assert not list(stretched[0].iter(f"{SVG}text"))
    assert "style=" not in ElementTree.tostring(root, encoding="unicode")


def test_strips_on_paper_stand_one_under_another() -> None:
    drawn = draw_strip(_strip(np.array([1.0, 3.0, 2.0])), _axis(np.arange(3.0)))
    root = ElementTree.fromstring(on_paper((drawn, drawn), "Two <strips>", "twice", 700.0))
    placed = root.findall(f"{SVG}svg")
    assert [float(each.get("y")) for each in placed] == [12.0, 12.0 + drawn.height + 10.0]
    _, _, width, height = map(float, root.get("viewBox").split())
    assert height >= float(placed[1].get("y")) + drawn.height
    assert all(float(each.get("x")) + float(each.get("width")) < width for each in placed)


def test_every_number_drawn_is_finite_even_for_a_level_line() -> None:
    svg = on_page(draw_strip(_strip(np.full(5, 7.0)), _axis(np.arange(5.0))))
    assert not re.search(r"nan|inf", re.sub(r"<title.*?</title>", "", svg))


@given(low=some.floats(-1e4, 1e4), span=some.floats(1e-3, 1e4), most=some.integers(2, 9))
def test_ticks_are_round_inside_and_no_more_than_asked_for(low: float, span: float, most: int) -> None:
    ticks = even_ticks(low, low + span, most)
    assert len(ticks) <= most
    assert all(low - 1e-6 * span <= tick <= low + span * (1.0 + 1e-6) for tick in ticks)
    steps = np.diff(ticks)
    if steps.size:
        first = f"{steps[0]:.3e}"
        assert first[0] in "125" and set(first[2:5]) == {"0"}
        assert np.allclose(steps, steps[0])
