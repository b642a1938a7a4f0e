"""The brakes' balance drawn: adhesion used against deceleration, rear force against front and the ideal."""

from collections.abc import Sequence

from tintop.charts.ink import BLUE, INK, MOSS, OCHRE, PENCIL, RULE, RUST
from tintop.charts.strips import even_ticks
from tintop.charts.svg import line, sheet, text
from tintop.physics.braking import ideal_front_brake_share
from tintop.questions.brake_balance import BrakeCase

_MARK = 4.5
_STEP = 10  # points from mark to mark
_MOST_USED = 1.6


class _Frame:
    """Where the axes stand: values from 0 to (right, top); `key_at` is where the key goes on."""

    def __init__(self, right: float, top: float, is_narrow: bool) -> None:
        self.width = 360.0 if is_narrow else 760.0
        self.height = 330.0 if is_narrow else 380.0
        self.size = 13.0 if is_narrow else 14.0
        self._left, self._below = 46.0, 44.0
        self._right_room, self._above = 18.0, 58.0
        self.key_at = 46.0
        self.right, self.top = right, top

    def at(self, across: float, up: float) -> tuple[float, float]:
        wide = self.width - self._left - self._right_room
        high = self.height - self._above - self._below
        return self._left + wide * across / self.right, self.height - self._below - high * up / self.top

    def grid(self, across_words: str, up_words: str) -> list[str]:
        drawn = []
        for value in even_ticks(0.0, self.top, 6):
            drawn.append(line([self.at(0.0, value), self.at(self.right, value)], RULE, 1.0))
            x, y = self.at(0.0, value)
            drawn.append(text(x - 6.0, y + 4.5, f"{value:g}", size=self.size, colour=PENCIL, anchor="end"))
        for value in even_ticks(0.0, self.right, 7):
            x, y = self.at(value, 0.0)
            drawn.append(line([(x, y), (x, y + 5.0)], PENCIL, 1.0))
            drawn.append(text(x, y + 19.0, f"{value:g}", size=self.size, colour=PENCIL, anchor="middle"))
        drawn.append(line([self.at(0.0, 0.0), self.at(self.right, 0.0)], PENCIL, 1.0))
        drawn.append(text(6.0, 18.0, up_words, size=self.size, colour=PENCIL))
        right, _ = self.at(self.right, 0.0)
        drawn.append(
            text(right, self.height - 6.0, across_words, size=self.size, colour=PENCIL, anchor="end")
        )
        return drawn


def adhesion_svg(case: BrakeCase, *, is_narrow: bool = False, name: str = "adhesion") -> str:
    """Grip that front and rear need at each deceleration, the grip there is, and where the rear is first."""
    found, grip = case.balance, case.balance.ask.friction
    right = min(max(1.2 * found.at_limit.rate, 1.0), 1.3)
    frame = _Frame(right, min(max(1.35 * grip, 1.0), _MOST_USED), is_narrow)
    points = [each for each in found.points if each.rate <= right]
    front = [(each.rate, each.front_used) for each in points]
    rear = [(each.rate, each.rear_used) for each in points]
    drawn = frame.grid("deceleration, g", "grip needed")
    critical = found.critical_rate
    if critical < right:
        x, y = frame.at(critical, frame.top)
        edge, bottom = frame.at(right, 0.0)
        drawn.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{edge - x:.1f}" height="{bottom - y:.1f}" fill="{RULE}" '
            'fill-opacity="0.6"/>'
        )
        has_room = edge - x > 6.0 * frame.size
        x, anchor = (x + 5.0, "start") if has_room else (edge - 3.0, "end")
        drawn.append(
            text(x, bottom - 8.0, "rear first", size=frame.size, colour=RUST, is_bold=True, anchor=anchor)
        )
    drawn.append(line([frame.at(0.0, grip), frame.at(right, grip)], OCHRE, 1.8, "2 3"))
    x, y = frame.at(0.0, grip)
    words = f"{case.name} road, grip {grip:.2f}"
    drawn.append(text(x + 5.0, y + 16.0, words, size=frame.size, colour=OCHRE))
    most = min(right, frame.top)
    drawn += _curve(frame, [(0.0, 0.0), (most, most)], MOSS, "6 4", "ideal", "none")
    drawn += _curve(frame, front, BLUE, "", "front", "circle")
    drawn += _curve(frame, rear, RUST, "9 4", "rear", "square")
    x, y = frame.at(found.at_limit.rate, grip)
    drawn.append(_cross(x, y))
    words = f"× {case.first} locks, {found.at_limit.rate:.2f} g"
    x, anchor = (x - 10.0, "end") if x > 0.5 * frame.width else (x + 10.0, "start")
    drawn.append(text(x, y - 12.0, words, size=frame.size, is_bold=True, anchor=anchor))
    says = (
        f"On a {case.name} road of grip {grip:.2f} the {case.first} axle locks first, at "
        f"{found.at_limit.rate:.2f} g. Front line with circles, rear line dashed with squares; the ideal is "
        "where both need the same."
    )
    return sheet(name, "Grip each axle needs against deceleration", says, frame.width, frame.height, drawn)


def forces_svg(case: BrakeCase, *, is_narrow: bool = False, name: str = "forces") -> str:
    """Rear brake force against front, both ÷ weight: as installed, and the ideal parabola."""
    found = case.balance
    points = [each for each in found.points if each.rate <= 1.2]
    installed = [(each.rate * each.front_share, each.rate * (1.0 - each.front_share)) for each in points]
    ideal = []
    for each in points:
        share = ideal_front_brake_share(found.braked, each.rate)
        ideal.append((each.rate * share, each.rate * (1.0 - share)))
    frame = _Frame(
        max(x for x, _ in (*installed, *ideal)), 1.1 * max(y for _, y in (*installed, *ideal)), is_narrow
    )
    drawn = frame.grid("front brake force ÷ weight", "rear brake force ÷ weight")
    drawn += _curve(frame, ideal, MOSS, "6 4", "ideal", "none")
    drawn += _curve(frame, installed, INK, "", "as set", "circle")
    limit = found.at_limit
    x, y = frame.at(limit.rate * limit.front_share, limit.rate * (1.0 - limit.front_share))
    drawn.append(_cross(x, y))
    says = "Above the ideal line the rear locks first, below it the front; the cross is the first lock."
    return sheet(name, "Rear brake force against front", says, frame.width, frame.height, drawn)


def _curve(
    frame: _Frame, places: Sequence[tuple[float, float]], colour: str, dash: str, words: str, mark: str
) -> list[str]:
    """A line with its marks, and its words in the key above."""
    inside = [(x, y) for x, y in places if y <= frame.top and x <= frame.right]
    drawn = [line([frame.at(*each) for each in inside], colour, 2.2, dash)]
    if mark != "none":
        drawn += [_mark(frame, each, colour, mark) for each in inside[_STEP - 1 :: _STEP]]
    x, y = frame.key_at, 38.0
    drawn.append(line([(x, y), (x + 30.0, y)], colour, 2.2, dash))
    if mark != "none":
        drawn.append(_mark_at(x + 15.0, y, colour, mark))
    drawn.append(text(x + 35.0, y + 4.5, words, size=frame.size, colour=colour, is_bold=True))
    frame.key_at += 52.0 + 0.66 * frame.size * len(words)
    return drawn


def _mark(frame: _Frame, place: tuple[float, float], colour: str, mark: str) -> str:
    return _mark_at(*frame.at(*place), colour, mark)


def _mark_at(x: float, y: float, colour: str, mark: str) -> str:
    if mark == "circle":
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{_MARK}" fill="{colour}"/>'
    corner, side = f'x="{x - _MARK:.1f}" y="{y - _MARK:.1f}"', 2.0 * _MARK
    return f'<rect {corner} width="{side:g}" height="{side:g}" fill="{colour}"/>'


def _cross(x: float, y: float) -> str:
    left, right, high, low = x - 7.0, x + 7.0, y - 7.0, y + 7.0
    lines = f"M{left:.1f},{high:.1f} L{right:.1f},{low:.1f} M{left:.1f},{low:.1f} L{right:.1f},{high:.1f}"
    return f'<path d="{lines}" fill="none" stroke="{INK}" stroke-width="2.4"/>'
