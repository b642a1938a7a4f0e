"""The height of the centre of gravity from one axle raised, and how sure it is; kg, m.

The doubts are put together by the law of propagation for independent inputs: JCGM 100:2008, 5.1.2,
equation (10).
"""

import math
from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from tintop.physics.weighing import slope_of_lift


class RaisedWeighing(NamedTuple):
    """Level loads FL FR RL RR and the two of the axle that stays down, raised [kg]; lengths [m].

    `lift` is how far the hubs of the raised axle rose; the hub heights are those when level.
    """

    front_left: float
    front_right: float
    rear_left: float
    rear_right: float
    down_left: float
    down_right: float
    wheelbase: float
    lift: float
    hub_front: float
    hub_rear: float
    is_rear_raised: bool


class RaisedDoubt(NamedTuple):
    """Standard uncertainties: of each pad [kg], of lift, wheelbase and each hub height [m]."""

    pad: float
    lift: float
    wheelbase: float
    hub: float


def gain(weighed: RaisedWeighing) -> float:
    """Give what the axle that stays down gains [kg]."""
    level = (
        weighed.front_left + weighed.front_right
        if weighed.is_rear_raised
        else weighed.rear_left + weighed.rear_right
    )
    return weighed.down_left + weighed.down_right - level


def cg_height_raised(weighed: RaisedWeighing) -> float:
    """Give the height of the centre of gravity [m] above level ground, suspension locked.

    It stands above the line through the hubs by gain × wheelbase ÷ (mass × slope); that line passes below it
    at the hub heights shared as the axles share the load.
    Source: W. F. and D. L. Milliken, Race Car Vehicle Dynamics, SAE 1995, ch. 18 (from memory); statics.
    """
    total = weighed.front_left + weighed.front_right + weighed.rear_left + weighed.rear_right
    front_share = (weighed.front_left + weighed.front_right) / total
    hubs = front_share * weighed.hub_front + (1.0 - front_share) * weighed.hub_rear
    slope = slope_of_lift(weighed.wheelbase, weighed.lift)
    return hubs + gain(weighed) * weighed.wheelbase / (total * slope)


def cg_height_doubt(weighed: RaisedWeighing, doubt: RaisedDoubt) -> tuple[float, Mapping[str, float]]:
    """Give the standard uncertainty of the height [m], and each input's part of it [m] by its word.

    Source: JCGM 100:2008, equation (10); slopes by central differences over one standard uncertainty.
    """
    parts = {
        "scales": _root(
            _change(weighed, name, doubt.pad)
            for name in (
                "front_left",
                "front_right",
                "rear_left",
                "rear_right",
                "down_left",
                "down_right",
            )
        ),
        "lift": abs(_change(weighed, "lift", doubt.lift)),
        "wheelbase": abs(_change(weighed, "wheelbase", doubt.wheelbase)),
        "hub heights": _root(_change(weighed, name, doubt.hub) for name in ("hub_front", "hub_rear")),
    }
    return _root(parts.values()), parts


def unlocked_error(
    weighed: RaisedWeighing,
    sprung_share: float,
    above_hubs: float,
    rate_front: float,
    rate_rear: float,
    gravity: float,
) -> float:
    """Give how much too high the result comes [m] where springs were left to move.

    The end that stays down sinks, the other rises, and the body leans on further than its wheels: by
    gain·g/2 (1/k front + 1/k rear) ÷ wheelbase. Rates [N/m] at one wheel; `above_hubs` [m].
    Source: statics, small angles.
    """
    lean = 0.5 * gain(weighed) * gravity * (1.0 / rate_front + 1.0 / rate_rear) / weighed.wheelbase
    return sprung_share * above_hubs * lean / slope_of_lift(weighed.wheelbase, weighed.lift)


def lift_for_doubt(weighed: RaisedWeighing, doubt: RaisedDoubt, wanted: float) -> float | None:
    """Give the least lift [m] at which the same scales reach a standard uncertainty; None below 45°.

    Source: cg_height_doubt, halved until a millimetre.
    """
    above = gain(weighed) / slope_of_lift(weighed.wheelbase, weighed.lift)

    def reached(lift: float) -> float:
        more = above * slope_of_lift(weighed.wheelbase, lift) - gain(weighed)
        raised = weighed._replace(lift=lift, down_left=weighed.down_left + more)
        return cg_height_doubt(raised, doubt)[0]

    low, high = weighed.lift, math.sin(math.radians(45.0)) * weighed.wheelbase
    if reached(low) <= wanted:
        return low
    if reached(high) > wanted:
        return None
    return _halved(reached, low, high, wanted)


def _halved(reached: Callable[[float], float], low: float, high: float, wanted: float) -> float:
    while high - low > 1e-3:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if reached(middle) <= wanted else (middle, high)
    return high


def _change(weighed: RaisedWeighing, name: str, step: float) -> float:
    """How far the height moves over one standard uncertainty of one input."""
    if step == 0.0:
        return 0.0
    value = float(getattr(weighed, name))
    up = cg_height_raised(weighed._replace(**{name: value + step}))  # type: ignore[arg-type]
    down = cg_height_raised(weighed._replace(**{name: value - step}))  # type: ignore[arg-type]
    return 0.5 * (up - down)


def _root(parts: Iterable[float]) -> float:
    return math.hypot(*parts)
