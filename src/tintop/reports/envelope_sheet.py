"""The performance envelope as a table."""

from tintop.lap.performance import PerformanceEnvelope
from tintop.lap.trace import Limit
from tintop.reports.sheet import Table

_GRAVITY = 9.80665


def envelope_table(envelope: PerformanceEnvelope) -> Table:
    """Cornering, accelerating and braking by speed, in multiples of gravity, on a flat road."""
    half = envelope.share.shape[0] // 2
    return Table(
        title="What the car can do, in g",
        columns=(
            "km/h",
            "cornering",
            "limited by",
            "accelerating",
            "braking",
            f"braking at {envelope.share[half]:.0%} cornering",
        ),
        rows=[
            (
                f"{3.6 * speed:.0f}",
                f"{envelope.lateral_limit[row] / _GRAVITY:.3f}",
                Limit(int(envelope.limiting_axle[row])).name.lower().replace("_", " "),
                f"{envelope.accelerating[row, 0] / _GRAVITY:.3f}",
                f"{-envelope.braking[row, 0] / _GRAVITY:.3f}",
                f"{-envelope.braking[row, half] / _GRAVITY:.3f}",
            )
            for row, speed in enumerate(envelope.speed)
        ],
    )
