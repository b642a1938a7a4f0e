"""The few SVG elements drawn without a plotting library: text, lines, and the sheet they stand on."""

from collections.abc import Sequence
from html import escape

import numpy as np
from numpy.typing import NDArray

from tintop.charts.ink import FONT, INK, PAPER

FloatArray = NDArray[np.float64]


def sheet(name: str, title: str, description: str, width: float, height: float, body: Sequence[str]) -> str:
    """Give a whole SVG document; `name` keeps its ids apart from those of other charts in one page."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" '
        f'role="img" aria-labelledby="{name}-title {name}-description" font-family="{FONT}">\n'
        f'<title id="{name}-title">{escape(title)}</title>\n'
        f'<desc id="{name}-description">{escape(description)}</desc>\n'
        f'<rect width="{width:.0f}" height="{height:.0f}" fill="{PAPER}"/>\n' + "\n".join(body) + "\n</svg>\n"
    )


def text(
    x: float,
    y: float,
    words: str,
    *,
    size: float,
    colour: str = INK,
    is_bold: bool = False,
    anchor: str = "start",
) -> str:
    """Give words at a place; `anchor` is start, middle or end."""
    bold = ' font-weight="bold"' if is_bold else ""
    aligned = f' text-anchor="{anchor}"' if anchor != "start" else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" fill="{colour}"{bold}{aligned}>'
        f"{escape(words)}</text>"
    )


def points(places: FloatArray) -> str:
    """Give the points (n, 2) of a path, to a tenth."""
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in places)


def line(places: Sequence[tuple[float, float]], colour: str, width: float, dash: str = "") -> str:
    """Give an open line through a few places."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    drawn = points(np.array(places))
    return f'<path d="M{drawn}" fill="none" stroke="{colour}" stroke-width="{width:g}"{dashes}/>'
