"""The best set-up for a circuit from what can be adjusted, within what must hold, and what of it matters.

The search drives quick laps; what each change is worth and how flat the optimum is come from whole laps.
Symbols and equations: docs/theory/setup_search.md.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from tintop.car.chassis import Chassis, Item
from tintop.car.setup import Setup
from tintop.car.setup_ranges import AdjusterRange, Ranges, with_value
from tintop.car.setup_ranges import Place as Setting
from tintop.errors import BadInput
from tintop.lap.lattice import Merit, Progress, best_place
from tintop.lap.lattice import Place as Grid
from tintop.lap.outer_wheel import OUTER_SHOULDER, UPRIGHT
from tintop.lap.setup_effect import Quick

LAP_NOISE = 0.014  # [s]: two laps nearer than that are the same lap; measured, see the theory
LEAST_WORTH = 0.02  # [s]: a change worth less is not worth a spanner
REAR_LOCKS, BUMP_STOPS = "rear wheels may lock first", "on the bump stops"
NOT_ALLOWED = "not allowed as it is"
NEAR = 0.05  # [s]: within it the optimum is called flat
_ROUNDING = 1e-6  # by which a demand may be missed
_FLAT = 0.004  # [s]: an adjuster that moves the lap by less from end to end is not tried in pairs
_SLACK_BALANCE, _SLACK_BUMP, _SLACK_LEAN = 0.005, 0.002, 0.001  # by which what is missed now may grow


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """What must hold: limit balance from `balance_low` to `balance_high`, positive = understeer, None = free;
    `lock_margin` of front share in hand before the rear wheels lock first; `bump_left` [m] of bump travel at
    the hardest place of the lap; `outer_lean` [rad] the most that the outer wheel may lean outwards.
    """

    balance_low: float | None = None
    balance_high: float | None = None
    lock_margin: float = 0.0
    bump_left: float = 0.0
    outer_lean: float = UPRIGHT

    def broken(self, found: Quick) -> float:
        """How far something is missed, each by its own measure, added up; 0 where all holds."""
        return sum(self.missed(found).values())

    def missed(self, found: Quick) -> dict[str, float]:
        """By how much each is missed: shares of limit and brake force, decimetres of travel, radians."""
        misses = {
            "too much oversteer": 0.0 if self.balance_low is None else self.balance_low - found.balance,
            "too much understeer": 0.0 if self.balance_high is None else found.balance - self.balance_high,
            REAR_LOCKS: self.lock_margin - found.lock_margin,
            BUMP_STOPS: 10.0 * (self.bump_left - found.bump_left),
            OUTER_SHOULDER: found.outer_lean - self.outer_lean,
        }
        return {name: by for name, by in misses.items() if by > _ROUNDING}


Judge = Callable[[Setup], Quick]
_CANNOT_BE = Quick(lap_time=math.inf, balance=-math.inf, lock_margin=-math.inf, bump_left=-math.inf)


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing to change: `worth` is the time lost by leaving it out [s], `gained` the gain with it and all
    those before it. `worth` is None where something rests on it that must hold, which `needed_for` names.
    """

    range: AdjusterRange
    before: Setting
    after: Setting
    worth: float | None
    gained: float
    needed_for: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flatness:
    """The lap along one adjuster with all others as suggested: time lost [s] at each of its places.

    `broken` says of each place what it would break, empty where nothing. `low` and `high` are the outermost
    places next to the suggested one that lose less than `NEAR` and break nothing.
    """

    range: AdjusterRange
    at: int
    lost: tuple[float, ...]
    broken: tuple[str, ...]
    low: int
    high: int

    @property
    def one_step(self) -> tuple[float | None, float | None]:
        """Time lost by one step down and up [s]; None where there is no further step."""
        down = self.lost[self.at - 1] if self.at > 0 else None
        up = self.lost[self.at + 1] if self.at + 1 < len(self.lost) else None
        return down, up


@dataclass(frozen=True, slots=True, kw_only=True)
class Searched:
    """What was found: `best` without regard to trouble, `setup` with the changes that matter alone.

    `not_worth` names adjusters that were moved in `best` and put back, which loses `given_up` [s].
    `quick_gain` is the gain as the search saw it, `gain` that by whole laps [s]. `still_broken` names what
    is missed all the same.
    """

    best: Setup
    setup: Setup
    quick_gain: float
    gain: float
    given_up: float
    changes: tuple[Change, ...]
    not_worth: tuple[str, ...]
    flatness: tuple[Flatness, ...]
    demands: Demands
    still_broken: tuple[str, ...]
    looked_at: int


def search_setup(
    chassis: Chassis,
    setup: Setup,
    ranges: Ranges,
    quick: Judge,
    whole: Judge,
    demands: Demands,
    progress: Progress | None = None,
    least_worth: float = LEAST_WORTH,
) -> Searched:
    """Search every place of the ranges by quick laps, then look at what was found by whole ones.

    The same question gives the same answer. A demand that the present set-up misses and that nothing can
    mend is eased to what can be reached. A change is put back while that loses less than `least_worth` and
    breaks nothing. `progress` may raise to stop.
    """
    tell = progress or (lambda _share: None)
    ranges, lock = _safest_brakes(ranges, _Grid(chassis, setup, ranges.found, quick), demands.lock_margin)
    rough = _Grid(chassis, setup, ranges.found, quick)
    found = _Grid(chassis, setup, ranges.found, whole)
    eased = _reachable(replace(demands, lock_margin=lock), rough.quick(rough.now))

    def roughly(place: Grid) -> Merit:
        return _merit(eased, rough.quick(place))

    def merit(place: Grid) -> Merit:
        return _merit(eased, found.quick(place))

    sizes = [len(one.places) for one in ranges.found]
    best, looked_at = best_place(sizes, rough.now, roughly, lambda share: tell(0.8 * share), _FLAT)
    best = min(best, found.now, key=merit)
    kept, not_worth = _pruned(best, found, merit, least_worth)
    time_before = whole(setup).lap_time
    flatness = []
    for number in range(len(sizes)):
        flatness.append(_flatness(kept, number, found, eased))
        tell(0.8 + 0.2 * (number + 1) / len(sizes))
    after = found.quick(kept)
    return Searched(
        best=found.setup(best),
        setup=found.setup(kept),
        quick_gain=quick(setup).lap_time - rough.quick(kept).lap_time,
        gain=time_before - after.lap_time,
        given_up=after.lap_time - found.quick(best).lap_time,
        changes=_ordered(kept, found, eased, ranges.moved, time_before),
        not_worth=tuple(ranges.found[number].name for number in not_worth),
        flatness=tuple(flatness),
        demands=eased,
        still_broken=tuple(demands.missed(after)),
        looked_at=looked_at,
    )


class _Grid:
    """The set-ups at the places of a grid, each judged once."""

    def __init__(
        self, chassis: Chassis, setup: Setup, ranges: tuple[AdjusterRange, ...], judge: Judge
    ) -> None:
        self.ranges = ranges
        self.now: Grid = tuple(one.now for one in ranges)
        self._chassis, self._setup, self._judge = chassis, setup, judge
        self._seen: dict[Grid, Quick] = {}

    def setup(self, place: Grid) -> Setup:
        """The set-up at a place: parts first, for they bound what is turned on them."""
        setup = self._setup
        for one, at in sorted(zip(self.ranges, place, strict=True), key=lambda pair: _is_turned(pair[0])):
            setup = with_value(self._chassis, setup, one.item, one.end, one.places[at])
        return setup

    def quick(self, place: Grid) -> Quick:
        """What the judge says of a place; an endless lap where the car cannot be so."""
        if place not in self._seen:
            try:
                self._seen[place] = self._judge(self.setup(place))
            except BadInput:
                self._seen[place] = _CANNOT_BE
        return self._seen[place]


def _is_turned(one: AdjusterRange) -> bool:
    return not isinstance(one.places[0], str)


def _merit(demands: Demands, found: Quick) -> Merit:
    return demands.broken(found), found.lap_time


def _safest_brakes(ranges: Ranges, found: _Grid, wanted: float) -> tuple[Ranges, float]:
    """The brake bias kept to where the rear does not lock first, or held where it locks last.

    It is never moved to the rear. Held, nothing more is demanded of the brakes, for other adjusters cannot
    mend them. A bias that has to move is told in `moved`.
    """
    now = found.quick(found.now).lock_margin
    for number, one in enumerate(ranges.found):
        if one.item is not Item.BRAKE_BIAS:
            continue
        line = [
            found.quick((*found.now[:number], at, *found.now[number + 1 :])).lock_margin
            for at in range(len(one.places))
        ]
        best = max(range(one.now, len(line)), key=line.__getitem__)
        safe = [at for at in range(one.now, len(line)) if line[at] >= wanted] or [best]
        apart = [abs(at - one.now) for at in safe]
        nearest = safe[apart.index(min(apart))]
        kept = replace(one, places=tuple(one.places[at] for at in safe), now=safe.index(nearest))
        moved = {one.name: one.places[one.now]} if nearest != one.now else {}
        rest = (*ranges.found[:number], kept, *ranges.found[number + 1 :])
        demand = wanted if line[best] >= wanted else -math.inf
        return replace(ranges, found=rest, moved={**ranges.moved, **moved}), demand
    return ranges, wanted if now >= wanted else -math.inf


def _reachable(demands: Demands, now: Quick) -> Demands:
    """Balance, bump travel and outer wheel, where they are missed now, eased to now and a little more."""
    low, high = demands.balance_low, demands.balance_high
    return replace(
        demands,
        balance_low=low if low is None or now.balance >= low else now.balance - _SLACK_BALANCE,
        balance_high=high if high is None or now.balance <= high else now.balance + _SLACK_BALANCE,
        bump_left=demands.bump_left if now.bump_left >= demands.bump_left else now.bump_left - _SLACK_BUMP,
        outer_lean=demands.outer_lean
        if now.outer_lean <= demands.outer_lean
        else now.outer_lean + _SLACK_LEAN,
    )


def _put_back(place: Grid, number: int, now: Grid) -> Grid:
    return (*place[:number], now[number], *place[number + 1 :])


def _pruned(
    best: Grid, found: _Grid, merit: Callable[[Grid], Merit], least_worth: float
) -> tuple[Grid, list[int]]:
    """Put back the change that matters least, again and again, while it matters too little."""
    kept = best
    put_back: list[int] = []
    while True:
        changed = [number for number, at in enumerate(kept) if at != found.now[number]]
        without = [(merit(_put_back(kept, number, found.now)), number) for number in changed]
        broken, time = merit(kept)
        small = [one for one in without if one[0][0] <= broken and one[0][1] - time < least_worth]
        if not small:
            return kept, put_back
        _, number = min(small)
        kept = _put_back(kept, number, found.now)
        put_back.append(number)


def _ordered(
    kept: Grid, found: _Grid, demands: Demands, moved: Mapping[str, Setting], time_before: float
) -> tuple[Change, ...]:
    """The changes, first those that something rests on, then by worth."""
    with_all = found.quick(kept)
    rows: list[tuple[int, float | None, str]] = []
    for number, one in enumerate(found.ranges):
        if kept[number] == found.now[number] and one.name not in moved:
            continue
        without = found.quick(_put_back(kept, number, found.now))
        needed_for = ", ".join(demands.missed(without).keys() - demands.missed(with_all).keys())
        if one.name in moved:
            needed_for = REAR_LOCKS if one.item is Item.BRAKE_BIAS else NOT_ALLOWED
        rows.append((number, None if needed_for else without.lap_time - with_all.lap_time, needed_for))
    rows.sort(key=lambda row: (row[1] is not None, -(row[1] or 0.0)))
    changes, at = [], found.now
    for number, worth, needed_for in rows:
        at = (*at[:number], kept[number], *at[number + 1 :])
        one = found.ranges[number]
        changes.append(
            Change(
                range=one,
                before=moved.get(one.name, one.places[one.now]),
                after=one.places[kept[number]],
                worth=worth,
                gained=time_before - found.quick(at).lap_time,
                needed_for=needed_for,
            )
        )
    return tuple(changes)


def _flatness(kept: Grid, number: int, found: _Grid, demands: Demands) -> Flatness:
    one, at = found.ranges[number], kept[number]
    line = [found.quick((*kept[:number], to, *kept[number + 1 :])) for to in range(len(one.places))]
    allowed = demands.broken(line[at])
    lost = tuple(quick.lap_time - line[at].lap_time for quick in line)
    broken = tuple(
        ", ".join(demands.missed(quick)) if demands.broken(quick) > allowed else "" for quick in line
    )
    low = high = at
    while low > 0 and lost[low - 1] < NEAR and not broken[low - 1]:
        low -= 1
    while high + 1 < len(line) and lost[high + 1] < NEAR and not broken[high + 1]:
        high += 1
    return Flatness(range=one, at=at, lost=lost, broken=broken, low=low, high=high)
