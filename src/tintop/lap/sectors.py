"""A lap cut at the circuit's sectors and corners.

A path's distance differs from the centre line's; points keep their index, so the circuit's distances are
found by index.
"""

from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from tintop.circuit.circuit import Circuit, Path
from tintop.errors import refuse
from tintop.lap.trace import LapTrace, Limit


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSummary:
    """One corner as driven: slowest speed and where, the limit there, balance and gear."""

    number: int
    direction: str
    distance: float
    speed: float
    limit: str
    balance: float
    gear: int


def sector_times(lap: LapTrace, circuit: Circuit, path: Path) -> tuple[float, ...]:
    """Time in each sector [s]; they sum to the lap time."""
    _same_mesh(lap, circuit, path)
    at = np.append(lap.time, lap.lap_time)
    mesh = np.arange(circuit.x.shape[0] + 1) * circuit.step
    ends = [float(np.interp(end, mesh, at)) for end in circuit.sectors]
    ends[-1] = lap.lap_time
    return tuple(float(t) for t in np.diff([0.0, *ends]))


def corner_summaries(lap: LapTrace, circuit: Circuit, path: Path) -> tuple[dict[str, Any], ...]:
    """One row per corner, at its slowest point; balance positive = understeer."""
    _same_mesh(lap, circuit, path)
    n = circuit.x.shape[0]
    limits, balance, gears = lap.channel("limit"), lap.channel("balance"), lap.channel("gear")
    rows = []
    for corner in circuit.corners:
        first = round(corner.start / circuit.step)
        last = round(corner.end / circuit.step)
        if last <= first:
            last += n
        inside = np.arange(first, last + 1) % n
        slowest = int(inside[np.argmin(lap.speed[inside])])
        rows.append(
            asdict(
                CornerSummary(
                    number=corner.number,
                    direction="left" if corner.is_left else "right",
                    distance=float(lap.distance[slowest]),
                    speed=float(lap.speed[slowest]),
                    limit=Limit(int(limits[slowest])).name.lower(),
                    balance=float(balance[slowest]),
                    gear=int(gears[slowest]),
                )
            )
        )
    return tuple(rows)


def _same_mesh(lap: LapTrace, circuit: Circuit, path: Path) -> None:
    if not lap.speed.shape == circuit.x.shape == path.x.shape:
        raise refuse("lap", f"{lap.speed.shape[0]} points", f"the circuit's {circuit.x.shape[0]} points")
