"""Every pair of springs or bars as a map: what the lap loses or gains, and which end slides first."""

import textwrap
from collections.abc import Sequence

from tintop.charts.car_words import MINUS
from tintop.charts.ink import BLUE, INK, PAPER, PENCIL, ROAD, RULE, RUST
from tintop.charts.svg import sheet, text
from tintop.lap.spring_map import Cell, Choice, SpringMap

FRONT_FIRST, REAR_FIRST = "\u25b2", "\u25bc"
_SAME = 0.005  # seconds that are not written


def balance_map_svg(found: SpringMap, *, is_narrow: bool = False, name: str = "balance-map") -> str:
    """Draw the map: rear choices across, front choices down, softest first; what is on the car is outlined.

    Each cell says the seconds a lap against now (less = quicker) and the balance: a triangle forwards with
    its share for a front that slides first, backwards for a rear. A shaded cell is quicker than now; a dashed
    one needs a part that is not owned. `name` keeps the ids of two drawings apart.
    """
    width = 360.0 if is_narrow else 760.0
    size = 12.0 if is_narrow else 15.0
    left = 84.0 if is_narrow else 150.0
    cell_width = (width - left - 8.0) / len(found.rears)
    heads = [_wrapped(choice, cell_width, size) for choice in found.rears]
    sides = [_wrapped(choice, left - 10.0, size) for choice in found.fronts]
    cell_height = max(3.7 * size, 1.25 * size * max(len(words) for words in sides) + 6.0)
    top = 36.0 + size * 1.25 * max(len(words) for words in heads)
    drawn = [text(left, 16.0, "rear, softest first", size=size, colour=PENCIL)]
    for place, words in enumerate(heads):
        drawn += _lines(words, left + (place + 0.5) * cell_width, 38.0, size)
    for place, words in enumerate(sides):
        middle = top + (place + 0.5) * cell_height
        drawn += _lines(words, 0.5 * left, middle - 0.6 * size * (len(words) - 1) + 0.35 * size, size)
    for place, cell in enumerate(found.cells):
        front, rear = divmod(place, len(found.rears))
        x, y = left + rear * cell_width, top + front * cell_height
        drawn += _cell(cell, x + 2.0, y + 2.0, cell_width - 4.0, cell_height - 4.0, size)
    low = top + len(found.fronts) * cell_height + 18.0
    legend = textwrap.wrap(_LEGEND, max(int((width - 12.0) / (0.6 * size)), 20))
    for place, each in enumerate(legend):
        drawn.append(text(6.0, low + 1.3 * size * place, each, size=size, colour=PENCIL))
    drawn.append(text(6.0, 16.0, "front, down", size=size, colour=PENCIL))
    return sheet(
        name,
        f"Balance and lap of every pair of {found.varied.value}",
        _description(found),
        width,
        low + 1.3 * size * len(legend),
        drawn,
    )


_LEGEND = (
    f"Seconds a lap against now, less is quicker (shaded). {FRONT_FIRST} front slides first, {REAR_FIRST} "
    "rear, and by how much. Thick: on the car now. Dashed: something to buy."
)


def lap_words(difference: float) -> str:
    """Seconds against now with their sign."""
    if abs(difference) < _SAME:
        return "0.00"
    return f"{difference:+.2f}".replace("-", MINUS)


def balance_sign(cell: Cell) -> str:
    """The end that slides first as a sign, with its share of grip."""
    balance = cell.tried.balance
    if balance.words == "neutral":
        return "= 0 %"
    return f"{FRONT_FIRST if balance.balance > 0.0 else REAR_FIRST} {100.0 * abs(balance.balance):.0f} %"


def _cell(cell: Cell, x: float, y: float, width: float, height: float, size: float) -> list[str]:
    is_quicker = cell.difference < -_SAME
    edge, thickness = (INK, 3.5) if cell.is_now else (RULE, 1.0)
    dashes = "" if cell.is_owned else ' stroke-dasharray="5 4"'
    if not cell.is_owned and not cell.is_now:
        edge, thickness = PENCIL, 1.6
    middle = x + 0.5 * width
    colour = BLUE if cell.tried.balance.balance >= 0.0 else RUST
    return [
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" '
        f'fill="{ROAD if is_quicker else PAPER}" stroke="{edge}" stroke-width="{thickness:g}"{dashes}/>',
        text(
            middle,
            y + 0.44 * height,
            lap_words(cell.difference),
            size=size,
            is_bold=is_quicker or cell.is_now,
            anchor="middle",
        ),
        text(middle, y + 0.82 * height, balance_sign(cell), size=size, colour=colour, anchor="middle"),
    ]


def _wrapped(choice: Choice, width: float, size: float) -> list[str]:
    return textwrap.wrap(choice.words, max(int(width / (0.62 * size)), 5)) or [choice.words]


def _lines(words: Sequence[str], x: float, y: float, size: float) -> list[str]:
    return [
        text(x, y + 1.25 * size * place, each, size=size, anchor="middle") for place, each in enumerate(words)
    ]


def _description(found: SpringMap) -> str:
    best = min(found.cells, key=lambda cell: cell.difference)
    return (
        f"Quickest of {len(found.cells)}: front {best.front.words}, rear {best.rear.words}, "
        f"{lap_words(best.difference)} s a lap, {best.tried.balance.words}."
    )
