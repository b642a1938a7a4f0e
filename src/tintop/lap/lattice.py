"""The best place on a bounded grid of whole steps, with things that must hold: exact comparisons, no dice.

A place is one index per dimension. Whether it is allowed comes first, its cost second: of two places that
break something the one that breaks it less is the better. Method: line searches along one dimension at a
time, then along pairs, from several starts, after R. Hooke and T. A. Jeeves, "Direct search" solution of
numerical and statistical problems, J. ACM 8, 1961 (from memory). No better pair of steps is left at what is
found; that nothing better lies further off is not proven.
"""

from collections.abc import Callable, Sequence
from itertools import combinations

Place = tuple[int, ...]
Merit = tuple[float, float]  # how far something is broken (0 = nothing), cost
Progress = Callable[[float], None]

_TRIED_WHOLE = 9  # places of a line that are all tried
_STRIDES = 6  # steps across a longer line at first
_FEWEST_SHARES = (0.25, 0.75)  # of each line, where the further starts stand


def best_place(
    sizes: Sequence[int],
    start: Place,
    merit: Callable[[Place], Merit],
    progress: Progress | None = None,
    flat: float = 0.0,
) -> tuple[Place, int]:
    """Give the best place found and how many places were looked at.

    `sizes` counts the places of each dimension; `start` is one place. A dimension along which nothing breaks
    and the cost moves by less than `flat` is not looked at again in pairs. `progress` hears of every place
    looked at and may raise to stop. Each place is looked at once.
    """
    seen: dict[Place, Merit] = {}
    tell = progress or (lambda _share: None)
    expected = 40.0 + 3.0 * sum(min(size, 12) for size in sizes) * 3.0 + 24.0 * len(sizes) ** 2

    def look(place: Place) -> Merit:
        if place not in seen:
            tell(min(len(seen) / expected, 0.98))
            seen[place] = merit(place)
        return seen[place]

    starts = [start] + [tuple(round(share * (size - 1)) for size in sizes) for share in _FEWEST_SHARES]
    found = [_descended(sizes, one, look, flat) for one in starts]
    tell(1.0)
    return min(found, key=look), len(seen)


def _descended(sizes: Sequence[int], start: Place, look: Callable[[Place], Merit], flat: float) -> Place:
    at = start
    while True:
        before = at
        for dimension, size in enumerate(sizes):
            at = _best_on_line(at, dimension, size, look)
        steep = [
            dimension for dimension, size in enumerate(sizes) if _is_steep(at, dimension, size, look, flat)
        ]
        at = _best_by_pairs(at, sizes, steep, look)
        if at == before:
            return at


def _best_on_line(at: Place, dimension: int, size: int, look: Callable[[Place], Merit]) -> Place:
    """All places of a short line; of a long one a few across it, then ever smaller steps about the best."""
    if size <= _TRIED_WHOLE:
        return min((_moved(at, dimension, to) for to in range(size)), key=look, default=at)
    stride = max(1, size // _STRIDES)
    best = min((at, *(_moved(at, dimension, to) for to in (*range(0, size, stride), size - 1))), key=look)
    while stride > 1:
        stride = max(1, stride // 2)
        best = _climbed(best, dimension, size, stride, look)
    return best


def _climbed(best: Place, dimension: int, size: int, stride: int, look: Callable[[Place], Merit]) -> Place:
    while True:
        here = best[dimension]
        beside = [to for to in (here - stride, here + stride) if 0 <= to < size]
        better = min((best, *(_moved(best, dimension, to) for to in beside)), key=look)
        if better == best:
            return best
        best = better


def _is_steep(at: Place, dimension: int, size: int, look: Callable[[Place], Merit], flat: float) -> bool:
    """Whether the ends of a line lie apart from this place by `flat` or more, or break more or less."""
    broken, cost = look(at)
    for to in (0, size - 1):
        broken_there, cost_there = look(_moved(at, dimension, to))
        if broken_there != broken or abs(cost_there - cost) >= flat:
            return True
    return False


def _best_by_pairs(
    at: Place, sizes: Sequence[int], steep: Sequence[int], look: Callable[[Place], Merit]
) -> Place:
    """Two dimensions moved together, by one step and by a longer one, so that a ridge can be followed."""
    for first, second in combinations(steep, 2):
        for step_first in _steps(sizes[first]):
            for step_second in _steps(sizes[second]):
                to_first, to_second = at[first] + step_first, at[second] + step_second
                if 0 <= to_first < sizes[first] and 0 <= to_second < sizes[second]:
                    place = _moved(_moved(at, first, to_first), second, to_second)
                    if look(place) < look(at):
                        at = place
    return at


def _steps(size: int) -> tuple[int, ...]:
    long = max(1, size // 8)
    return tuple(dict.fromkeys((-long, -1, 1, long)))


def _moved(place: Place, dimension: int, to: int) -> Place:
    return (*place[:dimension], to, *place[dimension + 1 :])
