"""What logged treads say of an end's camber: where they can be acted on they go before what a lap likes."""

from collections.abc import Collection
from dataclasses import dataclass, replace

from tintop.car.car import DrivenAxle
from tintop.car.chassis import End, Item
from tintop.car.setup_ranges import Ranges
from tintop.car.tread_rules import LEAN_LEAST, LEAN_MOST, evidence
from tintop.car.treads import TreadReading


@dataclass(frozen=True, slots=True, kw_only=True)
class CamberByTreads:
    """What the logged treads say of an end's camber: `way` −1 more negative, 0 leave it, +1 less negative."""

    end: End
    way: int
    lean: float
    session: str

    @property
    def words(self) -> str:
        """As the paddock says it."""
        return {-1: "more negative", 0: "leave it", 1: "less negative"}[self.way]

    @property
    def sentence(self) -> str:
        """What is said where they win over the lap."""
        lean = f"{self.lean:+.0f}".replace("-", "−")
        return (
            f"{self.end.value} camber: the treads of {self.session} say {self.words} (inner over outer "
            f"{lean} K), and they win over the lap, which knows no shoulder"
        )


def camber_by_treads(reading: TreadReading, end: End, driven: DrivenAxle, session: str) -> CamberByTreads:
    """What a reading that can be acted on says of an end's camber by the tread alone."""
    seen = evidence(reading, end, None, driven)
    way = -1 if seen.lean < LEAN_LEAST else 1 if seen.lean > LEAN_MOST else 0
    return CamberByTreads(end=end, way=way, lean=seen.lean, session=session)


def sentences_heard(treads: CamberByTreads | None) -> tuple[str, ...]:
    """What is said of treads that win over the lap; nothing where both want it less negative."""
    if treads is None or treads.way > 0:
        return ()
    return (f"{treads.sentence[:1].upper()}{treads.sentence[1:]}.",)


def left_to_the_treads(
    ranges: Ranges, treads: Collection[CamberByTreads]
) -> tuple[Ranges, tuple[CamberByTreads, ...]]:
    """The ranges without a camber that the treads want as it is or more negative, and what was heard.

    One that is not allowed where it stands stays to be moved.
    """
    ends = {one.end: one for one in treads if one.way <= 0}
    out = [
        each
        for each in ranges.found
        if each.item is Item.CAMBER and each.end in ends and each.name not in ranges.moved
    ]
    told = {each.name: f"the treads say {ends[each.end].words}" for each in out if each.end}
    kept = tuple(each for each in ranges.found if each not in out)
    heard = tuple(ends[each.end] for each in out if each.end)
    return replace(ranges, found=kept, left_out={**ranges.left_out, **told}), heard
