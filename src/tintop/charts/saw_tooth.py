"""The saw-tooth of a gearbox: road speed against engine speed, gear by gear, with the upshifts' drops."""

import math
from collections.abc import Sequence

import numpy as np

from tintop.charts.ink import BLUE, INK, PENCIL, RULE, RUST
from tintop.charts.labels import Box, Placing
from tintop.charts.svg import line, sheet, text
from tintop.lap.gearing import Gear

_RPM = math.pi / 30.0
_KMH = 3.6


def saw_tooth_svg(
    gears: Sequence[Gear],
    limiter_speed: float,
    reached: Sequence[tuple[str, float, float]] = (),
    *,
    is_narrow: bool = False,
    name: str = "saw-tooth",
) -> str:
    """Draw the saw-tooth: speed across, engine speed up; a gear's number at its limiter, its fall below.

    `limiter_speed` [rad/s]; `reached` are places of the circuits: words, speed [m/s] and engine speed
    [rad/s], each a numbered mark named under the drawing. `name` keeps the ids of two drawings apart.
    """
    width, height = (360.0, 300.0) if is_narrow else (760.0, 400.0)
    size = 12.0 if is_narrow else 15.0
    left, right, top, low = 52.0, 16.0, 30.0, height - 44.0
    fastest = _KMH * gears[-1].speed_at_limiter * 1.03
    highest = limiter_speed / _RPM * 1.08

    def place(speed: float, engine_speed: float) -> tuple[float, float]:
        """A road speed [m/s] and an engine speed [rad/s] on the paper."""
        x = left + (width - left - right) * _KMH * speed / fastest
        return x, low - (low - top) * (engine_speed / _RPM) / highest

    drawn = _rulings(fastest, highest, left, width - right, top, low, size)
    limit = place(0.0, limiter_speed)[1]
    drawn.append(line([(left, limit), (width - right, limit)], RUST, 1.6, "6 4"))
    words = f"limiter {limiter_speed / _RPM:.0f}"
    drawn.append(text(left, 16.0, words, size=size, colour=RUST))
    marks = [np.linspace(place(speed, engine_speed), place(speed, 0.0)) for _, speed, engine_speed in reached]
    mark_x, mark_y = np.concatenate([np.empty((0, 2)), *marks]).T
    placing = Placing(mark_x, mark_y, width, height)
    begin = (0.0, 0.0)
    for number, gear in enumerate(gears, 1):
        at_limiter = place(gear.speed_at_limiter, limiter_speed)
        drawn.append(line([place(0.0, 0.0), at_limiter], RULE, 1.0))
        end = at_limiter
        if gear.shift_speed is not None and gear.shift_engine_speed is not None:
            end = place(gear.shift_speed, gear.shift_engine_speed)
        drawn.append(line([place(*begin), end], INK, 3.0))
        drawn.append(text(end[0], end[1] - 8.0, str(number), size=size + 2.0, is_bold=True, anchor="middle"))
        if gear.shift_speed is not None and gear.engine_speed_left is not None:
            begin = (gear.shift_speed, gear.engine_speed_left)
            bottom = place(*begin)
            drawn.append(line([end, bottom], BLUE, 2.0, "2 3"))
            words = f"{gear.engine_speed_left / _RPM:.0f}"
            half, y = 0.31 * size * len(words), bottom[1] + size
            spots = ((0.0, y), (-half - 5.0, y), (-half - 5.0, y + 1.2 * size), (half + 5.0, y))
            boxes = [
                Box(x=bottom[0] + aside, y=down, half_width=half + 2.0, half_height=0.5 * size)
                for aside, down in spots
            ]
            free = placing.first_free(boxes, 1.0) or boxes[0]
            at = free.y + 0.36 * size
            drawn.append(text(free.x, at, words, size=size, colour=BLUE, anchor="middle"))
    rows = []
    taken: list[tuple[float, float]] = []
    for number, (words, speed, engine_speed) in enumerate(reached, 1):
        x, y = place(speed, engine_speed)
        foot = low - 6.0
        while any(abs(x - other) < 1.1 * size and abs(foot - its) < 1.1 * size for other, its in taken):
            foot -= 1.2 * size
        taken.append((x, foot))
        drawn.append(line([(x, y), (x, foot - size)], RUST, 1.4))
        drawn.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="{RUST}"/>')
        drawn.append(text(x, foot, str(number), size=size, colour=RUST, is_bold=True, anchor="middle"))
        rows.append(f"{number}  {words}: {_KMH * speed:.0f} km/h, {engine_speed / _RPM:.0f} rpm")
    for row, words in enumerate(rows):
        drawn.append(text(6.0, height + 6.0 + 1.4 * size * row, words, size=size, colour=PENCIL))
    return sheet(
        name,
        "Road speed against engine speed in each gear",
        "; ".join(
            f"gear {number} to {_KMH * gear.speed_at_limiter:.0f} km/h"
            for number, gear in enumerate(gears, 1)
        ),
        width,
        height + 1.4 * size * len(rows) + (2.0 if rows else 0.0),
        drawn,
    )


def _rulings(
    fastest: float, highest: float, left: float, right: float, top: float, low: float, size: float
) -> list[str]:
    drawn = []
    for speed in range(0, int(fastest) + 1, 50):
        x = left + (right - left) * speed / fastest
        drawn.append(line([(x, top), (x, low)], RULE, 1.0))
        drawn.append(text(x, low + size + 4.0, str(speed), size=size, colour=PENCIL, anchor="middle"))
    for engine_speed in range(0, int(highest) + 1, 1000):
        y = low - (low - top) * engine_speed / highest
        drawn.append(line([(left, y), (right, y)], RULE, 1.0))
        if engine_speed % 2000 == 0:
            drawn.append(
                text(left - 6.0, y + 0.36 * size, str(engine_speed), size=size, colour=PENCIL, anchor="end")
            )
    drawn.append(text(right, low + 2.4 * size + 4.0, "km/h", size=size, colour=PENCIL, anchor="end"))
    drawn.append(text(6.0, 16.0, "rpm", size=size, colour=PENCIL))
    return drawn
