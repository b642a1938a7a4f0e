"""The cage drawn: every tube numbered once, forces and shape where they belong, never a figure prettier."""

import dataclasses
import re

import numpy as np
import pytest
from hypothesis import given, settings

from cages import DEMO, cage_of, template, templates
from charts.drawn import SVG, inside_view, read, words
from tintop.car.cage import Fixing, NodeMove
from tintop.car.cage_holding import hold, stand
from tintop.car.cage_loads import standard_loads
from tintop.charts.cage_drawing import USE_LOOKS, cage_drawing_svg, cage_load_svg, use_look
from tintop.charts.cage_views import ABOVE, BEHIND, SIDE, Look, Pane, arrows, bent, exaggeration, tubes
from tintop.charts.ink import INK, PAPER, contrast
from tintop.store.documents.cage_reader import read_cage

CAGE = read_cage(DEMO).cage
HELD = hold(stand(CAGE), standard_loads(CAGE))
PANE = Pane(view=SIDE, left=100.0, top=50.0, low=-1.0, high=1.0, scale=100.0)
LOOK = Look(word="", colour=INK, width=1.0)
NARROW = pytest.mark.parametrize("is_narrow", [False, True], ids=["wide", "narrow"])


def plain(svg: str) -> str:
    return " ".join(words(svg))


def numbers_in(svg: str) -> list[int]:
    return sorted(int(each) for each in words(svg) if each.isdigit())


@NARROW
def test_every_tube_is_numbered_once_in_the_views_and_once_in_the_list(is_narrow: bool) -> None:
    svg = cage_drawing_svg(CAGE, is_narrow=is_narrow)
    count = len(CAGE.tube_list())
    assert numbers_in(svg) == sorted([*range(1, count + 1)] * 2)
    said = plain(svg)
    for tube in CAGE.tube_list():
        assert (
            tube.part in said
            and (f"{tube.tube}" if is_narrow else f"{tube.tube}, {1e3 * tube.length:.0f} mm") in said
        )
    for view in ("From behind", "From the right", "From above"):
        assert view in said
    assert f"{CAGE.mass:.1f} kg" in said and inside_view(svg)


@NARROW
@pytest.mark.parametrize("result", HELD, ids=lambda result: result.load.name)
def test_a_load_names_the_weakest_tube_the_factor_and_the_movement(result, is_narrow: bool) -> None:
    svg = cage_load_svg(CAGE, result, is_narrow=is_narrow)
    said = plain(svg)
    assert f"Weakest: {result.weakest.member}, from" in said
    assert f"{100 * result.weakest.use:.0f} %" in said
    assert re.search(r"elastic shape, [\d,]+ times too large", said)
    if result.limit.deflection is None:
        assert "gives way before this load" in said and "Gives way at 0." in said
    else:
        assert f"Moves {1e3 * result.limit.deflection:.1f} mm" in said
    known = {
        "memory": "from memory, unverified",
        "quoted": "read as quoted by others",
        "read": "read",
    }[result.load.known]
    assert known in said and inside_view(svg)
    assert ("For comparison only" in said) is not result.load.applies


def test_bolted_joints_and_feet_are_marked_and_said() -> None:
    bolted = cage_of(template(bolted_door_bars=True, feet=Fixing.BOLTED))
    svg = cage_drawing_svg(bolted)
    assert "bolted joint, free to bend" in plain(svg) and "foot, bolted" in plain(svg)
    assert "Bolted joints: 8." in read(svg).find(f"{SVG}desc").text
    svg = cage_drawing_svg(CAGE)
    assert "bolted" not in plain(svg) and "foot, welded" in plain(svg)


def test_uses_differ_in_more_than_colour() -> None:
    looks = [look for _, look in USE_LOOKS]
    assert len({(look.width, look.dash, look.core) for look in looks}) == len(looks)
    assert all(contrast(look.colour, PAPER) >= 4.5 for look in looks)
    assert [use_look(use).word for use in (0.0, 0.4999, 0.5, 0.8, 0.9999, 1.0, 9.0)] == [
        looks[place].word for place in (0, 0, 1, 2, 2, 3, 3)
    ]


def test_the_views_look_as_they_say() -> None:
    forward, left, up = np.eye(3)
    assert SIDE.flat(np.array([forward, left, up])).tolist() == [[1, 0], [0, 0], [0, 1]]
    assert BEHIND.flat(np.array([forward, left, up])).tolist() == [[0, 0], [-1, 0], [0, 1]]
    assert ABOVE.flat(np.array([forward, left, up])).tolist() == [[1, 0], [0, 1], [0, 0]]
    for view, nearer in ((SIDE, -left), (BEHIND, -forward), (ABOVE, up)):
        assert view.nearness(np.array([nearer])) > view.nearness(np.array([-nearer]))


def _shape(cage, moves, times=1.0) -> np.ndarray:
    """The first piece's bent shape on the sheet, back in metres."""
    found = next(iter(bent(cage, moves, times, PANE, LOOK)))
    pairs = np.array(re.findall(r"(-?[\d.]+),(-?[\d.]+)", found), dtype=float)
    return np.column_stack([(pairs[:, 0] - 100.0) / 100.0 - 1.0, 1.0 - (pairs[:, 1] - 50.0) / 100.0])


def test_a_piece_bends_as_a_beam_does_and_its_ends_go_where_the_nodes_go() -> None:
    """Cantilever with a force at its tip: at half length 5/16 of the tip's movement (Euler-Bernoulli)."""
    start, end = CAGE.members[1].start, CAGE.members[1].end
    nodes = tuple(
        dataclasses.replace(node, position={start: (0.0, 0.0, 0.0), end: (1.0, 0.0, 0.0)}[node.name])
        for node in CAGE.nodes
        if node.name in (start, end)
    )
    cage = dataclasses.replace(CAGE, nodes=nodes, members=(CAGE.members[1],), feet=())
    tip = 0.2
    moves = [
        NodeMove(node=start, move=(0.0, 0.0, 0.0), turn=(0.0, 0.0, 0.0)),
        NodeMove(node=end, move=(0.0, 0.0, tip), turn=(0.0, -1.5 * tip, 0.0)),
    ]
    for seen in (_shape(cage, moves), _shape(cage, moves[::-1])):
        assert seen[0] == pytest.approx([0.0, 0.0], abs=2e-3)
        assert seen[-1] == pytest.approx([1.0, tip], abs=2e-3)
        exact = [tip * x**2 * (3.0 - x) / 2.0 for x, _ in seen]
        assert seen[:, 1] == pytest.approx(exact, abs=2e-3)
    free = dataclasses.replace(cage, members=(dataclasses.replace(CAGE.members[1], bolted_end=True),))
    turned = [moves[0], dataclasses.replace(moves[1], turn=(0.0, 9.0, 0.0))]
    assert _shape(free, turned)[:, 1] == pytest.approx(_shape(cage, moves)[:, 1], abs=2e-3)
    both = dataclasses.replace(
        cage, members=(dataclasses.replace(CAGE.members[1], bolted_start=True, bolted_end=True),)
    )
    straight = _shape(both, turned)
    assert straight[:, 1] == pytest.approx(tip * straight[:, 0], abs=2e-3)
    assert _shape(cage, moves, 2.0)[-1][1] == pytest.approx(2.0 * tip, abs=2e-3)


@pytest.mark.parametrize(("largest", "times"), [(1e-3, 100.0), (2.4e-3, 50.0), (0.5, 1.0), (0.0, 1.0)])
def test_the_exaggeration_is_round_and_never_below_one(largest: float, times: float) -> None:
    move = NodeMove(node=CAGE.nodes[0].name, move=(0.0, 0.0, -largest), turn=(0.0, 0.0, 0.0))
    assert exaggeration(CAGE, [move]) == times


def test_a_force_seen_end_on_is_a_ring_and_from_above_an_arrow() -> None:
    forces = HELD[0].load.forces
    assert all("<circle" in each for each in arrows(CAGE, forces, dataclasses.replace(PANE, view=ABOVE)))
    assert all("Z" in each or "<path" in each for each in arrows(CAGE, forces, PANE))


@settings(max_examples=15, deadline=None)
@given(templates())
def test_any_template_is_drawn_whole(measures) -> None:
    cage = cage_of(measures)
    for is_narrow in (False, True):
        svg = cage_drawing_svg(cage, is_narrow=is_narrow)
        assert numbers_in(svg) == sorted([*range(1, len(cage.tube_list()) + 1)] * 2)
        assert inside_view(svg)


def test_names_of_a_person_cannot_break_the_drawing() -> None:
    cage = dataclasses.replace(CAGE, name='<script>"&')
    read(cage_drawing_svg(cage))
    assert "<script>" not in cage_drawing_svg(cage)


def test_the_most_used_tube_lies_over_the_others() -> None:
    """A left-hand driver's front corner is loaded on the far side of the view from the right."""
    result = HELD[1]
    uses = {each.member: each.use for each in result.members}
    looks = {name: dataclasses.replace(LOOK, width=float(place)) for place, name in enumerate(uses)}
    drawn = [float(re.search(r'stroke-width="(\d+)"/>$', each)[1]) for each in tubes(CAGE, PANE, looks, uses)]
    assert [list(uses)[int(place)] for place in drawn] == sorted(uses, key=lambda name: uses[name])
    near_last = [float(re.search(r'stroke-width="(\d+)"/>$', each)[1]) for each in tubes(CAGE, PANE, looks)]
    assert near_last != drawn
