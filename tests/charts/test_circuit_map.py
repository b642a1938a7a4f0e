import re
from dataclasses import replace

import numpy as np
import pytest
from drawn import STEP, inside_view, lap, read, words

from demo_cars import demo_circuit, demo_lane
from tintop.charts.circuit_map import MOST_POINTS, map_svg
from tintop.charts.ink import LIMIT_STYLES
from tintop.errors import BadInput
from tintop.lap.trace import LapTrace, Limit


def _map(of: LapTrace | None = None) -> str:
    return map_svg(demo_circuit(STEP), demo_lane(STEP), of or lap())


def _with_limits(limits: np.ndarray) -> LapTrace:
    return replace(lap(), channels={**lap().channels, "limit": limits.astype(float)})


def test_the_legend_has_word_letter_and_share_of_every_limit_in_the_lap() -> None:
    said = words(_map())
    shares = lap().limit_share()
    for limit in Limit:
        style, share = LIMIT_STYLES[limit], shares[limit.name.lower()]
        assert (style.word in said) == (share > 0.0)
        if share > 0.0:
            assert style.letter in said
            assert f"{100 * share:.1f} %" in said


def test_every_corner_stands_on_the_map_with_its_slowest_speed() -> None:
    said = words(_map())
    for corner in demo_circuit(STEP).corners:
        assert str(corner.number) in said
    assert f"{lap().speed.min() * 3.6:.0f}" in said


def test_start_north_scale_and_lap_time_are_written() -> None:
    said = words(_map())
    minutes, seconds = divmod(lap().lap_time, 60.0)
    assert {"start", "north", f"{int(minutes)}:{seconds:05.2f}"} <= set(said)
    bar = next(word for word in said if re.fullmatch(r"\d+ m", word))
    assert int(bar.split()[0]) in {20, 50, 100, 200, 500}


def test_it_is_inside_the_picture_and_the_same_every_time() -> None:
    assert inside_view(_map())
    assert _map() == _map()


def _point_count(svg: str) -> int:
    return sum(
        len(re.findall(r"[\d.]+,[\d.]+", path.get("d", ""))) for path in read(svg).iter() if path.get("d")
    )


def test_no_more_points_than_promised_even_with_many_changes() -> None:
    n = len(lap().speed)
    often = np.arange(n) // 2 % len(Limit)
    assert _point_count(_map()) < MOST_POINTS
    # start, arrow, scale and legend add some; a limit with a core is written twice
    assert _point_count(_map(_with_limits(often))) < 2 * MOST_POINTS


def test_all_six_limits_can_stand_in_one_map() -> None:
    n = len(lap().speed)
    said = words(_map(_with_limits(np.arange(n) * len(Limit) // n)))
    assert all(style.word in said for style in LIMIT_STYLES.values())


def test_assumed_widths_are_said() -> None:
    assumed = replace(demo_circuit(STEP), has_widths=False)
    assert any("assumed" in word for word in words(map_svg(assumed, demo_lane(STEP), lap())))
    assert not any("assumed" in word for word in words(_map()))


def test_a_name_with_markup_is_only_text() -> None:
    named = replace(demo_circuit(STEP), name='<script>"&')
    assert '<script>"&' in words(map_svg(named, demo_lane(STEP), lap()))


def test_a_lap_of_another_mesh_is_refused() -> None:
    with pytest.raises(BadInput, match="points"):
        map_svg(demo_circuit(2.0), demo_lane(STEP), lap())
