import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import cage_of, template, templates
from published import check
from tintop.car.cage import Case, KnownHow, Side
from tintop.car.cage_loads import (
    front_force,
    front_upper_corner,
    main_hoop_force,
    roof_plate_force,
    standard_loads,
    tilted_press,
)
from tintop.car.cage_templates import DoorBars


def test_arithmetic_of_the_homologation_from_memory():
    check("V10-05")


def test_roof_plate_force_and_direction():
    check("T1")


def test_figures_of_a_car_of_1050_kg():
    """Figures of the same car worked out by others: 90.0, 88.26, 42.0, 41.19, 30.87 kN."""
    assert main_hoop_force(1050.0) == 90000.0
    assert main_hoop_force(1050.0, 9.80665) == pytest.approx(88.26e3, abs=5.0)
    assert front_force(1050.0) == 42000.0
    assert front_force(1050.0, 9.80665) == pytest.approx(41.19e3, abs=5.0)
    assert roof_plate_force(1050.0) == pytest.approx(30870.0, rel=1e-12)


def test_the_tilted_block_presses_rearward_inward_and_down():
    left, right = tilted_press(Side.LEFT), tilted_press(Side.RIGHT)
    assert left == pytest.approx((-0.0790, -0.4213, -0.9035), abs=5e-5)
    assert right == pytest.approx((left[0], -left[1], left[2]))


def _by_name(**changes):
    cage = cage_of(template(), **changes)
    return cage, {load.name: load for load in standard_loads(cage)}


def test_what_each_load_presses_on():
    cage, loads = _by_name()
    touched = {name: {each.node for each in load.forces} for name, load in loads.items()}
    assert touched["main hoop from above"] == {"hoop top left", "hoop top right"}
    assert touched["front corner on the driver's side"] == {"screen top right"}
    assert touched["single-seater roll structure"] == {"hoop top right"}
    assert all("left" in node for node in touched["roof plate, left"])
    assert all(node.endswith("right") for node in touched["roof plate, right"])
    assert front_upper_corner(cage) == "screen top right"
    left, loads = _by_name(driver_side=Side.LEFT)
    assert front_upper_corner(left) == "screen top left"
    assert loads["front corner on the driver's side"].total[1] < 0.0  # inward from the left


@settings(max_examples=30, deadline=None)
@given(templates(), st.sampled_from(Side))
def test_no_force_is_lost_in_sharing(drawn_from, side):
    cage = cage_of(drawn_from, driver_side=side)
    size = {load.name: math.hypot(*load.total) for load in standard_loads(cage)}
    assert size["main hoop from above"] == pytest.approx(90e3)
    assert size["front corner on the driver's side"] == pytest.approx(42e3)
    assert size["roof plate, left"] == pytest.approx(30.87e3)
    assert size["roof plate, right"] == pytest.approx(30.87e3)
    assert size["single-seater roll structure"] == pytest.approx(math.hypot(50e3, 60e3, 90e3))
    assert size["older editions, hoop top"] == pytest.approx(1125 * 10 * math.hypot(1.5, 5.5, 7.5))


def test_what_is_remembered_says_so_and_what_is_compared_decides_nothing():
    _, loads = _by_name()
    for load in loads.values():
        assert (load.known is KnownHow.MEMORY) == ("from memory: unverified" in load.source)
        assert (load.known is KnownHow.QUOTED) == ("as quoted by others" in load.source)
        assert load.known.speaks == (load.known is KnownHow.READ)
    assert {name for name, load in loads.items() if not load.applies} == {
        "older editions, hoop top",
        "single-seater roll structure",
    }
    assert Case.LATERAL not in {load.case for load in loads.values()}


def test_a_hoop_and_stays_alone_have_no_front_load():
    cage = cage_of(template(door_bars=DoorBars.NONE, has_windscreen_bar=False))
    kept = tuple(each for each in cage.members if each.role.value != "front leg")
    nodes = {node for each in kept for node in (each.start, each.end)}
    bar = cage_of(
        template(),
        members=kept,
        nodes=tuple(node for node in cage.nodes if node.name in nodes),
        feet=tuple(foot for foot in cage.feet if foot.node in nodes),
    )
    assert {load.case for load in standard_loads(bar)} == {Case.MAIN_HOOP, Case.ROOF, Case.COMBINED}
