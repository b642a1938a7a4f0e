"""Three views of a cage in one scale: where its tubes, feet, joints and forces stand on the sheet."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from tintop.car.cage import Cage, CageMember, Fixing, NodeForce, NodeMove, Role, Vector
from tintop.charts.ink import BLUE, INK, MOSS, OCHRE, PAPER, PENCIL, PLUM, RUST
from tintop.charts.labels import Box, Placing
from tintop.charts.svg import points, text

FloatArray = NDArray[np.float64]
Spot = tuple[float, float]
_LEAST_SPAN = 0.3  # [m] of a view, so that a flat frame is no speck
_STEPS = 12  # points along the bent shape of a piece
_BADGE = 9.0
_HIDDEN = 6.0  # [px] closer than this all along, a piece lies behind its twin of the other side


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How a line is drawn: its word, colour, width, dashes, and the width of a paper-coloured core."""

    word: str
    colour: str
    width: float
    dash: str = ""
    core: float = 0.0


_HOOP = Look(word="hoop", colour=INK, width=5.0)
_LEG = Look(word="front leg, roof, windscreen", colour=BLUE, width=4.0)
_DIAGONAL = Look(word="diagonal", colour=RUST, width=3.6, dash="11 4")
_DOOR = Look(word="door bar", colour=PLUM, width=3.6, dash="4 3")
_STAY = Look(word="stay", colour=MOSS, width=4.4, core=1.5)
_OTHER = Look(word="harness bar and others", colour=OCHRE, width=3.0, dash="9 3 2 3")
ROLE_LOOKS: Mapping[Role, Look] = MappingProxyType(
    {
        Role.MAIN_HOOP: _HOOP,
        Role.FRONT_HOOP: _HOOP,
        Role.HALF_HOOP: _HOOP,
        Role.FRONT_LEG: _LEG,
        Role.ROOF_BAR: _LEG,
        Role.WINDSCREEN_BAR: _LEG,
        Role.DIAGONAL: _DIAGONAL,
        Role.ROOF_DIAGONAL: _DIAGONAL,
        Role.DOOR_BAR: _DOOR,
        Role.STAY: _STAY,
        Role.HARNESS_BAR: _OTHER,
        Role.GUSSET_BAR: _OTHER,
        Role.OTHER: _OTHER,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A way of looking: what points right on the sheet and what points up, as unit vectors of the car."""

    words: str
    right: Vector
    up: Vector

    def flat(self, places: FloatArray) -> FloatArray:
        """Give places (n, 3) as seen (n, 2) [m], to the right and up."""
        return np.column_stack([places @ np.array(self.right), places @ np.array(self.up)])

    def nearness(self, places: FloatArray) -> float:
        """Give how near to the eye the middle of some places (n, 3) is [m]."""
        return float(np.cross(self.right, self.up) @ places.mean(axis=0))


BEHIND = View(words="from behind", right=(0.0, -1.0, 0.0), up=(0.0, 0.0, 1.0))
SIDE = View(words="from the right, front to the right", right=(1.0, 0.0, 0.0), up=(0.0, 0.0, 1.0))
ABOVE = View(words="from above, front to the right", right=(1.0, 0.0, 0.0), up=(0.0, 1.0, 0.0))
VIEWS = (BEHIND, SIDE, ABOVE)
_BEST_SEEN: Mapping[Role, View] = MappingProxyType(
    {
        Role.DOOR_BAR: SIDE,
        Role.FRONT_LEG: ABOVE,
        Role.HALF_HOOP: ABOVE,
        Role.ROOF_BAR: ABOVE,
        Role.WINDSCREEN_BAR: ABOVE,
        Role.ROOF_DIAGONAL: ABOVE,
        Role.STAY: ABOVE,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pane:
    """A view on the sheet: `left` and `top` [px] of the corner at `low` and `high` [m], pixels to a metre."""

    view: View
    left: float
    top: float
    low: float
    high: float
    scale: float

    def at(self, places: FloatArray) -> FloatArray:
        """Give where places (n, 3) stand on the sheet (n, 2) [px]."""
        seen = self.view.flat(places)
        return np.column_stack(
            [
                self.left + (seen[:, 0] - self.low) * self.scale,
                self.top + (self.high - seen[:, 1]) * self.scale,
            ]
        )

    def spot(self, place: Vector) -> Spot:
        """Give where one place stands on the sheet [px]."""
        found = self.at(np.array([place]))[0]
        return float(found[0]), float(found[1])


def spans(cage: Cage, view: View) -> tuple[float, float, float, float]:
    """Lowest and highest of a cage in a view, to the right and up [m]; never narrower than a hand or two."""
    seen = view.flat(np.array([node.position for node in cage.nodes]))
    found: list[float] = []
    for axis in (0, 1):
        low, high = float(seen[:, axis].min()), float(seen[:, axis].max())
        spare = max(0.0, 0.5 * (_LEAST_SPAN - (high - low)))
        found += [low - spare, high + spare]
    return found[0], found[1], found[2], found[3]


def stroke(places: FloatArray, look: Look, halo: float = 0.0) -> str:
    """Draw an open line (n, 2) in a look; a halo of paper lets it pass over what lies behind."""
    drawn = f'<path d="M{points(places)}" fill="none" stroke-linejoin="round"'
    dashes = f' stroke-dasharray="{look.dash}"' if look.dash else ""
    found = f'{drawn} stroke="{PAPER}" stroke-width="{look.width + halo:g}"/>' if halo else ""
    found += f'{drawn} stroke="{look.colour}" stroke-width="{look.width:g}"{dashes}/>'
    return found + (f'{drawn} stroke="{PAPER}" stroke-width="{look.core:g}"/>' if look.core else "")


def ends_of(cage: Cage, member: CageMember) -> FloatArray:
    """Give both ends of a piece (2, 3) [m]."""
    return np.array([cage.position(member.start), cage.position(member.end)])


def tubes(
    cage: Cage, pane: Pane, looks: Mapping[str, Look], uses: Mapping[str, float] | None = None
) -> Iterator[str]:
    """Draw every piece in its look, the far ones first, or with uses the least used first: none is hidden."""
    placed = [(each, ends_of(cage, each)) for each in cage.members]
    placed.sort(key=lambda found: uses[found[0].name] if uses else pane.view.nearness(found[1]))
    for each, ends in placed:
        yield stroke(pane.at(ends), looks[each.name], halo=3.0)


def feet_and_joints(cage: Cage, pane: Pane) -> Iterator[str]:
    """Mark feet, welded as a square and bolted as a ring, and bolted joints as a small ring on the tube."""
    for each in cage.members:
        for node, other, is_bolted in (
            (each.start, each.end, each.bolted_start),
            (each.end, each.start, each.bolted_end),
        ):
            if is_bolted:
                (x, y), (far_x, far_y) = pane.spot(cage.position(node)), pane.spot(cage.position(other))
                length = math.hypot(far_x - x, far_y - y) or 1.0
                share = min(11.0, 0.4 * length) / length
                yield ring(x + share * (far_x - x), y + share * (far_y - y), 4.0)
    for foot in cage.feet:
        yield foot_mark(*pane.spot(cage.position(foot.node)), foot.fixing)


def ring(x: float, y: float, radius: float, colour: str = INK, fill: str = PAPER) -> str:
    """Draw a ring."""
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}" fill="{fill}" stroke="{colour}" stroke-width="2"/>'
    )


def foot_mark(x: float, y: float, fixing: Fixing) -> str:
    """Draw a foot: a filled square where it is welded, a ring where it is bolted."""
    if fixing is Fixing.BOLTED:
        return ring(x, y, 6.5)
    return f'<rect x="{x - 5.5:.1f}" y="{y - 5.5:.1f}" width="11" height="11" fill="{INK}" stroke="{PAPER}"/>'


def bent(cage: Cage, moves: Sequence[NodeMove], times: float, pane: Pane, look: Look) -> Iterator[str]:
    """Draw the elastic shape so many times too large: cubic between the nodes, free at bolted ends."""
    moved = {each.node: each for each in moves}
    for each in cage.members:
        start, end = moved[each.start], moved[each.end]
        shape = _curve(ends_of(cage, each), start, end, (each.bolted_start, each.bolted_end), times)
        yield stroke(pane.at(shape), look)


def _curve(
    ends: FloatArray, start: NodeMove, end: NodeMove, is_free: tuple[bool, bool], times: float
) -> FloatArray:
    """The bent piece (n, 3): a beam's cubic through the moves and turns of its ends."""
    along = ends[1] - ends[0]
    length = float(np.linalg.norm(along))
    axis = along / length
    first, last = np.array(start.move), np.array(end.move)
    rise = (last - first) / length
    rise -= (rise @ axis) * axis
    slope_first, slope_last = np.cross(start.turn, axis), np.cross(end.turn, axis)
    if all(is_free):
        slope_first = slope_last = rise
    elif is_free[0]:
        slope_first = 1.5 * rise - 0.5 * slope_last
    elif is_free[1]:
        slope_last = 1.5 * rise - 0.5 * slope_first
    s = np.linspace(0.0, 1.0, _STEPS)[:, np.newaxis]
    ease = 3.0 * s**2 - 2.0 * s**3
    straight = first + s * ((last - first) @ axis) * axis + ease * length * rise
    turned = length * ((s - 2.0 * s**2 + s**3) * slope_first + (s**3 - s**2) * slope_last)
    return np.asarray(ends[0] + s * along + times * (straight + turned))


def exaggeration(cage: Cage, moves: Iterable[NodeMove]) -> float:
    """How many times too large a shape is drawn: 1, 2 or 5 with noughts; the most moves a twentieth of it."""
    places = np.array([node.position for node in cage.nodes])
    size = float(np.linalg.norm(places.max(axis=0) - places.min(axis=0)))
    largest = max((math.hypot(*each.move) for each in moves), default=0.0)
    if largest <= 0.0:
        return 1.0
    wanted = size / 20.0 / largest
    ten = 10.0 ** math.floor(math.log10(wanted))
    return max(1.0, max(step for step in (1.0, 2.0, 5.0) if step * ten <= wanted * 1.001) * ten)


def arrows(cage: Cage, forces: Sequence[NodeForce], pane: Pane, longest: float = 40.0) -> Iterator[str]:
    """Draw forces as arrows that end at their nodes, the largest so many pixels long if seen square on."""
    largest = max(math.hypot(*each.force) for each in forces)
    for each in forces:
        x, y = pane.spot(cage.position(each.node))
        across, up = pane.view.flat(np.array([each.force]))[0] * longest / largest
        length = math.hypot(across, up)
        if length < 6.0:
            yield ring(x, y, 6.0, INK, "none") + f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2" fill="{INK}"/>'
            continue
        way = np.array([across, -up]) / length
        tip = np.array([x, y]) - 5.0 * way
        tail = tip - (length + 8.0) * way
        side = np.array([-way[1], way[0]])
        barbs = np.array([tip - 10.0 * way + 5.5 * side, tip, tip - 10.0 * way - 5.5 * side])
        yield stroke(np.array([tail, tip - 4.0 * way]), Look(word="", colour=INK, width=3.6), halo=2.5)
        yield f'<path d="M{points(barbs)}Z" fill="{INK}" stroke="{PAPER}"/>'


def badge(x: float, y: float, number: int) -> str:
    """Draw a number on a disc."""
    return ring(x, y, _BADGE, PENCIL) + text(
        x, y + 4.2, str(number), size=11.5, is_bold=True, anchor="middle"
    )


def numbers(cage: Cage, pane: Pane, numbered: Mapping[str, int]) -> Iterator[str]:
    """Number each tube once among the views, in the one that shows it best, clear of the others."""
    placing = Placing(np.empty(0), np.empty(0), math.inf, math.inf)
    for foot in cage.feet:
        x, y = pane.spot(cage.position(foot.node))
        placing.block(Box(x=x, y=y, half_width=6.0, half_height=6.0))
    drawn = [(each.part, pane.at(ends_of(cage, each))) for each in cage.members]
    for part, number in numbered.items():
        role = next(each.role for each in cage.members if each.part == part)
        if _BEST_SEEN.get(role, BEHIND) is not pane.view:
            continue
        others = [ends for other, ends in drawn if other != part]
        spots = [
            (_room(share, ends, others), (1.0 - share) * ends[0] + share * ends[1])
            for ends in (ends for other, ends in drawn if other == part)
            for share in (0.5, 0.35, 0.65, 0.2, 0.8)
        ]
        spots.sort(key=lambda found: -found[0])
        boxes = [Box(x=float(x), y=float(y), half_width=_BADGE, half_height=_BADGE) for _, (x, y) in spots]
        box = placing.first_free(boxes, 0.0) or boxes[0]
        yield badge(box.x, box.y, number)


def _room(share: float, ends: FloatArray, others: Sequence[FloatArray]) -> float:
    """Distance [px] from a spot on a piece to the nearest other, as far as it counts; its twin does not."""
    spot = (1.0 - share) * ends[0] + share * ends[1]
    found = 2.0 * _BADGE
    for other in others:
        if np.abs(other - ends).max() < _HIDDEN or np.abs(other[::-1] - ends).max() < _HIDDEN:
            continue
        along = other[1] - other[0]
        length = float(along @ along)
        part = 0.0 if length == 0.0 else float(np.clip((spot - other[0]) @ along / length, 0.0, 1.0))
        found = min(found, float(np.linalg.norm(spot - other[0] - part * along)))
    return found
