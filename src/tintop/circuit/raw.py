"""A circuit as a file tells it: lines of points, before projecting, stitching and smoothing."""

from dataclasses import dataclass, field

import numpy as np

from tintop.circuit.circuit import FloatArray, PitLane
from tintop.errors import refuse


@dataclass(frozen=True, slots=True, kw_only=True)
class RawLine:
    """One polyline: `first` and `second` are x, y [m], or longitude, latitude [deg] in a geographic file.

    Heights, widths [m] and banking [rad] are None when the file has none; NaN marks a single missing value.
    """

    first: FloatArray
    second: FloatArray
    height: FloatArray | None = None
    width_left: FloatArray | None = None
    width_right: FloatArray | None = None
    banking: FloatArray | None = None
    role: str = ""
    label: str = ""

    def __post_init__(self) -> None:
        for name in ("second", "height", "width_left", "width_right", "banking"):
            values = getattr(self, name)
            if values is not None and values.shape != self.first.shape:
                raise refuse(
                    f"{self.label or 'line'} {name}",
                    f"{values.size} values",
                    f"{self.first.size}, one for each point",
                )
        if not (np.all(np.isfinite(self.first)) and np.all(np.isfinite(self.second))):
            raise refuse(self.label or "line", "a position that is not a number", "finite numbers")


@dataclass(frozen=True, slots=True, kw_only=True)
class RawCircuit:
    """What one file holds: its lines in the order of the file, and what it says about them."""

    lines: tuple[RawLine, ...]
    is_geographic: bool
    name: str
    is_log: bool = False  # a recorded drive that may hold several laps
    published_length: float | None = None  # [m]
    pit_lane: PitLane | None = None
    source: str = ""
    notes: tuple[str, ...] = field(default=())
