"""The strips of a circuit against distance: height, how tightly it bends, width."""

from typing import Any

import numpy as np

from tintop.charts.ink import BLUE, INK, RUST, Stroke
from tintop.charts.lap_strips import MOST_READINGS, rounded
from tintop.charts.strips import Axis, Curve, DrawnStrip, Strip, draw_strip, even_ticks, with_room
from tintop.circuit.circuit import Circuit

_INK = Stroke(word="centre line", colour=INK, line="-", marker="o")
_LEFT = Stroke(word="left", colour=BLUE, line="-", marker="o")
_RIGHT = Stroke(word="right", colour=RUST, line=(0.0, (4.0, 1.6)), marker="s")


def circuit_axis(circuit: Circuit) -> Axis:
    """Distance along the centre line, with the corners shaded and numbered."""
    shades: list[tuple[float, float]] = []
    for corner in circuit.corners:
        if corner.end >= corner.start:
            shades.append((corner.start, corner.end))
        else:
            shades += [(corner.start, circuit.length), (0.0, corner.end)]
    return Axis(
        words="distance from the start line [m]",
        places=np.arange(circuit.x.shape[0], dtype=np.float64) * circuit.step,
        first=0.0,
        last=circuit.length,
        ticks=tuple((tick, f"{tick:.0f}") for tick in even_ticks(0.0, circuit.length, 6)),
        shades=tuple(shades),
        numbers=tuple((corner.apex, str(corner.number)) for corner in circuit.corners),
    )


def circuit_strips_of(circuit: Circuit) -> tuple[Strip, ...]:
    """What each strip shows; heights only where the circuit's document has them."""
    bends = 1e3 * circuit.curvature
    most = 1.1 * max(float(np.max(np.abs(bends))), 1.0)
    strips = [
        Strip(
            name="bends",
            heading="Curvature: left above the line",
            unit="1/km",
            curves=(Curve(name="curvature", stroke=_INK, values=bends),),
            low=-most,
            high=most,
            ticks=even_ticks(-most, most, 5),
        )
    ]
    if circuit.has_heights:
        low, high = with_room((circuit.z,), 0.1)
        height = Strip(
            name="height",
            heading="Height",
            unit="m",
            curves=(Curve(name="height", stroke=_INK, values=circuit.z),),
            low=low,
            high=high,
            ticks=even_ticks(low, high, 4),
        )
        strips.insert(0, height)
    if circuit.has_widths:
        widest = 1.1 * float(max(circuit.width_left.max(), circuit.width_right.max()))
        strips.append(
            Strip(
                name="width",
                heading="Width from the centre line",
                unit="m",
                curves=(
                    Curve(name="left", stroke=_LEFT, values=circuit.width_left),
                    Curve(name="right", stroke=_RIGHT, values=-circuit.width_right),
                ),
                low=-widest,
                high=widest,
                ticks=even_ticks(-widest, widest, 5),
                written=lambda metres: f"{abs(metres):g}",
            )
        )
    return tuple(strips)


def circuit_strips(circuit: Circuit) -> tuple[DrawnStrip, ...]:
    """Draw the strips of a circuit."""
    axis = circuit_axis(circuit)
    return tuple(draw_strip(strip, axis) for strip in circuit_strips_of(circuit))


def circuit_readings(circuit: Circuit) -> dict[str, Any]:
    """What the cursor reads out, at `MOST_READINGS` places at most, as plain content."""
    n = circuit.x.shape[0]
    chosen = np.arange(0, n, max(1, -(-n // MOST_READINGS)))
    columns = [
        {
            "name": curve.name,
            "label": f"width {curve.name}" if strip.name == "width" else curve.name,
            "unit": strip.unit,
            "values": rounded(
                np.abs(curve.values[chosen]) if strip.name == "width" else curve.values[chosen], 1
            ),
        }
        for strip in circuit_strips_of(circuit)
        for curve in strip.curves
    ]
    return {
        "axis": {"label": "at", "unit": "m", "first": 0.0, "last": circuit.length},
        "places": rounded(chosen * circuit.step, 1),
        "columns": columns,
        "words": None,
        "words_label": "",
        "chosen": chosen.tolist(),
    }
