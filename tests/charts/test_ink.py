from itertools import combinations

import pytest

from tintop.charts import ink
from tintop.lap.trace import Limit


def test_contrast_of_black_on_white_is_the_most_there_is() -> None:
    # W3C, Web Content Accessibility Guidelines 2.1: the ratio ranges from 1 to 21
    assert ink.contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert ink.contrast("#ffffff", "#ffffff") == pytest.approx(1.0)


def test_contrast_of_a_known_grey() -> None:
    # the well-known lightest grey that passes 4.5 on white; from memory
    assert ink.contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("name", ["INK", "PENCIL", "BLUE", "RUST", "PLUM", "MOSS", "OCHRE"])
def test_text_colours_stand_out(name: str) -> None:
    assert ink.contrast(getattr(ink, name), ink.PAPER) >= 4.5


@pytest.mark.parametrize("ground", [ink.PAPER, ink.ROAD])
def test_lines_stand_out_on_paper_and_road(ground: str) -> None:
    strokes = (*ink.WHEELS, ink.FRONT, ink.REAR)
    colours = {style.colour for style in ink.LIMIT_STYLES.values()} | {stroke.colour for stroke in strokes}
    assert all(ink.contrast(colour, ground) >= 3.0 for colour in colours)


def test_every_limit_differs_without_its_colour() -> None:
    assert set(ink.LIMIT_STYLES) == set(Limit)
    styles = ink.LIMIT_STYLES.values()
    assert len({style.letter for style in styles}) == len(Limit)
    assert len({style.word for style in styles}) == len(Limit)
    assert len({style.colour for style in styles}) == len(Limit)
    assert len({style.hatch for style in styles}) == len(Limit)
    for one, other in combinations(styles, 2):
        assert (one.dash, one.core > 0.0, one.width) != (other.dash, other.core > 0.0, other.width)
        same_line = one.dash == other.dash and (one.core > 0.0) == (other.core > 0.0)
        assert not same_line or max(one.width, other.width) >= 2.0 * min(one.width, other.width)


def test_every_wheel_has_its_own_line() -> None:
    assert len({stroke.line for stroke in ink.WHEELS}) == 4
    assert ink.FRONT.line != ink.REAR.line
    assert ink.FRONT.marker != ink.REAR.marker
