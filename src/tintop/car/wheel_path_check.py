"""Whether points measured on a car can be a left wheel's, looked at before anything stands on them."""

import math
from itertools import combinations

from tintop.car.wheel_motion import points_of, steering_axis, wheels_at
from tintop.car.wheel_paths import Strut, WheelPath, WheelTable
from tintop.checks import require, within
from tintop.errors import BadInput, refuse

_CLOSEST = 0.005  # [m] between two joints that are not one
_MAY_COINCIDE = (
    {"arm front", "arm rear"},
    {"upper front", "upper rear"},
    {"lower front", "lower rear"},
    {"strut axis", "ball joint"},
)


def check_wheel_path(
    path: WheelPath, where: str, bump_travel: float = 0.05, droop_travel: float = 0.05
) -> None:
    """Refuse, naming `where`, points that are not a left wheel's or whose links cannot meet in the travel."""
    if isinstance(path, WheelTable):
        return
    points = points_of(path)
    for name, point in points.items():
        for value, axis, most in zip(point, "xyz", (6.0, 1.3, 1.5), strict=True):
            within(value, -most, most, f"{where}, {name}, {axis}", "m")
    for (first, one), (second, other) in combinations(points.items(), 2):
        shares_pivot = {first, second} in _MAY_COINCIDE
        require(
            shares_pivot or math.dist(one, other) > _CLOSEST,
            f"{where}, {second}",
            f"the same point as {first}",
            "two points at least 5 mm apart",
        )
    centre = path.wheel_centre
    require(centre[1] > 0.3, f"{where}, wheel centre, y", f"{centre[1]:g} m", "the left wheel's, over 0.3 m")
    require(centre[2] > 0.15, f"{where}, wheel centre, z", f"{centre[2]:g} m", "its height, over 0.15 m")
    lower, upper = steering_axis(points)
    require(
        upper[2] - lower[2] > 0.1,
        f"{where}, {'strut top' if isinstance(path, Strut) else 'upper ball joint'}, z",
        f"{upper[2]:g} m, beside a lower ball joint at {lower[2]:g} m",
        "at least 0.1 m above the lower ball joint",
    )
    if isinstance(path, Strut):
        require(
            path.top[2] - path.strut_axis[2] > 0.1,
            f"{where}, strut axis, z",
            f"{path.strut_axis[2]:g} m",
            f"a point on the strut at least 0.1 m beneath its top at {path.top[2]:g} m",
        )
        within(path.slots_inward, 0.0, 0.06, f"{where}, slots inward", "m")
        within(path.slots_outward, 0.0, 0.06, f"{where}, slots outward", "m")
    tops = {0.0}
    if isinstance(path, Strut):
        tops |= {path.slots_inward, -path.slots_outward}
    try:
        for top in sorted(tops):
            wheels_at(path, (0.0, bump_travel, -droop_travel), (0.0,) * 3, top)
    except BadInput as refusal:
        found = refusal.problems[0]
        raise refuse(where, found.found, found.expected, found.cure) from refusal
