"""Where words fit on a map: the first of several places that hides nothing."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle by its centre and half sizes."""

    x: float
    y: float
    half_width: float
    half_height: float

    def meets(self, other: "Box") -> bool:
        """Tell whether two boxes overlap."""
        return (
            abs(self.x - other.x) < self.half_width + other.half_width
            and abs(self.y - other.y) < self.half_height + other.half_height
        )

    def covers(self, x: FloatArray, y: FloatArray, room: float) -> bool:
        """Tell whether any of the points lies inside, or closer than `room`."""
        return bool(
            np.any(
                (np.abs(x - self.x) < self.half_width + room) & (np.abs(y - self.y) < self.half_height + room)
            )
        )


class Placing:
    """Boxes placed one after another, off a line of points and inside a frame."""

    def __init__(self, x: FloatArray, y: FloatArray, width: float, height: float) -> None:
        self._x, self._y = x, y
        self._width, self._height = width, height
        self._placed: list[Box] = []

    def block(self, box: Box) -> None:
        """Keep a place free."""
        self._placed.append(box)

    def first_free(self, candidates: Iterable[Box], room: float) -> Box | None:
        """Take the first candidate that meets nothing; None if there is none."""
        for box in candidates:
            inside = (
                box.half_width <= box.x <= self._width - box.half_width
                and box.half_height <= box.y <= self._height - box.half_height
            )
            if not inside or any(box.meets(placed) for placed in self._placed):
                continue
            if not box.covers(self._x, self._y, room):
                self._placed.append(box)
                return box
        return None
