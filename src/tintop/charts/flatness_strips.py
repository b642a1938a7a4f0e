"""How flat an optimum is: a strip for each adjuster, its places from left to right, the lap lost upwards."""

import math
from collections.abc import Callable, Sequence

from tintop.charts.ink import BLUE, INK, PENCIL, ROAD, RULE, RUST
from tintop.charts.svg import line, sheet, text
from tintop.lap.setup_search import NEAR, Flatness

_TOP = 0.2  # [s] lost at which a strip ends
_ROW, _CURVE = 100.0, 50.0  # [px] of one strip, and of its curve
_WIDTH, _NARROW = 760.0, 360.0
_MARGIN = 14.0


def flatness_svg(
    rows: Sequence[Flatness],
    written: Callable[[Flatness, int], str],
    *,
    title: str,
    description: str,
    is_narrow: bool = False,
    name: str = "flatness",
) -> str:
    """Draw a strip a row; `written` gives a place in words. A row with one place is left out.

    The bar beneath shows what is as good; a ring marks the place now, a dot the one suggested; places that
    would break something are crosses. What loses more than 0.2 s is drawn there.
    """
    shown = [row for row in rows if len(row.lost) > 1]
    width = _NARROW if is_narrow else _WIDTH
    body: list[str] = []
    for number, row in enumerate(shown):
        body += _strip(row, number * _ROW, width, written)
    return sheet(name, title, description, width, max(len(shown), 1) * _ROW + 6.0, body)


def _strip(row: Flatness, top: float, width: float, written: Callable[[Flatness, int], str]) -> list[str]:
    floor = top + 22.0 + _CURVE
    across = width - 2.0 * _MARGIN
    count = len(row.lost) - 1

    def x(at: float) -> float:
        return _MARGIN + across * at / count

    def y(lost: float) -> float:
        return floor - _CURVE * min(max(lost, 0.0), _TOP) / _TOP

    near = y(NEAR)
    body = [
        text(_MARGIN, top + 15.0, row.range.name, size=14, is_bold=True),
        text(width - _MARGIN, top + 15.0, written(row, row.at), size=14, anchor="end"),
        line([(_MARGIN, floor), (width - _MARGIN, floor)], RULE, 1.0),
        line([(_MARGIN, near), (width - _MARGIN, near)], PENCIL, 0.8, "2 4"),
        f'<rect x="{x(row.low) - 3.0:.1f}" y="{floor + 1.0:.1f}" height="5" rx="2.5" fill="{BLUE}" '
        f'width="{x(row.high) - x(row.low) + 6.0:.1f}"/>',
    ]
    drawn = [(x(at), y(lost)) for at, lost in enumerate(row.lost) if math.isfinite(lost)]
    if len(drawn) > 1:
        body.append(line(drawn, INK, 1.6))
    for at, lost in enumerate(row.lost):
        if row.broken[at]:
            body.append(_cross(x(at), y(lost if math.isfinite(lost) else _TOP)))
    body.append(_ring(x(row.range.now), y(row.lost[row.range.now])))
    body.append(f'<circle cx="{x(row.at):.1f}" cy="{y(row.lost[row.at]):.1f}" r="5" fill="{INK}"/>')
    ends = ((0, "start", _MARGIN), (count, "end", width - _MARGIN))
    body += [text(place, floor + 18.0, written(row, at), size=12, colour=PENCIL, anchor=anchor)
             for at, anchor, place in ends]  # fmt: skip
    return body


def _ring(x: float, y: float) -> str:
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="6.5" fill="{ROAD}" stroke="{INK}" stroke-width="1.6"/>'


def _cross(x: float, y: float) -> str:
    path = f"M{x - 3:.1f},{y - 3:.1f} l6,6 m0,-6 l-6,6"
    return f'<path d="{path}" fill="none" stroke="{RUST}" stroke-width="1.6"/>'
