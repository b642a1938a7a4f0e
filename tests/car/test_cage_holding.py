import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import STEEL, cage_of, template, templates
from tintop.car.cage import CageLoad, Case, Fixing, KnownHow, NodeForce, Tube
from tintop.car.cage_holding import hold, stand
from tintop.car.cage_loads import standard_loads
from tintop.errors import BadInput


def load_on(*forces: tuple[str, tuple[float, float, float]], axis=(0.0, 0.0, -1.0)) -> CageLoad:
    return CageLoad(
        name="test load",
        case=Case.OTHER,
        forces=tuple(NodeForce(node=node, force=force) for node, force in forces),
        axes=(axis,),
        permitted_deflection=0.05,
        known=KnownHow.YOURS,
        source="this test",
    )


@settings(max_examples=4, deadline=None)
@given(templates())
def test_feet_carry_the_load_and_the_factors_are_in_order(drawn_from):
    cage = cage_of(drawn_from)
    for result in hold(stand(cage), standard_loads(cage)):
        given_back = np.sum([each.force for each in result.reactions], axis=0)
        assert given_back == pytest.approx(-np.array(result.load.total), abs=1e-3)
        limit = result.limit
        assert limit.first_yield <= limit.first_hinge * (1.0 + 1e-9) <= limit.mechanism * (1.0 + 2e-9)
        assert limit.carries <= min(limit.mechanism, limit.first_buckling, limit.elastic_critical)
        assert result.weakest.use == max(use.use for use in result.members)
        factors = [hinge.factor for hinge in limit.hinges]
        assert factors == sorted(factors)
        assert factors[0] >= limit.first_hinge * (1.0 - 1e-9)
        assert all(factor <= limit.mechanism * (1.0 + 1e-9) for factor in factors)
        assert (limit.deflection is None) == (min(limit.mechanism, limit.elastic_critical) <= 1.0)
        if limit.deflection is not None:
            assert limit.deflection >= result.deflection * (1.0 - 1e-6)
        for foot in result.reactions:
            assert foot.fixing is drawn_from.feet
            if foot.fixing is Fixing.BOLTED:
                assert foot.moment == (0.0, 0.0, 0.0)


def test_twice_the_load_is_carried_half_as_often():
    cage = cage_of(template())
    one, two = hold(
        stand(cage),
        (load_on(("hoop top left", (0.0, 0.0, -2e4))), load_on(("hoop top left", (0.0, 0.0, -4e4)))),
    )
    assert two.deflection == pytest.approx(2.0 * one.deflection)
    for name in ("first_yield", "first_hinge", "mechanism", "first_buckling", "elastic_critical"):
        assert getattr(two.limit, name) == pytest.approx(0.5 * getattr(one.limit, name), rel=1e-5)


def test_the_same_on_either_side():
    cage = cage_of(template(roof_diagonals=2))
    left, right = hold(
        stand(cage),
        (
            load_on(("screen top left", (-1e3, -5e3, -1e4))),
            load_on(("screen top right", (-1e3, 5e3, -1e4))),
        ),
    )
    assert left.deflection == pytest.approx(right.deflection)
    assert left.limit.mechanism == pytest.approx(right.limit.mechanism, rel=1e-6)


@settings(max_examples=10, deadline=None)
@given(st.data())
def test_a_thicker_tube_never_lets_the_load_go_farther(data):
    cage = cage_of(template())
    part = data.draw(st.sampled_from([each.part for each in cage.tube_list()]))
    node = data.draw(st.sampled_from(["hoop top left", "screen top right", "dash left"]))
    stout = tuple(
        dataclasses.replace(each, tube=Tube(diameter=0.050, wall=0.004)) if each.part == part else each
        for each in cage.members
    )
    load = load_on((node, (0.0, 0.0, -2e4)))
    (before,) = hold(stand(cage), (load,))
    (after,) = hold(stand(dataclasses.replace(cage, members=stout)), (load,))
    assert after.deflection <= before.deflection * (1.0 + 1e-9)
    assert after.limit.mechanism >= before.limit.mechanism * (1.0 - 1e-5)


def test_stronger_steel_carries_in_proportion_and_bends_as_before():
    cage = cage_of(template())
    strong = dataclasses.replace(cage, steel=dataclasses.replace(STEEL, yield_strength=700e6))
    load = load_on(("hoop top left", (0.0, 0.0, -4e4)))
    (plain,), (other,) = hold(stand(cage), (load,)), hold(stand(strong), (load,))
    assert other.deflection == pytest.approx(plain.deflection)
    assert other.limit.mechanism == pytest.approx(2.0 * plain.limit.mechanism, rel=1e-5)
    assert other.limit.first_yield == pytest.approx(2.0 * plain.limit.first_yield)


def test_a_cage_that_gives_way_names_the_node():
    cage = cage_of(template(feet=Fixing.BOLTED))
    loose = tuple(
        dataclasses.replace(each, bolted_start=True, bolted_end=True)
        if each.part.startswith("stay")
        else each
        for each in cage.members
    )
    assert stand(dataclasses.replace(cage, members=loose))  # stays are struts: it still holds
    all_loose = tuple(dataclasses.replace(each, bolted_start=True, bolted_end=True) for each in cage.members)
    with pytest.raises(BadInput, match=r"node .*: found a frame that gives way: .* moves freely"):
        stand(dataclasses.replace(cage, members=all_loose))


def test_loads_that_press_on_nothing_are_refused():
    cage = cage_of(template())
    with pytest.raises(BadInput, match="the unknown node 'roof'"):
        hold(stand(cage), (load_on(("roof", (0.0, 0.0, -1.0))),))
    with pytest.raises(BadInput, match="straight into feet"):
        hold(stand(cage), (load_on(("hoop foot left", (0.0, 0.0, -1.0))),))
    with pytest.raises(BadInput, match="no force"):
        hold(stand(cage), (load_on(("hoop top left", (0.0, 0.0, 0.0))),))
    assert hold(stand(cage), ()) == ()
