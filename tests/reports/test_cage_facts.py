"""What a drawing says of what rule books ask: the facts named are facts of the catalogue, angles by tape."""

import dataclasses
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import DEMO, cage_of, template, templates
from tintop.car.cage import CageNode
from tintop.reports.cage_facts import NO_ROOF_DIAGONAL, drawn_facts, facts_table, remarks
from tintop.store.documents.cage_reader import read_cage
from tintop.store.rule_books.shipped import shipped_facts


def drawn(cage) -> dict[str, str]:
    return {each.what: each.drawn for each in drawn_facts(cage)}


def test_the_demo_as_it_was_taped() -> None:
    said = drawn(read_cage(DEMO).cage)
    assert said["main hoop, tube"] == "45 × 2.5 mm" and said["backstays, tube"] == "40 × 2 mm"
    assert said["stay left, from vertical"] == f"{math.degrees(math.atan2(830.0, 745.0)):.1f}°"
    assert (said["diagonals of the main hoop"], said["door bars, left"], said["door bars, right"]) == (
        "1",
        "2",
        "2",
    )
    assert said["yield strength"] == "372 N/mm², documented"


def test_every_fact_named_is_one_that_can_be_recorded() -> None:
    named = {name for each in drawn_facts(read_cage(DEMO).cage) for name in each.facts}
    assert named <= set(shipped_facts())


@settings(max_examples=20)
@given(templates(), st.floats(-2.0, 2.0), st.floats(-1.0, 1.0))
def test_the_origin_does_not_matter(drawn_from, forward, up) -> None:
    cage = cage_of(drawn_from)
    moved = dataclasses.replace(
        cage,
        nodes=tuple(
            CageNode(name=node.name, position=(x + forward, y, z + up))
            for node in cage.nodes
            for x, y, z in [node.position]
        ),
    )
    assert drawn(moved) == drawn(cage)


@pytest.mark.parametrize("count", [0, 1, 2])
def test_a_roof_without_a_diagonal_is_said(count) -> None:
    cage = cage_of(template(roof_diagonals=count))
    assert remarks(cage) == ((NO_ROOF_DIAGONAL,) if count == 0 else ())


def test_the_table_has_every_row() -> None:
    cage = cage_of(template())
    assert [row[0] for row in facts_table(cage).rows] == [each.what for each in drawn_facts(cage)]
