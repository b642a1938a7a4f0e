"""Paper and inks: few colours, each also a pattern and a letter, so that every chart prints in grey."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from tintop.lap.trace import Limit

PAPER = "#fcfbf7"
ROAD = "#e6e2d6"
RULE = "#d5d0c2"  # faint ruling: carries nothing that is not also written
INK = "#1d1c1a"
PENCIL = "#5a564d"  # second text
BLUE = "#0b5f9e"
RUST = "#b5440a"
PLUM = "#7d3585"
MOSS = "#2c6e49"
OCHRE = "#80600a"
FONT = "DejaVu Sans, Verdana, Noto Sans, sans-serif"


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitStyle:
    """How one limit in force is drawn: word, letter, colour, and its pattern as a line and as a filled band.

    `dash` is an SVG stroke-dasharray (empty = unbroken); `core` is the width of a paper-coloured stroke
    along the middle, 0 = none; `hatch` fills a band.
    """

    word: str
    letter: str
    colour: str
    width: float
    dash: str
    core: float
    hatch: str


LIMIT_STYLES: Mapping[Limit, LimitStyle] = MappingProxyType(
    {
        Limit.FRONT_GRIP: LimitStyle(
            word="front grip", letter="F", colour=BLUE, width=6.0, dash="", core=0.0, hatch="////"
        ),
        Limit.REAR_GRIP: LimitStyle(
            word="rear grip", letter="R", colour=RUST, width=7.0, dash="", core=2.4, hatch="\\\\\\\\"
        ),
        Limit.POWER: LimitStyle(word="power", letter="P", colour=INK, width=2.2, dash="", core=0.0, hatch=""),
        Limit.LIMITER: LimitStyle(
            word="rev limiter", letter="L", colour=PLUM, width=5.0, dash="5 3", core=0.0, hatch="...."
        ),
        Limit.BRAKES: LimitStyle(
            word="brakes", letter="B", colour=OCHRE, width=8.0, dash="2 2", core=0.0, hatch="||||"
        ),
        Limit.GEAR_SHIFT: LimitStyle(
            word="gear shift", letter="S", colour=MOSS, width=9.0, dash="1.2 1.6", core=3.4, hatch="xxxx"
        ),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line's colour, dashes as matplotlib names them, marker and word."""

    word: str
    colour: str
    line: str | tuple[float, tuple[float, ...]]
    marker: str


WHEELS = (
    Stroke(word="FL front left", colour=BLUE, line="-", marker="o"),
    Stroke(word="FR front right", colour=BLUE, line=(0.0, (4.0, 1.6)), marker="o"),
    Stroke(word="RL rear left", colour=RUST, line=(0.0, (6.0, 1.5, 1.2, 1.5)), marker="s"),
    Stroke(word="RR rear right", colour=RUST, line=(0.0, (1.2, 1.2)), marker="s"),
)
FRONT = Stroke(word="front", colour=BLUE, line="-", marker="o")
REAR = Stroke(word="rear", colour=RUST, line=(0.0, (5.0, 1.8)), marker="s")


def contrast(one: str, other: str) -> float:
    """Contrast of two colours written #rrggbb, 1 to 21.

    Source: W3C, Web Content Accessibility Guidelines 2.1 (2018), "relative luminance", "contrast ratio".
    """
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    shares = [int(colour[place : place + 2], 16) / 255.0 for place in (1, 3, 5)]
    red, green, blue = (
        share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4 for share in shares
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
