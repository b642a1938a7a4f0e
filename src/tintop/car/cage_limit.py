"""What a cage carries at its limit, estimated: hinges in their order, mechanism, buckling, deflection."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tintop.car.cage import Cage, CageLoad, Hinge, LimitEstimate
from tintop.physics.frame import AXIAL, Assembled, FloatArray, critical_factor
from tintop.physics.frame_limit import Strength, limit_factor, plastic_use, stressed
from tintop.physics.frame_struts import Struts, bent_strut_excess, bent_strut_use

_LEVELS = (0.1, 0.3, 0.5, 0.7, 0.9, 0.995)  # of the way from the first hinge to the mechanism
_IS_HINGE = 1.0 - 2e-3
_HALVINGS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingCage:
    """A cage made ready to be loaded: its frame, each piece's strength, and each as a strut."""

    cage: Cage
    ready: Assembled
    strength: Strength
    struts: Struts


def farthest(load: CageLoad, vector: FloatArray, moves: FloatArray) -> tuple[float, int]:
    """Give how far [m] the worst of the loaded nodes goes along the load's axis (0 or more), and which."""
    loaded = np.flatnonzero(np.any(vector != 0.0, axis=1))
    along = (moves[loaded, :3] @ np.array(load.axes).T).max(axis=1)
    place = int(np.argmax(along))
    return max(float(along[place]), 0.0), int(loaded[place])


def estimate(
    standing: StandingCage,
    load: CageLoad,
    vector: FloatArray,
    bars: FloatArray,
    elastic_deflection: float,
    first_yield: float,
) -> LimitEstimate:
    """Estimate the limit from a load (n, 6) and the elastic bar forces (m, 6) under it.

    Where no mechanism was found the first hinge stands for it, which errs to the safe side.
    """
    first_hinge = 1.0 / float(plastic_use(standing.strength, bars).max())
    found = limit_factor(standing.ready, standing.strength, vector.ravel())
    mechanism = max(found, first_hinge) if math.isfinite(found) else first_hinge
    critical = critical_factor(standing.ready, bars[:, AXIAL])
    states = [(first_hinge, first_hinge * bars), *_beyond(standing, vector, first_hinge, mechanism)]
    return LimitEstimate(
        first_yield=first_yield,
        first_hinge=first_hinge,
        first_buckling=_first_buckling(standing, states),
        mechanism=mechanism,
        elastic_critical=critical,
        hinges=_hinges(standing, states),
        deflection=_deflection(
            standing, load, vector, (first_hinge, mechanism, critical), elastic_deflection
        ),
    )


def _beyond(
    standing: StandingCage, vector: FloatArray, first_hinge: float, mechanism: float
) -> Iterator[tuple[float, FloatArray]]:
    for level in _LEVELS if mechanism > first_hinge else ():
        factor = first_hinge + level * (mechanism - first_hinge)
        state = stressed(standing.ready, standing.strength, vector.ravel(), factor)
        if state is not None:
            yield factor, state.bar_forces


def _first_buckling(standing: StandingCage, states: list[tuple[float, FloatArray]]) -> float:
    """The multiple at which the first tube, bent as it is, buckles: along straight lines between states.

    Beyond the last state all forces grow together.
    """
    before, bars_before = 0.0, np.zeros_like(states[0][1])
    for factor, bars in states:
        if bent_strut_excess(standing.strength, standing.struts, bars).max() > 0.0:
            share = _share_carried(standing, bars_before, bars)
            return before + share * (factor - before)
        before, bars_before = factor, bars
    used = float(bent_strut_use(standing.strength, standing.struts, bars_before).max())
    return before / used if used > 0.0 else math.inf


def _share_carried(standing: StandingCage, start: FloatArray, end: FloatArray) -> float:
    """How much of the way from one state of bar forces to another no tube buckles."""
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        bars = start + middle * (end - start)
        if bent_strut_excess(standing.strength, standing.struts, bars).max() > 0.0:
            high = middle
        else:
            low = middle
    return high


def _hinges(standing: StandingCage, states: list[tuple[float, FloatArray]]) -> tuple[Hinge, ...]:
    """Each hinge once, though it shows in both pieces of a tube that runs through its node."""
    found: dict[tuple[str, str], Hinge] = {}
    for factor, bars in states:
        used = plastic_use(standing.strength, bars)
        for place, side in sorted(
            np.argwhere(used >= _IS_HINGE).tolist(), key=lambda at: -used[at[0], at[1]]
        ):
            member = standing.cage.members[place]
            node = member.end if side else member.start
            found.setdefault((member.part, node), Hinge(factor=factor, member=member.name, node=node))
    return tuple(found.values())


def _deflection(
    standing: StandingCage,
    load: CageLoad,
    vector: FloatArray,
    limits: tuple[float, float, float],
    elastic: float,
) -> float | None:
    """At the load itself, with hinges, and swollen by the axial forces' leaning as 1 / (1 - 1/critical).

    Source: S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, ch. 1 (from memory).
    """
    first_hinge, mechanism, critical = limits
    if mechanism <= 1.0 or critical <= 1.0:
        return None
    deflection = elastic
    if first_hinge < 1.0:
        state = stressed(standing.ready, standing.strength, vector.ravel(), 1.0)
        if state is None:
            return None
        deflection = farthest(load, vector, state.moves.reshape(-1, 6))[0]
    return deflection / (1.0 - 1.0 / critical)
