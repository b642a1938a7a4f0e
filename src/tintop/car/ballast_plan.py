"""Ballast to be at the class minimum when the flag falls: how much, where, and what it asks of its bolts."""

import math
from dataclasses import dataclass

import numpy as np

from tintop.car.car import Car
from tintop.car.chassis import BallastPlace, Chassis
from tintop.physics.ballast import best_ballast, centre_with, in_blocks
from tintop.physics.bolt_groups import ballast_load
from tintop.physics.bolts import combined_use, shear_capacity, tension_capacity

BLOCK = 0.5  # [kg]: plates are cut to this
TIMES_GRAVITY = 25.0  # as one national book asks of a bottle; the rule book's own clause comes first
THREAD, GRADE = "M8", "8.8"
_CENTRE_UP, _BOLT_APART = 0.04, 0.14  # of a flat block and its two rows of bolts [m]; own choice
_MOST_BOLTS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Centre:
    """A centre of gravity [m]: x forward of the front axle, y left of the middle, z above the road."""

    x: float
    y: float
    z: float

    def front_share(self, wheelbase: float) -> float:
        """Share of the weight on the front axle."""
        return 1.0 + self.x / wheelbase

    def left_share(self, track: float) -> float:
        """Share of the weight on the left wheels."""
        return 0.5 + self.y / track


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A mass [kg] at a place; its pull at 25 g [N]; how many bolts hold that, None past eight."""

    place: BallastPlace
    mass: float
    pull: float
    bolts: int | None
    centre: Centre  # of the whole car with this


@dataclass(frozen=True, slots=True, kw_only=True)
class BallastPlan:
    """The car at the finish against the least mass [kg]; `placed` together is best, `alone` each."""

    least: float
    at_finish: float
    doubt: float  # standard uncertainty of the mass at the finish
    finish_fuel: float  # [kg]
    need: float
    before: Centre
    after: Centre
    placed: tuple[Placed, ...]
    alone: tuple[Placed, ...]

    @property
    def margin(self) -> float:
        """Mass at the finish over the least [kg]; negative is short."""
        return self.at_finish - self.least


def ballast_plan(
    car: Car, chassis: Chassis, mass: float, centre: Centre, doubt: float, finish_fuel: float
) -> BallastPlan | None:
    """Plan it for a car without fuel, driver aboard, its centre known; None without a class minimum.

    What is missing counts twice the doubt of the scales, for the scrutineer's are others. finish_fuel [kg]
    lies in the tank. BadInput where the places do not carry it.
    """
    if chassis.least_mass is None:
        return None
    tank = Centre(x=-car.masses.tank_behind_front_axle, y=0.0, z=car.masses.tank_height)
    at_finish = mass + finish_fuel
    before = _joined(mass, centre, ((finish_fuel, tank),))
    need = max(0.0, chassis.least_mass + 2.0 * doubt - at_finish)
    placed: tuple[Placed, ...] = ()
    alone: tuple[Placed, ...] = ()
    after = before
    places = chassis.ballast_places
    if need > 0.0 and places:
        whole = BLOCK * math.ceil(need / BLOCK - 1e-9)
        at = np.array([(one.x, one.y, one.z) for one in places])
        most = [one.most for one in places]
        middle = np.array([before.x, before.y, before.z])
        shares = in_blocks(best_ballast(whole, at_finish, middle, at, most), most, BLOCK)
        chosen = [(float(kg), one) for kg, one in zip(shares, places, strict=True) if kg > 0.0]
        after = _of(centre_with(at_finish, middle, shares, at))
        placed = tuple(_placed(one, kg, at_finish, before) for kg, one in chosen)
        alone = tuple(
            _placed(one, whole, at_finish, before)
            for one in places
            if one.most >= whole and [one] != [each for _, each in chosen]
        )
    return BallastPlan(
        least=chassis.least_mass,
        at_finish=at_finish,
        doubt=doubt,
        finish_fuel=finish_fuel,
        need=need,
        before=before,
        after=after,
        placed=placed,
        alone=alone,
    )


def bolts_needed(mass: float) -> int | None:
    """M8 8.8 bolts, an even number, that hold a flat block pulled along the floor at 25 g; None past eight.

    The block's middle 40 mm above the floor, two rows of bolts 140 mm apart, each used no more than half.
    Source: as bolt_groups.ballast_load and bolts.combined_use; half is own choice.
    """
    shear, tension = shear_capacity(THREAD, GRADE).value, tension_capacity(THREAD, GRADE).value
    for count in range(2, _MOST_BOLTS + 1, 2):
        rows = [0.03] * (count // 2) + [0.03 + _BOLT_APART] * (count // 2)
        load = ballast_load(mass, TIMES_GRAVITY, _CENTRE_UP, rows)
        if combined_use(load.shear_per_bolt, load.tension_of_worst_bolt, shear, tension) <= 0.5:
            return count
    return None


def _placed(place: BallastPlace, mass: float, car: float, before: Centre) -> Placed:
    return Placed(
        place=place,
        mass=mass,
        pull=ballast_load(mass, TIMES_GRAVITY, _CENTRE_UP, [_BOLT_APART]).force,
        bolts=bolts_needed(mass),
        centre=_joined(car, before, ((mass, Centre(x=place.x, y=place.y, z=place.z)),)),
    )


def _joined(mass: float, centre: Centre, more: tuple[tuple[float, Centre], ...]) -> Centre:
    added = np.array([each for each, _ in more])
    places = np.array([(at.x, at.y, at.z) for _, at in more])
    return _of(centre_with(mass, np.array([centre.x, centre.y, centre.z]), added, places))


def _of(values: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> Centre:
    x, y, z = (float(each) for each in values)
    return Centre(x=x, y=y, z=z)
