"""How surely a wheel's numbers are known when each coordinate of its points is known so well."""

import math
from dataclasses import dataclass, fields, replace
from functools import lru_cache

from tintop.car.wheel_motion import WheelPose, wheel_at
from tintop.car.wheel_paths import Strut, Wishbones

POINT_DOUBT = 0.003  # [m] of a coordinate by tape and plumb line; common practice, no source
CAMBER_DOUBT = math.radians(0.15)  # standard uncertainty by gauge; common practice, no source
_TOP_STEP = 0.005
_NAMES = (
    "caster",
    "kingpin_inclination",
    "scrub_radius",
    "trail",
    "camber_rate",
    "toe_rate",
    "roll_centre_height",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WheelDoubt:
    """Standard uncertainties of a `WheelPose` at rest, and of the camber per metre a strut's top moves in."""

    caster: float
    kingpin_inclination: float
    scrub_radius: float
    trail: float
    camber_rate: float
    toe_rate: float
    roll_centre_height: float
    camber_per_inward: float


@lru_cache(maxsize=16)
def wheel_doubt(
    path: Strut | Wishbones, point_doubt: float = POINT_DOUBT, camber_doubt: float = CAMBER_DOUBT
) -> WheelDoubt:
    """Give what a doubt of every coordinate [m] and of the camber as measured [rad] makes of each number,
    all independent.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, eq. 10 (from memory).
    """
    base = _numbers(path)
    squares = [0.0] * len(base)
    moved: list[Strut | Wishbones] = [replace(path, camber=path.camber + camber_doubt)]
    for field in fields(path):
        point = getattr(path, field.name)
        if isinstance(point, tuple):
            for axis in range(3):
                there = tuple(value + point_doubt * (axis == place) for place, value in enumerate(point))
                moved.append(replace(path, **{field.name: there}))  # type: ignore[arg-type]
    for one in moved:
        changed = _numbers(one)
        squares = [square + (new - old) ** 2 for square, new, old in zip(squares, changed, base, strict=True)]
    roots = [square**0.5 for square in squares]
    return WheelDoubt(**dict(zip((*_NAMES, "camber_per_inward"), roots, strict=True)))


def _numbers(path: Strut | Wishbones) -> list[float]:
    pose: WheelPose = wheel_at(path, 0.0)
    lean = wheel_at(path, 0.0, 0.0, _TOP_STEP).camber / _TOP_STEP if isinstance(path, Strut) else 0.0
    return [*(float(getattr(pose, name)) for name in _NAMES), lean]
