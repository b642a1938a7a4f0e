"""The performance envelope: longitudinal against lateral acceleration at several speeds, in g."""

import numpy as np

from tintop.charts.ink import INK, LIMIT_STYLES, PAPER, PENCIL
from tintop.charts.plate import head, plate, svg_text
from tintop.errors import refuse
from tintop.lap.performance import PerformanceEnvelope
from tintop.lap.trace import FloatArray, Limit
from tintop.lap.vehicle import GRAVITY

_KMH = 3.6
_DASHES = ("solid", (0.0, (7.0, 2.0)), (0.0, (4.0, 1.5)), (0.0, (6.0, 1.5, 1.2, 1.5)), (0.0, (2.0, 1.2)))


def envelope_svg(envelope: PerformanceEnvelope) -> str:
    """Draw the contour at up to five round speeds, each written on its line, as SVG text.

    Raises BadInput when the envelope holds fewer than two speeds.
    """
    if envelope.speed.shape[0] < 2:
        raise refuse("envelope", f"{envelope.speed.shape[0]} speed", "two speeds or more")
    contours = [(kmh, *_contour(envelope, kmh / _KMH)) for kmh in _round_speeds(envelope)]
    widest = max(float(aside.max()) for _, aside, _, _ in contours)
    hardest = min(float(least.min()) for _, _, _, least in contours)
    strongest = max(float(most.max()) for _, _, most, _ in contours)
    span = 1.0 + strongest - hardest
    across = 5.98 / (1.14 * widest)
    height = min(span - 0.8, 2.4) * min(across, 3.6)
    steady = float(envelope.lateral_limit.max()) / GRAVITY
    with plate(
        (height,),
        "What the car can do at each speed",
        "A flat road; the same to the left and to the right",
        large=f"{steady:.2f} g",
    ) as (figure, (panel,)):
        panel.grid(visible=True, axis="both")
        panel.axhline(0.0, color=PENCIL, linewidth=0.9)
        for (kmh, aside, most, least), dash in zip(contours, _DASHES, strict=False):
            panel.plot(
                np.concatenate((aside, aside[::-1])),
                np.concatenate((most, least[::-1])),
                color=INK,
                linestyle=dash,
            )
            panel.annotate(
                f"{kmh:.0f} km/h",
                (0.02 * widest, float(most[0])),
                va="center",
                bbox={"facecolor": PAPER, "edgecolor": "none", "pad": 0.8},
                fontsize=10,
            )
        axle = Limit(int(np.bincount(envelope.limiting_axle.astype(int)).argmax()))
        style = LIMIT_STYLES[axle]
        panel.annotate(
            f"{style.letter} {style.word} gives out first",
            (0.985, 0.03),
            xycoords="axes fraction",
            ha="right",
            color=style.colour,
            fontweight="bold",
        )
        for words, place in (("accelerating", 0.97), ("braking", 0.03)):
            panel.annotate(
                words,
                (0.5 if words == "accelerating" else 0.02, place),
                xycoords="axes fraction",
                va="top" if place > 0.5 else "bottom",
                color=PENCIL,
            )
        panel.set_xlim(0.0, 1.14 * widest)
        panel.set_ylim(hardest * 1.12, strongest * 1.25)
        panel.set_xlabel("cornering [g]")
        head(panel, "Accelerating above the line, braking below", "g")
        return svg_text(
            figure,
            "envelope",
            "Performance envelope: acceleration along against acceleration across",
            "; ".join(
                f"at {kmh:.0f} km/h {aside[-1]:.2f} g cornering, {most[0]:.2f} g accelerating, "
                f"{-least[0]:.2f} g braking"
                for kmh, aside, most, least in contours
            )
            + ".",
        )


def _round_speeds(envelope: PerformanceEnvelope) -> list[float]:
    low, high = float(envelope.speed[0]) * _KMH, float(envelope.speed[-1]) * _KMH
    for step in (10, 20, 30, 40, 50, 60, 80, 100):
        speeds = [
            float(kmh) for kmh in range(step, int(high) + 1, step) if low <= kmh <= 0.98 * high and kmh >= 40
        ]
        if len(speeds) <= len(_DASHES):
            return speeds or [0.5 * (low + high)]
    return [0.5 * (low + high)]


def _contour(envelope: PerformanceEnvelope, speed: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Lateral, most and least longitudinal acceleration at one speed [g], between the speeds there are."""
    limit = float(np.interp(speed, envelope.speed, envelope.lateral_limit))
    most, least = (
        np.array([np.interp(speed, envelope.speed, column) for column in table.T])
        for table in (envelope.accelerating, envelope.braking)
    )
    return envelope.share * limit / GRAVITY, most / GRAVITY, least / GRAVITY
