"""Ballast: where it does the car the most good, and what it asks of its bolts; kg, m, N."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tintop.checks import require

FloatArray = NDArray[np.float64]


def centre_with(mass: float, centre: FloatArray, added: FloatArray, places: FloatArray) -> FloatArray:
    """Give the centre of gravity (3,) [m] after masses (n,) [kg] were put at places (n, 3) [m].

    Source: moments.
    """
    found: FloatArray = (mass * centre + added @ places) / (mass + float(np.sum(added)))
    return found


def best_ballast(
    need: float,
    mass: float,
    centre: FloatArray,
    places: FloatArray,
    most: Sequence[float],
    wanted_x: float | None = None,
) -> FloatArray:
    """Give the mass [kg] for each place (n, 3) that brings the whole to `need` more with the best centre.

    Least is the sum, in metres, of how far the centre lies off the middle, how high it lies, and, where
    `wanted_x` is given, how far it lies from there along the car. BadInput where the places cannot carry it.
    Source: linear programme; each absolute value is a variable no smaller than either sign.
    """
    from scipy.optimize import linprog

    room = float(np.sum(most))
    require(
        need <= room + 1e-9,
        "ballast",
        f"{need:.1f} kg to be carried",
        f"no more than the {room:.1f} kg that the ballast places carry together",
        "Name more places in chassis.toml, or leave something in the car.",
    )
    count = len(places)
    whole = mass + need
    rows, limits = [], []
    for axis, aim, slack in ((1, 0.0, count), (0, wanted_x, count + 1)):
        for sign in (1.0, -1.0):
            row = np.zeros(count + 2)
            if aim is not None:
                row[:count] = sign * places[:, axis]
                row[slack] = -whole
            rows.append(row)
            limits.append(0.0 if aim is None else sign * (aim * whole - mass * centre[axis]))
    found = linprog(
        np.concatenate([places[:, 2] / whole, [1.0, 1.0]]),
        A_ub=np.array(rows),
        b_ub=np.array(limits),
        A_eq=np.concatenate([np.ones(count), [0.0, 0.0]])[None, :],
        b_eq=[need],
        bounds=[*((0.0, float(each)) for each in most), (0.0, None), (0.0, None)],
        method="highs",
    )
    assert found.x is not None
    shares: FloatArray = np.maximum(found.x[:count], 0.0)
    return shares


def in_blocks(masses: FloatArray, most: Sequence[float], block: float) -> FloatArray:
    """Give the masses in whole blocks [kg], together no less than before, none past its most where it fits.

    Each is cut down to whole blocks, and what is missing goes where most was cut. Source: largest remainder.
    """
    found = block * np.floor(masses / block + 1e-9)
    while float(np.sum(found)) < float(np.sum(masses)) - 1e-9:
        room = np.array(most) - found >= block - 1e-9
        if not room.any():
            return masses
        cut = np.where(room, masses - found, -np.inf)
        found[int(np.argmax(cut))] += block
    return found
