import pytest
from drawn import STEP, envelope, inside_view, lap, words

from demo_cars import demo_circuit
from tintop.charts.envelope_chart import envelope_svg
from tintop.charts.ink import LIMIT_STYLES
from tintop.charts.lap_charts import profile_svg, traces_svg
from tintop.errors import BadInput
from tintop.lap.trace import Limit


def test_traces_name_their_panels_limits_and_corners() -> None:
    said = words(traces_svg(lap(), demo_circuit(STEP)))
    assert {"Speed", "Pedals", "Gear", "Acceleration", "Grip used by each wheel", "throttle", "brake"} <= set(
        said
    )
    for limit in Limit:
        style = LIMIT_STYLES[limit]
        is_used = lap().limit_share()[limit.name.lower()] > 0.0
        assert (f"{style.letter} {style.word}" in said) == is_used
    assert {str(corner.number) for corner in demo_circuit(STEP).corners} <= set(said)
    assert f"{lap().speed.min() * 3.6:.0f}" in said


def test_traces_of_another_mesh_are_refused() -> None:
    with pytest.raises(BadInput, match="points"):
        traces_svg(lap(), demo_circuit(2.0))


def test_profile_says_what_is_measured() -> None:
    said = words(profile_svg(demo_circuit(STEP)))
    assert any("widths as measured" in word for word in said)
    assert f"{demo_circuit(STEP).length:.0f} m" in said


def test_envelope_writes_its_speeds_and_its_best_cornering() -> None:
    said = words(envelope_svg(envelope()))
    assert sum(word.endswith("km/h") for word in said) >= 3
    assert f"{envelope().lateral_limit.max() / 9.80665:.2f} g" in said


def test_charts_are_inside_the_picture_and_the_same_every_time() -> None:
    for draw in (
        lambda: traces_svg(lap(), demo_circuit(STEP)),
        lambda: profile_svg(demo_circuit(STEP)),
        lambda: envelope_svg(envelope()),
    ):
        svg = draw()
        assert inside_view(svg)
        assert svg == draw()
        assert len(svg) < 400_000
