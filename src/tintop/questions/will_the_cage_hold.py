"""Will the cage hold the published proof loads, by a calculation on the owner's own drawing?"""

from dataclasses import dataclass

from tintop.answer import Answer
from tintop.car.cage import Cage, CageLoad, CutTube, LoadResult


@dataclass(frozen=True, slots=True, kw_only=True)
class CageAnswer:
    """The answer, and all it stands on: one result a load in the order given, tubes to cut, mass [kg]."""

    answer: Answer
    cage: Cage
    results: tuple[LoadResult, ...]
    tubes: tuple[CutTube, ...]
    mass: float


def will_the_cage_hold(cage: Cage, loads: tuple[CageLoad, ...]) -> CageAnswer:
    """Answer for a cage under proof loads; raises BadInput for a frame that cannot stand."""
    raise NotImplementedError
