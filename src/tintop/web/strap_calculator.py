"""The calculator of strap angle."""

from collections.abc import Mapping
from typing import Any

from tintop.charts.anchor_drawings import strap_drawing
from tintop.errors import BadInput
from tintop.physics import straps
from tintop.physics.straps import Point
from tintop.web.calculating import Blank, Calculator, Result, Worked, degrees, millimetres

_TWO_SIDED_95 = 1.96
_CAUTION = (
    "Where a clause measures from differs between rule books: top of the backrest, shoulder or hip. Measure "
    "with the driver seated and the straps tight, and near a limit measure again. The scrutineer's reading "
    "counts."
)


def _strap(given: Mapping[str, Any]) -> Worked:
    start = Point(given["x1"], given["y1"], given["z1"])
    end = Point(given["x2"], given["y2"], given["z2"])
    back, across, down = (millimetres(a - b) for a, b in zip(start, end, strict=True))

    def result(name: str, angle: float, spread: float, formula: str, put_in: str) -> Result:
        band = _TWO_SIDED_95 * spread
        low, high = degrees(angle - band, 1), degrees(angle + band, 1)
        return Result(
            name=name,
            value=f"{degrees(angle)}, {low} to {high} 19 times in 20",
            formula=formula,
            put_in=put_in,
            source="geometry; spread √2·e/L, first order",
        )

    side = straps.angle_below_horizontal(start, end)
    spread = straps.side_view_spread(start, end, given["error"])
    results = [
        result(
            "Below horizontal, from the side",
            side,
            spread,
            "atan2(z₁ − z₂, x₁ − x₂)",
            f"atan2({down}, {back})",
        ),
        result(
            "From vertical, from the side (stays)",
            straps.angle_from_vertical(start, end),
            spread,
            "atan2(|x₁ − x₂|, |z₁ − z₂|)",
            f"atan2(|{back}|, |{down}|)",
        ),
    ]
    try:
        plan = straps.plan_angle(start, end)
        plan_spread = straps.plan_view_spread(start, end, given["error"])
        results.append(
            result(
                "To the centre line, from above",
                plan,
                plan_spread,
                "atan2(|y₁ − y₂|, |x₁ − x₂|)",
                f"atan2(|{across}|, |{back}|)",
            )
        )
    except BadInput:
        pass  # straight down: there is no angle seen from above
    slope = f"{degrees(abs(side))} {'below' if side >= 0.0 else 'above'} horizontal"
    lower = "lower" if side > 0.0 else "higher" if side < 0.0 else "level"
    return Worked(
        lead=f"{slope}: the anchor is {lower}.",
        results=tuple(results),
        drawing=strap_drawing("strap", (start.x, start.z), (end.x, end.z), slope),
        caution=_CAUTION,
    )


def _coordinate(name: str, label: str, example: str, hint: str = "") -> Blank:
    return Blank(name=name, label=label, example=example, hint=hint)


STRAP = Calculator(
    address="strap",
    title="Strap angle from two points",
    question="How far does a strap fall to its anchor, and how sure is that?",
    blanks=(
        _coordinate(
            "x1", "P1 forward, x₁", "300 mm", "P1: where the strap leaves the driver's side; any datum"
        ),
        _coordinate("y1", "P1 to the left, y₁", "90 mm"),
        _coordinate("z1", "P1 up, z₁", "800 mm"),
        _coordinate("x2", "Anchor forward, x₂", "0 mm", "negative when it lies behind the datum"),
        _coordinate("y2", "Anchor to the left, y₂", "75 mm"),
        _coordinate("z2", "Anchor up, z₂", "750 mm"),
        Blank(
            name="error",
            label="Each measurement is good to ±",
            example="5 mm",
            hint="two times in three within it",
            refusals=("error of a coordinate",),
        ),
    ),
    work=_strap,
)
