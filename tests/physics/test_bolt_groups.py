import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.errors import BadInput
from tintop.physics.bolt_groups import Place, ballast_load, force_at, shear_in_group

coordinates = st.integers(-500, 500).map(lambda millimetres: millimetres / 1000)
places = st.builds(Place, coordinates, coordinates)
pulls = st.builds(Place, st.floats(-1e4, 1e4), st.floats(-1e4, 1e4))
groups = st.lists(places, min_size=2, max_size=8, unique=True)


@pytest.mark.parametrize("case_id", ["V16-05", "V16-06", "V16-07"])
def test_published_case(case_id):
    check(case_id)


@given(groups, pulls, places)
def test_the_bolts_hold_force_and_moment(group, pull, at):
    found = shear_in_group(group, pull, at)
    size = 1.0 + math.hypot(*pull)
    assert sum(force.x for force in found.forces) == pytest.approx(pull.x, abs=1e-9 * size)
    assert sum(force.y for force in found.forces) == pytest.approx(pull.y, abs=1e-9 * size)
    about_origin = sum(b.x * f.y - b.y * f.x for b, f in zip(group, found.forces, strict=True))
    assert about_origin == pytest.approx(at.x * pull.y - at.y * pull.x, abs=1e-9 * size)


@given(groups, pulls, places, st.floats(-math.pi, math.pi), places)
def test_turned_and_moved_the_largest_force_is_the_same(group, pull, at, turn, moved):
    def turned(place, offset=(0.0, 0.0)):
        x = place.x * math.cos(turn) - place.y * math.sin(turn) + offset[0]
        y = place.x * math.sin(turn) + place.y * math.cos(turn) + offset[1]
        return Place(x, y)

    here = shear_in_group(group, pull, at)
    there = shear_in_group([turned(b, moved) for b in group], turned(pull), turned(at, moved))
    assert there.largest == pytest.approx(here.largest, rel=1e-6, abs=1e-6)


@given(groups, pulls, places)
def test_mirrored_the_forces_are_mirrored(group, pull, at):
    def mirrored(place):
        return Place(-place.x, place.y)

    here = shear_in_group(group, pull, at)
    there = shear_in_group([mirrored(b) for b in group], mirrored(pull), mirrored(at))
    for one, other in zip(here.forces, there.forces, strict=True):
        assert (other.x, other.y) == pytest.approx((-one.x, one.y), abs=1e-6)


@given(groups, pulls, places, st.floats(1.0, 5.0))
def test_twice_the_load_is_twice_the_force(group, pull, at, times):
    here, more = (
        shear_in_group(group, Place(factor * pull.x, factor * pull.y), at).largest for factor in (1.0, times)
    )
    assert more == pytest.approx(times * here, rel=1e-9, abs=1e-9)


def test_one_bolt_bears_a_force_through_it_and_no_other():
    assert shear_in_group([Place(0.1, 0.2)], Place(0.0, 500.0), Place(0.1, 0.9)).largest == 500.0
    with pytest.raises(BadInput, match="One bolt alone lets the plate turn"):
        shear_in_group([Place(0.1, 0.2)], Place(0.0, 500.0), Place(0.3, 0.2))


def test_ballast_by_hand():
    """20 kg at 25 g: 4,903 N; at 60 mm height on bolts 30 and 170 mm from the edge, two of each."""
    found = ballast_load(20.0, 25.0, 0.06, [0.03, 0.03, 0.17, 0.17])
    assert found.force == pytest.approx(20 * 25 * 9.80665)
    assert found.shear_per_bolt == pytest.approx(found.force / 4)
    assert found.tension_of_worst_bolt == pytest.approx(found.force * 60 * 170 / (2 * (30**2 + 170**2)))


@given(st.floats(1.0, 50.0), st.floats(1.0, 30.0), st.floats(0.01, 0.3), st.floats(1.0, 3.0))
def test_heavier_higher_and_harder_is_never_less(mass, times_gravity, height, more):
    bolts = [0.02, 0.15]
    here = ballast_load(mass, times_gravity, height, bolts)
    for other in (
        ballast_load(mass * more, times_gravity, height, bolts),
        ballast_load(mass, times_gravity * more, height, bolts),
        ballast_load(mass, times_gravity, height * more, bolts),
    ):
        assert other.tension_of_worst_bolt >= here.tension_of_worst_bolt
        assert other.shear_per_bolt >= here.shear_per_bolt


@given(st.lists(st.floats(0.01, 0.5), min_size=1, max_size=8), st.floats(0.01, 0.3))
def test_bolt_tensions_hold_the_tipping_moment(distances, height):
    found = ballast_load(10.0, 20.0, height, distances)
    tensions = [found.tension_of_worst_bolt * distance / max(distances) for distance in distances]
    held = sum(tension * distance for tension, distance in zip(tensions, distances, strict=True))
    assert held == pytest.approx(found.force * height, rel=1e-9)


def test_flat_on_the_floor_nothing_tips():
    assert ballast_load(10.0, 20.0, 0.0, [0.0]).tension_of_worst_bolt == 0.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: force_at(0.0, 5.0), "mass"),
        (lambda: force_at(17.0, math.nan), "load"),
        (lambda: shear_in_group([], Place(1.0, 0.0), Place(0.0, 0.0)), "bolts"),
        (lambda: shear_in_group([Place(0.0, 0.0)] * 101, Place(1.0, 0.0), Place(0.0, 0.0)), "1 to 100"),
        (lambda: shear_in_group([Place(0.0, math.nan)], Place(1.0, 0.0), Place(0.0, 0.0)), "no number"),
        (
            lambda: shear_in_group([Place(0, 0)] * 2, Place(1.0, 0.0), Place(0.0, 1.0)),
            "all stand in one place",
        ),
        (lambda: ballast_load(10.0, 20.0, -0.1, [0.1]), "height"),
        (lambda: ballast_load(10.0, 20.0, 0.1, []), "bolts"),
        (lambda: ballast_load(10.0, 20.0, 0.1, [-0.1]), "distance from the tipping edge"),
        (lambda: ballast_load(10.0, 20.0, 0.1, [0.0, 0.0]), "let the weight tip"),
    ],
)
def test_nonsense_is_refused_in_words(call, says):
    with pytest.raises(BadInput, match=says):
        call()
