"""The strips of a lap: speed with the limit in force, pedals, gear, accelerations, grip used, balance."""

from dataclasses import replace
from typing import Any

import numpy as np

from tintop.charts.ink import BLUE, INK, LIMIT_STYLES, PAPER, RUST, WHEELS, LimitStyle, Stroke
from tintop.charts.strips import (
    Axis,
    Curve,
    DrawnStrip,
    Strip,
    curve_path,
    draw_strip,
    even_ticks,
    percent,
    with_room,
    words_at,
)
from tintop.circuit.circuit import Circuit
from tintop.errors import refuse
from tintop.lap.trace import FloatArray, LapTrace, Limit
from tintop.lap.vehicle import GRAVITY
from tintop.units import unit_named

MOST_READINGS = 2000
_DIGITS = {"speed": 1, "accelerations": 2}
_NOT_LAID_OVER = "grip"  # four lines over four would not be read
_BAND, _LETTERS = 14.0, 34.0  # [px] at the bottom of the speed strip
_LETTER_WIDE, _LETTER_NARROW = 0.016, 0.05  # share of the lap a stretch needs to carry its letter


def _ink(word: str, colour: str = INK, line: Any = "-") -> Stroke:
    return Stroke(word=word, colour=colour, line=line, marker="o")


_THROTTLE = _ink("throttle", BLUE)
_BRAKE = _ink("brake", RUST, (0.0, (4.0, 1.6)))
_AHEAD = _ink("forward", RUST, (0.0, (4.0, 1.6)))
_ASIDE = _ink("to the left", BLUE)


def lap_axis(lap: LapTrace, circuit: Circuit) -> Axis:
    """The distance driven, corners shaded and numbered; BadInput if the lap is of another circuit."""
    if lap.speed.shape != circuit.x.shape:
        raise refuse("lap", f"{lap.speed.shape[0]} points", f"the circuit's {circuit.x.shape[0]} points")
    mesh = np.arange(lap.distance.shape[0] + 1) * circuit.step
    ends = np.append(lap.distance, lap.length)

    def along(centre_line: float) -> float:
        return float(np.interp(centre_line % circuit.length, mesh, ends))

    shades: list[tuple[float, float]] = []
    for corner in circuit.corners:
        start, end = along(corner.start), along(corner.end)
        shades += [(start, end)] if end >= start else [(start, lap.length), (0.0, end)]
    return Axis(
        words="distance from the start line [m]",
        places=lap.distance,
        first=0.0,
        last=lap.length,
        ticks=tuple((tick, f"{tick:.0f}") for tick in even_ticks(0.0, lap.length, 6)),
        shades=tuple(shades),
        numbers=tuple((along(corner.apex), str(corner.number)) for corner in circuit.corners),
    )


def strips_of(lap: LapTrace, speed_unit: str = "km/h") -> tuple[Strip, ...]:
    """What each strip of a lap shows, speed in the unit named."""
    speed = lap.speed / unit_named(speed_unit, "speed").factor
    top = float(speed.max()) * 1.04
    slowest = float(speed.min())
    height = 168.0
    floor = slowest - _LETTERS / (height - _LETTERS) * (top - slowest) * 1.08
    throttle, brake = 100.0 * lap.channel("throttle"), 100.0 * lap.channel("brake_share")
    gear = lap.channel("gear")
    ahead, aside = lap.longitudinal_acceleration / GRAVITY, lap.lateral_acceleration / GRAVITY
    used = 100.0 * lap.channel("grip_used")
    balance = 100.0 * lap.channel("balance")
    low, high = with_room((ahead, aside))
    even = max(5.0, 1.1 * float(np.max(np.abs(balance))))
    gears = int(gear.max())
    most_used = max(110.0, 1.05 * float(used.max()))
    return (
        Strip(
            name="speed",
            heading="Speed",
            unit=speed_unit,
            curves=(Curve(name="speed", stroke=_ink("speed"), values=speed),),
            low=floor,
            high=top,
            ticks=tuple(tick for tick in even_ticks(0.0, top, 5) if tick > slowest - 0.02 * top),
            height=height,
        ),
        Strip(
            name="pedals",
            heading="Pedals",
            unit="%",
            curves=(
                Curve(name="throttle", stroke=_THROTTLE, values=throttle),
                Curve(name="brake", stroke=_BRAKE, values=brake),
            ),
            low=0.0,
            high=105.0,
            ticks=(0.0, 50.0, 100.0),
            height=72.0,
        ),
        Strip(
            name="gear",
            heading="Gear",
            unit="",
            curves=(Curve(name="gear", stroke=_ink("gear"), values=gear, is_stepped=True),),
            low=0.5,
            high=gears + 0.5,
            ticks=tuple(float(number) for number in range(1, gears + 1)),
            height=72.0,
        ),
        Strip(
            name="accelerations",
            heading="Acceleration",
            unit="g",
            curves=(
                Curve(name="forward", stroke=_AHEAD, values=ahead),
                Curve(name="to the left", stroke=_ASIDE, values=aside),
            ),
            low=low,
            high=high,
            ticks=even_ticks(low, high, 5),
            height=110.0,
        ),
        Strip(
            name="grip",
            heading="Grip used",
            unit="%",
            curves=tuple(
                Curve(
                    name=stroke.word[:2], stroke=replace(stroke, word=stroke.word[:2]), values=used[:, wheel]
                )
                for wheel, stroke in enumerate(WHEELS)
            ),
            low=0.0,
            high=most_used,
            ticks=(0.0, 50.0, 100.0),
            height=110.0,
        ),
        Strip(
            name="balance",
            heading="Balance: understeer above the line",
            unit="%",
            curves=(Curve(name="balance", stroke=_ink("front minus rear grip used"), values=balance),),
            low=-even,
            high=even,
            ticks=even_ticks(-even, even, 3),
            height=72.0,
        ),
    )


def lap_strips(lap: LapTrace, circuit: Circuit, speed_unit: str = "km/h") -> tuple[DrawnStrip, ...]:
    """Draw the strips of a lap, the limit in force as a band of patterns and letters under the speed."""
    axis = lap_axis(lap, circuit)
    speed, *others = strips_of(lap, speed_unit)
    band = _limit_band(lap, speed.height)
    return (
        draw_strip(speed, axis, band=band, key_rows=_limit_key(lap)),
        *(draw_strip(strip, axis) for strip in others),
    )


def changed_paths(lap: LapTrace, circuit: Circuit, changed: LapTrace) -> dict[str, str]:
    """Path data, by curve, of a changed car's lap drawn to the scales of `lap`'s strips.

    The two laps share the path driven. Raises BadInput if they differ in points.
    """
    axis = lap_axis(lap, circuit)
    lap_axis(changed, circuit)
    drawn = {}
    for strip, other in zip(strips_of(lap), strips_of(changed), strict=True):
        for curve in other.curves if strip.name != _NOT_LAID_OVER else ():
            drawn[curve.name] = curve_path(strip, axis, curve.values, is_stepped=curve.is_stepped)
    return drawn


def lap_readings(lap: LapTrace, speed_unit: str = "km/h") -> dict[str, Any]:
    """What the cursor reads out at `MOST_READINGS` places at most, as plain content."""
    n = lap.distance.shape[0]
    chosen = np.arange(0, n, max(1, -(-n // MOST_READINGS)))
    limits = lap.channel("limit").astype(int)[chosen]
    columns = [
        {
            "name": curve.name,
            "label": f"grip {curve.name}" if strip.name == "grip" else curve.name,
            "unit": strip.unit,
            "values": rounded(curve.values[chosen], _DIGITS.get(strip.name, 0)),
        }
        for strip in strips_of(lap, speed_unit)
        for curve in strip.curves
    ]
    return {
        "axis": {"label": "at", "unit": "m", "first": 0.0, "last": lap.length},
        "places": rounded(lap.distance[chosen], 1),
        "columns": columns,
        "words": [LIMIT_STYLES[Limit(int(limit))].word for limit in limits],
        "words_label": "held back by",
        "chosen": chosen.tolist(),
    }


def rounded(values: FloatArray, digits: int) -> list[float]:
    """Values as plain numbers with so many decimals, none of them −0."""
    near = np.round(values, digits) + 0.0
    return [float(value) for value in near] if digits else [int(value) for value in near]


def _limit_band(lap: LapTrace, height: float) -> list[str]:
    limits = lap.channel("limit").astype(int)
    ends = np.append(lap.distance, lap.length) / lap.length
    changes = np.flatnonzero(np.diff(limits)) + 1
    drawn = ["<defs>", *(_pattern(LIMIT_STYLES[limit]) for limit in Limit), "</defs>"]
    for first, last in zip([0, *changes], [*changes, len(limits)], strict=True):
        style = LIMIT_STYLES[Limit(int(limits[first]))]
        start, wide = float(ends[first]), float(ends[last] - ends[first])
        drawn.append(
            f'<rect x="{percent(start)}" y="{height - _BAND:.0f}" width="{percent(wide)}" '
            f'height="{_BAND:.0f}" fill="{_fill(style)}"/>'
        )
        if wide > _LETTER_WIDE:
            kind = "" if wide > _LETTER_NARROW else ' class="wide-only"'
            drawn.append(
                words_at(
                    percent(start + 0.5 * wide),
                    height - _BAND - 4.0,
                    style.letter,
                    colour=style.colour,
                    anchor="middle",
                    extra=f' font-weight="bold"{kind}',
                )
            )
    return drawn


def _limit_key(lap: LapTrace) -> list[str]:
    """Swatch, letter and word of each limit in the lap, the longest in force first, three to a row."""
    shares = lap.limit_share()
    used = sorted(
        (limit for limit in Limit if shares[limit.name.lower()] > 0.0),
        key=lambda limit: -shares[limit.name.lower()],
    )
    rows = []
    for start in range(0, len(used), 3):
        row = []
        for column, limit in enumerate(used[start : start + 3]):
            style, at = LIMIT_STYLES[limit], percent(column / 3.0)
            row.append(
                f'<svg x="{at}" overflow="visible"><rect y="2" width="20" height="12" fill="{_fill(style)}" '
                f'stroke="{style.colour}" stroke-width="0.8"/>'
                + words_at("25", 12.0, style.letter, colour=style.colour, extra=' font-weight="bold"')
                + words_at("38", 12.0, style.word)
                + "</svg>"
            )
        rows.append("".join(row))
    return rows


def _fill(style: LimitStyle) -> str:
    return f"url(#limit-{style.letter})" if style.hatch else style.colour


def _pattern(style: LimitStyle) -> str:
    """A limit's hatch as an SVG pattern, so that the band reads in grey."""
    drawn = {
        "////": "M0,6L6,0M-1,1L1,-1M5,7L7,5",
        "\\\\\\\\": "M0,0L6,6M-1,5L1,7M5,-1L7,1",
        "....": "M1.5,3h3",
        "||||": "M3,0V6",
        "xxxx": "M0,0L6,6M0,6L6,0",
    }.get(style.hatch)
    if drawn is None:
        return ""
    wide = "3" if style.hatch == "...." else "2.2" if style.hatch == "||||" else "1.6"
    return (
        f'<pattern id="limit-{style.letter}" width="6" height="6" patternUnits="userSpaceOnUse">'
        f'<rect width="6" height="6" fill="{PAPER}"/>'
        f'<path d="{drawn}" fill="none" stroke="{style.colour}" stroke-width="{wide}"/></pattern>'
    )
