"""The table of rules that turns a reading of the treads into a change, each with its weight.

A rule looks at one end of the car and says how strongly, 0 for not at all, it asks for one step of one item.
Sizes and weights are common practice, no source, but for those named. Steps of 0.14 bar are two psi.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from tintop.car.car import DrivenAxle
from tintop.car.chassis import End, Item
from tintop.car.treads import Feel, Pace, Phase, TreadReading

STEPS = {
    Item.PRESSURE: 0.14e5,  # [Pa]
    Item.CAMBER: 0.0052,  # [rad], 0.3 degrees; more camber is a step down
    Item.BAR: 1.0,  # holes; up is stiffer
    Item.BUMP: 2.0,  # clicks; up is stiffer
    Item.REBOUND: 2.0,
    Item.BRAKE_BIAS: 1.0,  # turns towards the front
}
SPREAD_PER_CAMBER = 860.0  # [K/rad] inner over outer, 15 K a degree; common practice, no source
_AT_ONCE = 0.5  # of the camber that the spread asks for; the rest after the next reading; own choice
_MOST_CAMBER = 0.0175  # [rad], a degree at once; own choice
LEAST = 0.5  # of weight, under which a change is not worth naming
_CROWN = 3.0  # [K] middle over edges that asks for one step of pressure
LEAN_MOST = 11.0  # [K] inner over outer; a spread of 20 °F is what setters let stand
LEAN_LEAST = 0.0
_LEAN_WANTED = 8.0
_LEAN_MIDDLE = 5.0  # [K] of what is wanted, 2 to 8
_HOT_OFF = 0.10e5  # [Pa] off the hot target
_ENDS_APART = 8.0  # [K] between the means of front and rear
_MOST = 2.0  # strength of any one rule
_FAST = 1.3  # a word about fast corners counts more


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What the rules see of one end: K, Pa; `hot_off` None where no target or pressure is known.

    `lean` is that of the end's hotter wheel, the one that was loaded; `hotter` its mean over the other end.
    """

    end: End
    crown: float
    lean: float
    hot_off: float | None
    hotter: float
    driven: DrivenAxle
    reading: TreadReading

    def said(self, phase: Phase, feel: Feel) -> float:
        """How often, and how fast, the driver said so."""
        heard = [each for each in self.reading.said if each.phase is phase and each.feel is feel]
        return min(sum(_FAST if each.pace is Pace.FAST else 1.0 for each in heard), _MOST)


def evidence(reading: TreadReading, end: End, target: float | None, driven: DrivenAxle) -> Evidence:
    """What one end shows; `target` is the tyre's hot pressure [Pa gauge]."""
    pair = reading.pair(end)
    other = reading.pair(End.REAR if end is End.FRONT else End.FRONT)
    hot = [one for one in reading.of(end, reading.hot) if one is not None]
    return Evidence(
        end=end,
        crown=sum(tread.crown for tread in pair) / 2.0,
        lean=max(pair, key=lambda tread: tread.mean).lean,
        hot_off=sum(hot) / len(hot) - target if hot and target is not None else None,
        hotter=sum(tread.mean for tread in pair) / 2.0 - sum(tread.mean for tread in other) / 2.0,
        driven=driven,
        reading=reading,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One row: what is seen, at which end (None = either), the item, the step's sign, its weight."""

    seen: str
    end: End | None
    item: Item
    at: End | None  # end that is changed; None = the end seen, or the whole car for the brakes
    step: int
    weight: float
    strength: Callable[[Evidence], float]


def _over(value: float, least: float, each: float) -> float:
    """0 up to `least`, then 1, and more with every `each` beyond."""
    return min(1.0 + (value - least) / each, _MOST) if value >= least else 0.0


def _hot_off(seen: Evidence, sign: float) -> float:
    return 0.0 if seen.hot_off is None else _over(sign * seen.hot_off, _HOT_OFF, 2.0 * _HOT_OFF)


def _driven_by(seen: Evidence, axle: DrivenAxle) -> bool:
    return seen.driven in (axle, DrivenAxle.FOUR)


F, R = End.FRONT, End.REAR
UNDER, OVER = Feel.UNDERSTEER, Feel.OVERSTEER

RULES: tuple[Rule, ...] = (
    # what the treads show: either end, changed where it is seen
    Rule(
        seen="the middle is hotter than the edges",
        end=None, item=Item.PRESSURE, at=None, step=-1, weight=1.0,
        strength=lambda e: _over(e.crown, _CROWN, _CROWN),
    ),
    Rule(
        seen="the middle is cooler than the edges",
        end=None, item=Item.PRESSURE, at=None, step=+1, weight=1.0,
        strength=lambda e: _over(-e.crown, _CROWN, _CROWN),
    ),
    Rule(
        seen="hot pressure above the tyre's target",
        end=None, item=Item.PRESSURE, at=None, step=-1, weight=0.6,
        strength=lambda e: _hot_off(e, 1.0),
    ),
    Rule(
        seen="hot pressure below the tyre's target",
        end=None, item=Item.PRESSURE, at=None, step=+1, weight=0.6,
        strength=lambda e: _hot_off(e, -1.0),
    ),
    Rule(
        seen="the outer edge is hotter than the inner",
        end=None, item=Item.CAMBER, at=None, step=-1, weight=1.0,
        strength=lambda e: _over(-e.lean, LEAN_LEAST, 6.0) if e.lean < LEAN_LEAST else 0.0,
    ),
    Rule(
        seen="the inner edge is more than 11 K over the outer",
        end=None, item=Item.CAMBER, at=None, step=+1,
        weight=1.0, strength=lambda e: _over(e.lean, LEAN_MOST, 6.0) if e.lean > LEAN_MOST else 0.0,
    ),
    # what the driver says of the middle of corners: the ends against each other
    Rule(
        seen="understeer in mid-corner",
        end=F, item=Item.BAR, at=R, step=+1, weight=0.8,
        strength=lambda e: e.said(Phase.MID, UNDER),
    ),
    Rule(
        seen="understeer in mid-corner",
        end=F, item=Item.BAR, at=F, step=-1, weight=0.75,
        strength=lambda e: e.said(Phase.MID, UNDER),
    ),
    Rule(
        seen="understeer in mid-corner, and the front hotter than the rear",
        end=F, item=Item.BAR, at=R, step=+1,
        weight=0.4, strength=lambda e: _over(e.hotter, _ENDS_APART, 8.0) if e.said(Phase.MID, UNDER) else 0.0,
    ),
    Rule(
        seen="understeer in mid-corner, and room for more camber on the tread",
        end=F, item=Item.CAMBER, at=F,
        step=-1, weight=0.5,
        strength=lambda e: e.said(Phase.MID, UNDER) if e.lean < _LEAN_WANTED else 0.0,
    ),
    Rule(
        seen="oversteer in mid-corner",
        end=R, item=Item.BAR, at=R, step=-1, weight=0.9,
        strength=lambda e: e.said(Phase.MID, OVER),
    ),
    Rule(
        seen="oversteer in mid-corner",
        end=R, item=Item.BAR, at=F, step=+1, weight=0.7,
        strength=lambda e: e.said(Phase.MID, OVER),
    ),
    Rule(
        seen="oversteer in mid-corner, and the rear hotter than the front",
        end=R, item=Item.BAR, at=R, step=-1,
        weight=0.4, strength=lambda e: _over(e.hotter, _ENDS_APART, 8.0) if e.said(Phase.MID, OVER) else 0.0,
    ),
    # of the way in: brakes only ever towards the front
    Rule(
        seen="oversteer on the way in",
        end=R, item=Item.BRAKE_BIAS, at=None, step=+1, weight=0.9,
        strength=lambda e: e.said(Phase.ENTRY, OVER),
    ),
    Rule(
        seen="oversteer on the way in",
        end=R, item=Item.REBOUND, at=R, step=-1, weight=0.6,
        strength=lambda e: e.said(Phase.ENTRY, OVER),
    ),
    Rule(
        seen="understeer on the way in",
        end=F, item=Item.BUMP, at=F, step=-1, weight=0.65,
        strength=lambda e: e.said(Phase.ENTRY, UNDER),
    ),
    Rule(
        seen="understeer on the way in",
        end=F, item=Item.REBOUND, at=R, step=+1, weight=0.5,
        strength=lambda e: e.said(Phase.ENTRY, UNDER),
    ),
    # of the way out
    Rule(
        seen="understeer on the way out of a car that pulls",
        end=F, item=Item.REBOUND, at=F, step=+1, weight=0.65,
        strength=lambda e: e.said(Phase.EXIT, UNDER) if _driven_by(e, DrivenAxle.FRONT) else 0.0,
    ),
    Rule(
        seen="understeer on the way out",
        end=F, item=Item.BUMP, at=R, step=+1, weight=0.55,
        strength=lambda e: e.said(Phase.EXIT, UNDER),
    ),
    Rule(
        seen="oversteer on the way out of a car that pushes",
        end=R, item=Item.BAR, at=R, step=-1, weight=0.8,
        strength=lambda e: e.said(Phase.EXIT, OVER) if _driven_by(e, DrivenAxle.REAR) else 0.0,
    ),
    Rule(
        seen="oversteer on the way out",
        end=R, item=Item.BUMP, at=R, step=-1, weight=0.65,
        strength=lambda e: e.said(Phase.EXIT, OVER),
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """One change the rules ask for: its net weight, and what was seen, the strongest first.

    `size` is how far at once, in the item's SI unit; `lean` [K] the spread across the tread that it answers,
    None where it is the item's usual step.
    """

    item: Item
    end: End | None
    step: int
    weight: float
    seen: tuple[str, ...]
    against: tuple[str, ...] = ()
    size: float
    lean: float | None = None


def camber_for(lean: float) -> float:
    """How far the camber goes at once [rad] for a spread of inner over outer edge [K]; never under a step.

    Half of what would bring the spread to the middle of what is wanted, for pressure and braking have their
    part in it, and no more than a degree.
    """
    wanted = _AT_ONCE * abs(lean - _LEAN_MIDDLE) / SPREAD_PER_CAMBER
    return min(max(wanted, STEPS[Item.CAMBER]), _MOST_CAMBER)


def wishes(seen: Sequence[Evidence], rules: Sequence[Rule] = RULES) -> tuple[Wish, ...]:
    """Add up what all rules ask for, the heaviest first; rules that pull apart are set against each other."""
    pulls: dict[tuple[Item, End | None], list[tuple[float, int, str]]] = {}
    for each in seen:
        for rule in rules:
            if rule.end is not None and rule.end is not each.end:
                continue
            strength = rule.weight * rule.strength(each)
            if strength <= 0.0:
                continue
            at = None if rule.item is Item.BRAKE_BIAS else rule.at or each.end
            where = f"at the {each.end.value} {rule.seen}" if rule.end is None else rule.seen
            pulls.setdefault((rule.item, at), []).append((strength, rule.step, where))
    found = []
    for (item, end), asked in pulls.items():
        net = sum(strength * step for strength, step, _ in asked)
        way = 1 if net >= 0.0 else -1
        asked.sort(key=lambda one: -one[0])
        lean = _lean_answered(seen, item, end, way)
        found.append(
            Wish(
                item=item,
                end=end,
                step=way,
                weight=abs(net),
                seen=tuple(where for _, step, where in asked if step == way),
                against=tuple(where for _, step, where in asked if step != way),
                size=STEPS[item] if lean is None else camber_for(lean),
                lean=lean,
            )
        )
    return tuple(sorted(found, key=lambda wish: -wish.weight))


def _lean_answered(seen: Sequence[Evidence], item: Item, end: End | None, way: int) -> float | None:
    """The spread of an end's tread that a change of camber this way answers; None where none is out."""
    if item is not Item.CAMBER:
        return None
    lean = next(each.lean for each in seen if each.end is end)
    return lean if (way < 0 and lean < LEAN_LEAST) or (way > 0 and lean > LEAN_MOST) else None
