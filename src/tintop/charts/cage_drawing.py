"""The cage drawn for page and paper: its tubes by role, and what each carries under a proof load."""

import math
import textwrap
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tintop.car.cage import Cage, CageMember, CutTube, Fixing, LoadResult
from tintop.charts.cage_views import (
    ABOVE,
    BEHIND,
    ROLE_LOOKS,
    SIDE,
    VIEWS,
    Look,
    Pane,
    arrows,
    badge,
    bent,
    ends_of,
    exaggeration,
    feet_and_joints,
    foot_mark,
    numbers,
    ring,
    spans,
    stroke,
    tubes,
)
from tintop.charts.ink import BLUE, INK, MOSS, OCHRE, PENCIL, PLUM, ROAD, RUST
from tintop.charts.svg import sheet, text
from tintop.questions.will_the_cage_hold import KNOWN_WORDS

USE_LOOKS = (
    (0.5, Look(word="below 50 %", colour=MOSS, width=3.0)),
    (0.8, Look(word="50 to 80 %", colour=BLUE, width=4.0, dash="12 3")),
    (1.0, Look(word="80 to 100 %", colour=OCHRE, width=5.0, dash="6 2.5")),
    (math.inf, Look(word="past 100 %", colour=RUST, width=7.0, core=2.4)),
)
_BENT = Look(word="elastic shape", colour=PLUM, width=1.7, dash="3 2.5")
_SIZE, _ROW, _LETTER = 13.0, 19.0, 7.6  # [px] of words, a row, the widest usual letter
_MOST_USED = 10  # tubes listed under a load
_LONGEST_TITLE, _LONG_TITLE = 44, 34  # letters that fit a phone; from how many on they are smaller
_HEAD, _FOOT = 40.0, 38.0  # [px] above all, and below each view for its caption


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """Where words are written: the first row's place and how wide the room is [px]."""

    x: float
    y: float
    wide: float

    def below(self, y: float) -> "_Room":
        return replace(self, y=y)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    panes: tuple[Pane, ...]
    captions: tuple[tuple[float, float], ...]  # one below each pane
    width: float
    words: _Room
    foot: float  # below the views
    is_narrow: bool


def use_look(use: float) -> Look:
    """How a tube is drawn that uses so much of its strength."""
    return next(look for limit, look in USE_LOOKS if use < limit)


def cage_drawing_svg(cage: Cage, *, is_narrow: bool = False, name: str = "cage") -> str:
    """Draw a cage from behind, from the right and from above: tubes by role, numbered, feet and joints.

    Narrow is for a phone; `name` keeps the ids of two drawings in one page apart.
    """
    layout = _laid_out(cage, 24.0, is_narrow=is_narrow)
    cut = cage.tube_list()
    room = layout.words
    facts = [
        (f"{len(cut)} tubes, {cage.mass:.1f} kg without plates and welds.", True),
        (f"{_size_words(cage)}, node to node.", False),
    ]
    written, y = _written(facts, room)
    key = [
        *((_sample(look), look.word) for look in dict.fromkeys(ROLE_LOOKS[each.role] for each in cut)),
        *_marks(cage),
    ]
    named, y = _key(key, room.below(y))
    rows = [(tube, ROLE_LOOKS[tube.role], _cut_words(tube, is_narrow=is_narrow)) for tube in cut]
    listed, bottom = _list(cut, rows, layout, max(y, layout.foot))
    body = [
        *_title(cage.name),
        *_views(cage, layout, {each.name: ROLE_LOOKS[each.role] for each in cage.members}),
        *written,
        *named,
        *listed,
    ]
    said = "; ".join(f"{number} {tube.part}, {tube.tube}" for number, tube in enumerate(cut, 1))
    description = f"{_size_words(cage)}. {len(cut)} tubes: {said}. {_feet_words(cage)}"
    return sheet(name, cage.name, description, layout.width, bottom, body)


def cage_load_svg(cage: Cage, result: LoadResult, *, is_narrow: bool = False, name: str = "cage-load") -> str:
    """Draw a cage under one proof load: forces, what each tube uses, its elastic shape drawn too large.

    The most used tube is ringed and named, the movement stands against the permitted one. Uses are elastic:
    past 100 % a tube bends for good and hands load on to the others.
    """
    layout = _laid_out(cage, 44.0, is_narrow=is_narrow)
    cut = cage.tube_list()
    uses = {each.member: each.use for each in result.members}
    times = exaggeration(cage, result.moves)
    weakest = next(each for each in cage.members if each.name == result.weakest.member)
    looks = {each.name: use_look(uses[each.name]) for each in cage.members}

    def over(pane: Pane) -> Iterator[str]:
        x, y = pane.at(ends_of(cage, weakest)).mean(axis=0)
        yield from bent(cage, result.moves, times, pane, _BENT)
        yield ring(float(x), float(y), 13.0, RUST, "none")
        yield from arrows(cage, result.load.forces, pane)

    body = [*_title(result.load.name), *_views(cage, layout, looks, uses, over)]
    facts = _load_facts(result, weakest)
    written, y = _written(facts, layout.words)
    bar, y = _deflection_bar(result, layout.words.below(y))
    key = [
        *((_sample(look), f"{look.word} used, elastic") for _, look in USE_LOOKS),
        (_sample(_BENT), f"elastic shape, {times:,.0f} times too large"),
        (ring(15.0, 0.0, 7.0, RUST, "none"), "used most"),
    ]
    named, y = _key(key, layout.words.below(y))
    used = {
        tube.part: max(uses[each.name] for each in cage.members if each.part == tube.part) for tube in cut
    }
    ranked = sorted(cut, key=lambda tube: -used[tube.part])[:_MOST_USED]
    rows = [(tube, use_look(used[tube.part]), f"{100.0 * used[tube.part]:.0f} %") for tube in ranked]
    listed, bottom = _list(cut, rows, layout, max(y, layout.foot))
    description = " ".join([*(words for words, _ in facts), _moved_words(result), _feet_words(cage)])
    title = f"{cage.name}: {result.load.name}"
    return sheet(name, title, description, layout.width, bottom, [*body, *written, *bar, *named, *listed])


def _laid_out(cage: Cage, pad: float, *, is_narrow: bool) -> _Layout:
    """Wide: from behind, the side beside it, the plan under the side; narrow: one below another."""
    span = {view: spans(cage, view) for view in VIEWS}
    wide = {view: right - left for view, (left, right, _, _) in span.items()}
    tall = {view: top - bottom for view, (_, _, bottom, top) in span.items()}
    width = 360.0 if is_narrow else 860.0
    if is_narrow:
        scale = min((width - 2.0 * pad) / max(wide.values()), 260.0)
    else:
        scale = min((width - 4.0 * pad) / (wide[BEHIND] + wide[SIDE]), 330.0)
    row = pad + max(tall[BEHIND], tall[SIDE]) * scale + _FOOT
    panes: list[Pane] = []
    captions: list[tuple[float, float]] = []
    y = _HEAD
    for view in VIEWS:
        left = pad if view is BEHIND else 3.0 * pad + wide[BEHIND] * scale
        if is_narrow:
            left = 0.5 * (width - wide[view] * scale)
        else:
            y = _HEAD + (row if view is ABOVE else 0.0)
        top = y + pad
        panes.append(Pane(view=view, left=left, top=top, low=span[view][0], high=span[view][3], scale=scale))
        y = top + tall[view] * scale + _FOOT
        captions.append((10.0 if is_narrow else left - 8.0, y - 12.0))
    words = _Room(x=10.0, y=y + 18.0, wide=width - 20.0)
    if not is_narrow:
        words = _Room(x=16.0, y=_HEAD + row + 28.0, wide=3.0 * pad + wide[BEHIND] * scale - 40.0)
    return _Layout(
        panes=tuple(panes),
        captions=tuple(captions),
        width=width,
        words=words,
        foot=y,
        is_narrow=is_narrow,
    )


def _views(
    cage: Cage,
    layout: _Layout,
    looks: Mapping[str, Look],
    uses: Mapping[str, float] | None = None,
    over: Callable[[Pane], Iterable[str]] = lambda _: (),
) -> Iterator[str]:
    """The three views; `over` gives what lies over a view's tubes and under its numbers."""
    numbered = {tube.part: number for number, tube in enumerate(cage.tube_list(), 1)}
    for pane, (x, y) in zip(layout.panes, layout.captions, strict=True):
        yield text(x, y, pane.view.words.capitalize(), size=_SIZE, colour=PENCIL)
        yield from tubes(cage, pane, looks, uses)
        yield from feet_and_joints(cage, pane)
        yield from over(pane)
        yield from numbers(cage, pane, numbered)


def _title(words: str) -> list[str]:
    words = words[:1].upper() + words[1:]
    short = words if len(words) <= _LONGEST_TITLE else f"{words[: _LONGEST_TITLE - 1]}…"
    return [text(10.0, 22.0, short, size=17.0 if len(short) < _LONG_TITLE else 14.0, is_bold=True)]


def _written(facts: Sequence[tuple[str, bool]], room: _Room) -> tuple[list[str], float]:
    """Facts in their room, the strong ones bold; and where the next row starts."""
    drawn, y = [], room.y
    for words, is_strong in facts:
        letter = _LETTER * (1.12 if is_strong else 1.0)
        for part in textwrap.wrap(words, int(room.wide / letter)):
            drawn.append(text(room.x, y, part, size=_SIZE, is_bold=is_strong))
            y += _ROW
    return drawn, y + 6.0


def _load_facts(result: LoadResult, weakest: CageMember) -> list[tuple[str, bool]]:
    load, use = result.load, result.weakest
    aside = "" if load.applies else " For comparison only."
    carried = math.floor(100.0 * result.limit.carries) / 100.0
    kind = (
        "what buckles it, bent as it is"
        if use.buckling_use > use.plastic_use
        else "its full plastic strength"
    )
    return [
        (f"{1e-3 * math.hypot(*load.total):.1f} kN in all, {KNOWN_WORDS[load.known]}.{aside}", False),
        (
            f"{'Carries' if carried >= 1.0 else 'Gives way at'} {carried:.2f} times this load, estimated.",
            True,
        ),
        (
            f"Weakest: {weakest.name}, from {weakest.start} to {weakest.end}, "
            f"{100.0 * use.use:.0f} % of {kind}, elastic.",
            False,
        ),
    ]


def _moved_words(result: LoadResult) -> str:
    moved, permitted = result.limit.deflection, result.load.permitted_deflection
    if moved is None:
        return "No deflection: it gives way before this load."
    allowed = "no limit stated" if permitted is None else f"{1e3 * permitted:.0f} mm permitted"
    return f"Moves {1e3 * moved:.1f} mm, {allowed}."


def _deflection_bar(result: LoadResult, room: _Room) -> tuple[list[str], float]:
    """Movement against the permitted one, in words and as a bar; and where the next row starts."""
    moved, permitted = result.limit.deflection, result.load.permitted_deflection
    facts = [(_moved_words(result), True)]
    if moved is None:
        return _written(facts, room)
    elastic = f"{1e3 * result.deflection:.1f} mm"
    facts.append((f"Hinges counted; elastic {elastic}, at {result.deflected_node}.", False))
    drawn, y = _written(facts, room)
    if permitted is None:
        return drawn, y
    wide = min(room.wide, 300.0) / max(permitted, moved)
    colour = RUST if moved > permitted else BLUE
    x, y = room.x, y - 12.0
    drawn += [
        f'<rect x="{x:g}" y="{y:.1f}" width="{wide * max(permitted, moved):.1f}" height="12" fill="{ROAD}"/>',
        f'<rect x="{x:g}" y="{y:.1f}" width="{wide * moved:.1f}" height="12" fill="{colour}"/>',
        f'<path d="M{x + wide * permitted:.1f},{y - 4.0:.1f} v20" stroke="{INK}" stroke-width="3"/>',
    ]
    return drawn, y + 40.0


def _sample(look: Look) -> str:
    return stroke(np.array([(0.0, 0.0), (30.0, 0.0)]), look)


def _marks(cage: Cage) -> Iterator[tuple[str, str]]:
    for fixing in Fixing:
        if any(foot.fixing is fixing for foot in cage.feet):
            yield foot_mark(15.0, 0.0, fixing), f"foot, {fixing.value}"
    if any(each.bolted_start or each.bolted_end for each in cage.members):
        yield ring(15.0, 0.0, 4.0), "bolted joint, free to bend"


def _key(rows: Sequence[tuple[str, str]], room: _Room) -> tuple[list[str], float]:
    """A mark and its words in each row; and where the next row starts."""
    drawn, y = [], room.y
    for mark, words in rows:
        drawn.append(f'<g transform="translate({room.x:.1f},{y - 4.5:.1f})">{mark}</g>')
        drawn.append(text(room.x + 38.0, y, words, size=_SIZE))
        y += _ROW
    return drawn, y


def _cut_words(tube: CutTube, *, is_narrow: bool) -> str:
    return str(tube.tube) if is_narrow else f"{tube.tube}, {1e3 * tube.length:.0f} mm"


def _size_words(cage: Cage) -> str:
    places = np.array([node.position for node in cage.nodes])
    length, width, height = places.max(axis=0) - places.min(axis=0)
    return f"{length:.2f} m long, {width:.2f} m wide, {height:.2f} m high"


def _feet_words(cage: Cage) -> str:
    count = {fixing: sum(foot.fixing is fixing for foot in cage.feet) for fixing in Fixing}
    feet = ", ".join(f"{number} {fixing.value}" for fixing, number in count.items() if number)
    joints = sum(each.bolted_start + each.bolted_end for each in cage.members)
    return f"Feet: {feet}. " + (f"Bolted joints: {joints}." if joints else "No bolted joint.")


def _list(
    cut: tuple[CutTube, ...],
    rows: Sequence[tuple[CutTube, Look, str]],
    layout: _Layout,
    top: float,
) -> tuple[list[str], float]:
    """Number, line, name and a figure for each tube, in columns read downwards; and where they end."""
    count = {tube.part: number for number, tube in enumerate(cut, 1)}
    columns = 1 if layout.is_narrow else 2
    deep, wide = -(-len(rows) // columns), (layout.width - 12.0) / columns
    drawn = []
    for place, (tube, look, figure) in enumerate(rows):
        x, y = 8.0 + (place // deep) * wide, top + 22.0 + (place % deep) * 23.0
        room = int((wide - 80.0 - _LETTER * len(figure)) / _LETTER)
        name = tube.part if len(tube.part) <= room else f"{tube.part[: max(room - 1, 1)]}…"
        drawn += [
            badge(x + 10.0, y - 4.5, count[tube.part]),
            f'<g transform="translate({x + 22.0:.1f},{y - 4.5:.1f})">{_sample(look)}</g>',
            text(x + 58.0, y, name, size=_SIZE),
            text(x + wide - 16.0, y, figure, size=_SIZE, colour=PENCIL, anchor="end"),
        ]
    return drawn, top + 22.0 + deep * 23.0
