"""Several bolts under one force: shared shear, shear with an offset, a fixed weight under a stated g."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from tintop.checks import require
from tintop.physics.constants import STANDARD_GRAVITY

_MOST_BOLTS = 100


class Place(NamedTuple):
    """A place in the plane of the plate [m], or a force along its axes [N]."""

    x: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupShear:
    """Force on each bolt [N] in the order given, the largest and whose it is, centroid [m], moment [N·m]."""

    forces: tuple[Place, ...]
    largest: float
    worst: int
    centroid: Place
    moment: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BallastLoad:
    """A fixed weight pulled along the floor: whole force, shear of each bolt, tension of the worst [N]."""

    force: float
    shear_per_bolt: float
    tension_of_worst_bolt: float


def force_at(mass: float, times_gravity: float) -> float:
    """Give the force [N] that holds a mass [kg] at so many times standard gravity.

    Source: Newton's second law. BadInput unless both are above 0.
    """
    for value, name, unit in ((mass, "mass", "kg"), (times_gravity, "load", "g")):
        require(math.isfinite(value) and value > 0.0, name, f"{value:g} {unit}", f"more than 0 {unit}")
    return mass * times_gravity * STANDARD_GRAVITY


def shear_in_group(bolts: Sequence[Place], force: Place, at: Place) -> GroupShear:
    """Give each bolt's share of a force in the plane of the plate, acting beside the centroid or through it.

    Places [m], force [N]; equal bolts, stiff plate. Each bolt takes F/n, and from the moment M about the
    centroid M r_i / sum r² square to its arm. Source: R. G. Budynas and J. K. Nisbett, Shigley's Mechanical
    Engineering Design, shear joints with eccentric loading (from memory). BadInput for no bolt, for what is
    not finite, or for a moment on bolts that all stand in one place.
    """
    require(1 <= len(bolts) <= _MOST_BOLTS, "bolts", f"{len(bolts)}", f"1 to {_MOST_BOLTS}")
    numbers = [number for place in (*bolts, force, at) for number in place]
    require(
        all(math.isfinite(n) for n in numbers), "bolt group", "a value that is no number", "finite values"
    )
    count = len(bolts)
    centroid = Place(math.fsum(b[0] for b in bolts) / count, math.fsum(b[1] for b in bolts) / count)
    arms = [Place(b[0] - centroid.x, b[1] - centroid.y) for b in bolts]
    moment = (at[0] - centroid.x) * force[1] - (at[1] - centroid.y) * force[0]
    polar = math.fsum(arm.x**2 + arm.y**2 for arm in arms)
    size = math.hypot(*force)
    twist = 0.0
    if abs(moment) > 1e-12 * size:
        require(
            polar > 1e-12,
            "bolts",
            "a force beside bolts that all stand in one place",
            "two bolts or more, apart from one another",
            "One bolt alone lets the plate turn.",
        )
        twist = moment / polar
    forces = tuple(Place(force[0] / count - twist * arm.y, force[1] / count + twist * arm.x) for arm in arms)
    sizes = [math.hypot(*each) for each in forces]
    worst = max(range(count), key=sizes.__getitem__)
    return GroupShear(forces=forces, largest=sizes[worst], worst=worst, centroid=centroid, moment=moment)


def ballast_load(
    mass: float, times_gravity: float, height: float, from_tipping_edge: Sequence[float]
) -> BallastLoad:
    """Give what a weight bolted to the floor asks of its bolts when pulled along the floor at so many g.

    mass [kg]; height of its centre of gravity above the floor [m]; distance of each bolt from the edge about
    which it would tip [m]. Shear F/n; tension F h c_max / sum c². The weight's own hold on the floor and
    friction are left out, which errs high. Source: statics, tension growing with the distance (from memory:
    Shigley). BadInput for values below 0, no bolt, or all bolts at the tipping edge.
    """
    force = force_at(mass, times_gravity)
    require(math.isfinite(height) and height >= 0.0, "height", f"{height:g} m", "0 m or more")
    require(
        1 <= len(from_tipping_edge) <= _MOST_BOLTS,
        "bolts",
        f"{len(from_tipping_edge)}",
        f"1 to {_MOST_BOLTS}",
    )
    for distance in from_tipping_edge:
        require(
            math.isfinite(distance) and distance >= 0.0,
            "distance from the tipping edge",
            f"{distance:g} m",
            "0 m or more",
        )
    squares = math.fsum(distance**2 for distance in from_tipping_edge)
    require(
        squares > 0.0 or height == 0.0,
        "distance from the tipping edge",
        "every bolt at the edge",
        "a bolt away from it",
        "Bolts at the edge alone let the weight tip.",
    )
    tension = force * height * max(from_tipping_edge) / squares if height > 0.0 else 0.0
    return BallastLoad(
        force=force, shear_per_bolt=force / len(from_tipping_edge), tension_of_worst_bolt=tension
    )
