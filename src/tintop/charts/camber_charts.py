"""Camber drawn: links from the front to scale, camber and toe over bump, the lap against the tread."""

import math
from collections.abc import Sequence

import numpy as np

from tintop.car.wheel_motion import WheelPose
from tintop.car.wheel_paths import Point
from tintop.charts.ink import BLUE, INK, MOSS, OCHRE, PENCIL, ROAD, RULE, RUST
from tintop.charts.labels import Box, FloatArray, Placing
from tintop.charts.strips import even_ticks
from tintop.charts.svg import line, sheet, text
from tintop.questions.which_camber import WhichCamber, degrees

Places = Sequence[tuple[float, float]]
_TYRE_WIDTH = 0.19  # [m] as drawn
_SIZE = 13


class _Frame:
    """Axes with room for values (low, high) both ways."""

    def __init__(self, across: tuple[float, float], up: tuple[float, float], is_narrow: bool) -> None:
        self.width, self.height = (360.0, 300.0) if is_narrow else (760.0, 340.0)
        self.across, self.up = _opened(across), _opened(up)
        self._left, self._right, self._top, self._bottom = 58.0, self.width - 18.0, 40.0, self.height - 48.0
        self._ticks = 5 if is_narrow else 9

    def at(self, x: float, y: float) -> tuple[float, float]:
        wide, high = self._right - self._left, self._bottom - self._top
        return (
            self._left + wide * (x - self.across[0]) / (self.across[1] - self.across[0]),
            self._bottom - high * (y - self.up[0]) / (self.up[1] - self.up[0]),
        )

    def grid(self, across_words: str, up_words: str) -> list[str]:
        drawn = []
        for value in even_ticks(*self.up, 6):
            x, y = self.at(self.across[0], value)
            drawn.append(line([(x, y), (self._right, y)], RULE, 1.0))
            drawn.append(text(x - 6.0, y + 4.5, _short(value), size=13, colour=PENCIL, anchor="end"))
        for value in even_ticks(*self.across, self._ticks):
            x, y = self.at(value, self.up[0])
            drawn.append(line([(x, y), (x, y + 5.0)], PENCIL, 1.0))
            drawn.append(text(x, y + 19.0, _short(value), size=13, colour=PENCIL, anchor="middle"))
        drawn.append(line([(self._left, self._bottom), (self._right, self._bottom)], PENCIL, 1.2))
        drawn.append(text(8.0, 20.0, up_words, size=13, colour=PENCIL))
        drawn.append(text(self._right, self.height - 8.0, across_words, size=13, colour=PENCIL, anchor="end"))
        return drawn

    def curve(self, places: Places, colour: str, dash: str = "", width: float = 2.4) -> str:
        return line([self.at(*each) for each in places], colour, width, dash)


class _Words:
    """Words beside their points, off the lines and off each other; none where there is no room."""

    def __init__(self, frame: _Frame, places: Places) -> None:
        line_x, line_y = _filled(places)
        self._placing = Placing(line_x, line_y, frame.width, frame.at(0.0, frame.up[0])[1])

    def beside(self, spots: Places, words: str, colour: str) -> list[str]:
        """The words at the first of the spots that has room for them."""
        half = 0.31 * _SIZE * len(words)
        for x, y in spots:
            boxes = [
                Box(x=x + way * (half + 8.0), y=y + up * 13.0, half_width=half, half_height=0.5 * _SIZE)
                for way, up in ((1, 0), (1, -1), (1, 1), (-1, 0), (-1, -1), (-1, 1), (0, -1), (0, 1))
            ]
            free = self._placing.first_free(boxes, 2.0)
            if free:
                at = free.y + 0.36 * _SIZE
                return [text(free.x, at, words, size=_SIZE, colour=colour, is_bold=True, anchor="middle")]
        return []


def _filled(places: Places) -> tuple[FloatArray, FloatArray]:
    """The points of the lines between the places, close enough that no words slip between."""
    x, y = np.array(places).T
    steps = np.linspace(0.0, len(x) - 1.0, 24 * len(x))
    return np.interp(steps, np.arange(len(x)), x), np.interp(steps, np.arange(len(y)), y)


def bump_svg(found: WhichCamber, *, is_narrow: bool = False, name: str = "bump") -> str:
    """Camber and toe against bump: blue camber, rust toe, dashed as it stood before the top was moved."""
    moved, before = found.curve_moved, found.curve
    values = [math.degrees(angle) for pose in (*moved, *before) for angle in (pose.camber, pose.toe)]
    travels = [1e3 * pose.travel for pose in moved]
    frame = _Frame((min(travels), max(travels)), (min(values), max(values)), is_narrow)
    drawn = frame.grid("wheel travel, mm, bump to the right", "degrees from the wheel as it stands")
    drawn.append(line([frame.at(0.0, frame.up[0]), frame.at(0.0, frame.up[1])], RULE, 1.4))
    is_moved = found.move is not None and bool(found.move.inward)
    drawn_ones = [(before, "3 4", 1.4), (moved, "", 2.6)][0 if is_moved else 1 :]
    for curve, dash, width in drawn_ones:
        for colour, angle in ((BLUE, "camber"), (RUST, "toe")):
            places = [(1e3 * pose.travel, math.degrees(getattr(pose, angle))) for pose in curve]
            drawn.append(frame.curve(places, colour, dash or ("8 3" if angle == "toe" else ""), width))
    lines = {
        angle: [frame.at(1e3 * pose.travel, math.degrees(getattr(pose, angle))) for pose in moved]
        for angle in ("camber", "toe")
    }
    words = _Words(frame, [*lines["camber"], *lines["toe"]])
    drawn += words.beside(lines["camber"][2:], "camber", BLUE)
    drawn += words.beside(lines["toe"][::-1], "toe in +", RUST)
    says = (
        f"In full bump camber changes by {degrees(moved[-1].camber, 2)} and toe by "
        f"{degrees(moved[-1].toe, 2)}; in "
        f"full droop by {degrees(moved[0].camber, 2)} and {degrees(moved[0].toe, 2)}."
        + (" Dotted: before the top was moved." if is_moved else "")
    )
    return sheet(name, "Camber and toe against bump", says, frame.width, frame.height, drawn)


def front_view_svg(found: WhichCamber, *, is_narrow: bool = False, name: str = "front-view") -> str:
    """The left wheel's links from the front, to scale, the car's middle to the right; empty for a table."""
    if not found.rest.points:
        return ""
    view = _View(found.rest, is_narrow)
    drawn = [view.ground(), *view.wheel(found), *view.links(), *view.axis(found)]
    return sheet(
        name,
        "The left wheel's links from the front, to scale",
        _links_words(found),
        view.width,
        view.height,
        [*drawn, *view.words(found)],
    )


class _View:
    """The left wheel as one stands before the car and looks rearwards: outwards is to the right."""

    def __init__(self, pose: WheelPose, is_narrow: bool) -> None:
        self.points = dict(pose.points)
        self.pose = pose
        self.width, self.height = (360.0, 420.0) if is_narrow else (620.0, 520.0)
        ys = [point[1] for point in self.points.values()]
        zs = [point[2] for point in self.points.values()]
        self._low = min(ys) - 0.06
        most = max(ys) + 0.5 * _TYRE_WIDTH + 0.06
        self._scale = min((self.width - 30.0) / (most - self._low), (self.height - 110.0) / (max(zs) + 0.06))

    def at(self, y: float, z: float) -> tuple[float, float]:
        return 15.0 + self._scale * (y - self._low), self.height - 66.0 - self._scale * z

    def of(self, name: str) -> tuple[float, float]:
        return self.at(*self.points[name][1:])

    def ground(self) -> str:
        _, y = self.at(0.0, 0.0)
        return line([(8.0, y), (self.width - 8.0, y)], PENCIL, 1.4)

    def wheel(self, found: WhichCamber) -> list[str]:
        """The tyre's outline at the camber of the set-up."""
        middle = 0.5 * (found.setup.pair(found.end)[0].camber + found.setup.pair(found.end)[1].camber)
        centre = self.points["wheel centre"]
        radius = centre[2]
        corners = []
        for out, up in ((1, 1), (1, -1), (-1, -1), (-1, 1)):
            y, z = 0.5 * out * _TYRE_WIDTH, up * radius
            corners.append(
                self.at(
                    centre[1] + y * math.cos(middle) + z * math.sin(middle),
                    centre[2] - y * math.sin(middle) + z * math.cos(middle),
                )
            )
        return [f'<path d="{_closed(corners)}" fill="{ROAD}" stroke="{PENCIL}" stroke-width="1.2"/>']

    def links(self) -> list[str]:
        drawn = []
        names = (
            (("arm front", "ball joint"), ("arm rear", "ball joint"), ("track rod inner", "track rod outer"))
            if "strut top" in self.points
            else (
                ("upper front", "upper ball joint"),
                ("upper rear", "upper ball joint"),
                ("lower front", "lower ball joint"),
                ("lower rear", "lower ball joint"),
                ("track rod inner", "track rod outer"),
            )
        )
        for one, other in names:
            is_rod = one.startswith("track rod")
            drawn.append(
                line([self.of(one), self.of(other)], OCHRE if is_rod else INK, 3.0, "7 3" if is_rod else "")
            )
        if "strut top" in self.points:
            drawn.append(line([self.of("strut top"), self.of("strut axis")], BLUE, 6.0))
            drawn.append(line([self.of("strut axis"), self.of("ball joint")], INK, 2.0))
        for name in self.points:
            x, y = self.of(name)
            drawn.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="{INK}"/>')
        return drawn

    def axis(self, found: WhichCamber) -> list[str]:
        """The steering axis to the ground, and the strut top's slots."""
        lower = self.points.get("ball joint") or self.points["lower ball joint"]
        upper = self.points.get("strut top") or self.points["upper ball joint"]
        reach = lower[2] / (upper[2] - lower[2])
        foot: Point = (0.0, lower[1] + reach * (lower[1] - upper[1]), 0.0)
        return [line([self.at(*upper[1:]), self.at(*foot[1:])], MOSS, 1.6, "2 4")]

    def words(self, found: WhichCamber) -> list[str]:
        pose = found.rest
        rows = [
            f"king pin {math.degrees(pose.kingpin_inclination or 0.0):.1f}°, "
            f"caster {math.degrees(pose.caster or 0.0):.1f}°",
            f"scrub {1e3 * (pose.scrub_radius or 0.0):.0f} mm, trail {1e3 * (pose.trail or 0.0):.0f} mm, "
            f"roll centre {1e3 * pose.roll_centre_height:.0f} mm",
        ]
        drawn = [
            text(12.0, self.height - 30.0 + 20.0 * place, words.replace("-", "−"), size=14)
            for place, words in enumerate(rows)
        ]
        if "strut top" in self.points:
            x, y = self.of("strut top")
            drawn.append(text(x, y - 12.0, "strut top", size=13, colour=BLUE, anchor="middle"))
        return drawn


def wear_svg(found: WhichCamber, *, is_narrow: bool = False, name: str = "wear") -> str:
    """The lap behind its best against what the drive takes off the inner edge, a mark for each camber."""
    choice = found.choice
    best = min(step.lap_time for step in choice.steps)
    places = [(1e3 * step.inner, step.lap_time - best) for step in choice.steps]
    limit = 1e3 * choice.limit
    now = (1e3 * choice.now.inner, choice.now.lap_time - best)
    frame = _Frame(
        (0.0, 1.05 * max(*(x for x, _ in places), now[0])),
        (0.0, max(0.1, 1.15 * max(*(y for _, y in places), now[1]))),
        is_narrow,
    )
    drawn = frame.grid(
        f"mm off the inner edge in {choice.road_distance / 1e3:.0f} km (estimate)",
        "lap, s behind its best",
    )
    if limit < frame.across[1]:
        drawn.append(line([frame.at(limit, 0.0), frame.at(limit, frame.up[1])], OCHRE, 1.8, "4 3"))
        x, y = frame.at(limit, frame.up[1])
        drawn.append(text(x - 4.0, y + 14.0, "your limit", size=13, colour=OCHRE, anchor="end"))
    drawn.append(frame.curve(places, BLUE))
    x, y = frame.at(*now)
    words = _Words(frame, [*(frame.at(*each) for each in places), (x, y)])
    drawn.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="7" fill="none" stroke="{RUST}" stroke-width="2.4"/>')
    drawn += words.beside([(x, y)], "as set", RUST)
    ends = (places[0], places[-1], min(places, key=lambda each: each[1]))
    steps = sorted(zip(choice.steps, places, strict=True), key=lambda each: each[1] not in ends)
    for step, each in steps:
        x, y = frame.at(*each)
        said = words.beside([(x, y)], degrees(step.camber), BLUE)
        radius = 3.6 if said else 2.0
        drawn += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}" fill="{BLUE}"/>', *said]
    says = (
        f"As set {degrees(choice.now.camber)}: {now[1]:.2f} s behind the best, {now[0]:.2f} mm off the "
        f"inner edge."
    )
    return sheet(name, "The lap against the tread's inner edge", says, frame.width, frame.height, drawn)


def _links_words(found: WhichCamber) -> str:
    pose = found.rest
    return (
        f"King-pin inclination {degrees(pose.kingpin_inclination or 0.0)}, scrub radius "
        f"{1e3 * (pose.scrub_radius or 0.0):.0f} mm, roll centre {1e3 * pose.roll_centre_height:.0f} mm."
    )


def _closed(places: Places) -> str:
    return "M" + " L".join(f"{x:.1f},{y:.1f}" for x, y in places) + "Z"


def _opened(room: tuple[float, float]) -> tuple[float, float]:
    """A little more than the values span; never nothing."""
    low, high = room
    spare = 0.06 * (high - low) or 0.5
    return (low if low == 0.0 else low - spare), high + spare


def _short(value: float) -> str:
    return f"{value:.10g}".replace("-", "−") if abs(value) > 1e-9 else "0"
