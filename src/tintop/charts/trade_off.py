"""Clicks as a trade-off: comfort against tyre load variation, every pair a mark, the chosen named."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tintop.car.click_search import BODY_COUNTS, Rated
from tintop.car.setup import Purpose
from tintop.charts.ink import BLUE, INK, MOSS, PAPER, PENCIL, RULE, RUST
from tintop.charts.svg import line, sheet, text
from tintop.questions.which_clicks import ClicksAnswer

_LEFT, _RIGHT, _TOP, _BOTTOM = 64.0, 20.0, 92.0, 162.0
_MARGIN = 0.08  # of what the marks span, kept free around them
_MARK, _CHOSEN = 2.6, 7.0
_TICKS = (1.0, 2.0, 2.5, 5.0, 10.0)
_ROW = 19.0  # of the key [px]


@dataclass(frozen=True, slots=True)
class _Named:
    words: str
    letter: str
    colour: str
    rated: Rated


_STYLES = {
    Purpose.ROAD: ("road", "R", BLUE),
    Purpose.DRY: ("dry", "D", RUST),
    Purpose.WET: ("wet", "W", MOSS),
}


def trade_off_svg(found: ClicksAnswer, *, is_narrow: bool = False, name: str = "trade-off") -> str:
    """Draw an answer's clicks on its road; nothing found draws an empty frame with the reason.

    Left is more comfortable, low is steadier on the road.
    """
    width, height = (360.0, 500.0) if is_narrow else (760.0, 560.0)
    title = f"Comfort and grip on the {found.road.name}"
    head = [
        text(16, 30, "Comfort and grip" if is_narrow else title, size=20, is_bold=True),
        text(16, 52, "every pair of clicks, bump / rebound, a mark", size=13, colour=PENCIL),
        text(16, 72, "low: steadier; left: softer to sit in", size=13, colour=PENCIL),
    ]
    if found.rated_now is None:
        words = "Unknown: no curve and no ratio of the dampers."
        body = [*head, text(16, _TOP + 40, words, size=14)]
        return sheet(name, title, words, width, height, body)
    chosen = [
        _Named(f"{words}: {_clicks(rated)}", letter, colour, rated)
        for purpose, rated in found.named.items()
        for words, letter, colour in (_STYLES[purpose],)
    ]
    chosen.append(_Named(f"as it stands: {_clicks(found.rated_now)}", "N", INK, found.rated_now))
    frame = _Frame(width, height, (*found.marks, *(each.rated for each in chosen)))
    body = [*head, *frame.drawn()]
    for mark in found.marks:
        x, y = frame.at(mark)
        body.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{_MARK}" fill="none" stroke="{PENCIL}"/>')
    body += _named(frame, chosen)
    said = "; ".join(
        f"{each.words}: {100.0 * each.rated.variation:.1f} %, {each.rated.comfort:.2f} m/s²"
        for each in chosen
    )
    return sheet(name, title, f"{len(found.marks)} pairs of clicks. {said}.", width, height, body)


class _Frame:
    """Where a rating stands on the drawing, and the axes around it."""

    def __init__(self, width: float, height: float, rated: Sequence[Rated]) -> None:
        self._width, self._height = width, height
        self._across = _span([each.comfort for each in rated])
        self._up = _span([100.0 * each.variation for each in rated])

    def at(self, rated: Rated) -> tuple[float, float]:
        return self._x(rated.comfort), self._y(100.0 * rated.variation)

    @property
    def right(self) -> float:
        return self._width - _RIGHT

    @property
    def bottom(self) -> float:
        return self._height - _BOTTOM

    def _x(self, comfort: float) -> float:
        low, high = self._across
        return _LEFT + (comfort - low) / (high - low) * (self.right - _LEFT)

    def _y(self, variation: float) -> float:
        low, high = self._up
        return self.bottom - (variation - low) / (high - low) * (self.bottom - _TOP)

    def drawn(self) -> list[str]:
        body = []
        for value, words in _ticks(*self._up, most=6):
            body.append(line([(_LEFT, self._y(value)), (self.right, self._y(value))], RULE, 1.0))
            body.append(text(_LEFT - 8, self._y(value) + 4, words, size=13, colour=PENCIL, anchor="end"))
        for value, words in _ticks(*self._across, most=int((self.right - _LEFT) / 80.0)):
            body.append(line([(self._x(value), self.bottom), (self._x(value), self.bottom + 5)], INK, 1.0))
            body.append(
                text(self._x(value), self.bottom + 20, words, size=13, colour=PENCIL, anchor="middle")
            )
        body.append(line([(_LEFT, _TOP), (_LEFT, self.bottom), (self.right, self.bottom)], INK, 1.5))
        body.append(text(16, self.bottom + 42, "vibration at the seat's floor, weighted [m/s²]", size=13))
        words = f"upwards: tyre load variation [%], body swing × {BODY_COUNTS:g}"
        body.append(text(16, self.bottom + 62, words, size=13))
        return body


def _named(frame: _Frame, chosen: Sequence[_Named]) -> list[str]:
    """The chosen marks, each with its letter, and their names beneath the axes."""
    body = []
    for place, each in enumerate(chosen):
        beneath = frame.bottom + 86.0 + _ROW * place
        for x, y in (frame.at(each.rated), (23.0, beneath - 4.0)):
            body.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{_CHOSEN}" fill="{each.colour}"/>')
            body.append(text(x, y + 3.5, each.letter, size=10, colour=PAPER, is_bold=True, anchor="middle"))
        body.append(text(38.0, beneath, each.words, size=13, colour=each.colour))
    return body


def _clicks(rated: Rated) -> str:
    front, rear = rated.front, rated.rear
    return f"front {front.bump} / {front.rebound}, rear {rear.bump} / {rear.rebound}"


def _span(values: Sequence[float]) -> tuple[float, float]:
    low, high = min(values), max(values)
    room = _MARGIN * (high - low) or 0.1 * high
    return low - room, high + room


def _ticks(low: float, high: float, most: int) -> list[tuple[float, str]]:
    """Even values within a span, at most so many, with the decimals they need."""
    rough = (high - low) / max(most, 2)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * each for each in _TICKS if power * each >= rough)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9)) + (1 if step / power == 2.5 else 0)
    first = math.ceil(low / step)
    count = int((high - first * step) / step) + 1
    return [((first + each) * step, f"{(first + each) * step:.{decimals}f}") for each in range(count)]
