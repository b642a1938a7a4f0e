import re
from pathlib import Path

import pytest

from tintop.charts import ink
from tintop.web.formats import THIN, several

STATIC = Path(__file__).parents[2] / "src" / "tintop" / "web" / "static"
CHARTS = (STATIC / "charts.css").read_text("utf-8")
LOOK = (STATIC / "style.css").read_text("utf-8")
COLOURS = ("PAPER", "ROAD", "RULE", "INK", "PENCIL", "BLUE", "RUST", "PLUM", "MOSS", "OCHRE")


def _dark(sheet: str) -> dict[str, str]:
    start = sheet.index("prefers-color-scheme: dark")
    return dict(re.findall(r"(--[a-z-]+): (#[0-9a-f]{6})", sheet[start : sheet.index("}\n}", start)]))


@pytest.mark.parametrize("name", COLOURS)
def test_every_ink_of_the_charts_is_given_the_pages_own(name: str) -> None:
    colour = getattr(ink, name)
    for way in ("fill", "stroke"):
        assert f'.drawing [{way}="{colour}"] {{ {way}: var(--chart-{name.lower()}); }}' in CHARTS


def test_light_charts_have_the_inks_of_paper() -> None:
    light = dict(re.findall(r"--chart-([a-z]+): (#[0-9a-f]{6})", CHARTS[: CHARTS.index("@media")]))
    for name in COLOURS:
        if name not in ("PAPER",):
            assert light[name.lower()] == getattr(ink, name)


@pytest.mark.parametrize("name", ["ink", "pencil", "blue", "rust", "plum", "moss", "ochre"])
def test_dark_charts_can_be_read(name: str) -> None:
    paper, colour = _dark(LOOK)["--paper"], _dark(CHARTS)[f"--chart-{name}"]
    assert ink.contrast(colour, paper) >= 4.5
    assert ink.contrast(colour, _dark(CHARTS)["--chart-road"]) >= 3.0


def test_a_count_stands_with_its_noun():
    assert [several(count, "entry", "entries") for count in (0, 1, 2, 1200)] == [
        "0 entries",
        "1 entry",
        "2 entries",
        f"1{THIN}200 entries",
    ]
