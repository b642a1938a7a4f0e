"""Sensitivities against laps driven anew with the number changed."""

from dataclasses import replace

import pytest

from cars import front_driven_hatchback
from demo_cars import demo_car, demo_lane, demo_weather
from paths import club_circuit
from tintop.car.numbers import numbers_of, with_number
from tintop.event import Weather
from tintop.known import Known, Origin
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import lap_time
from tintop.lap.sensitivity import Sensitivity, sensitivities

AIR = Weather()


def by_path(found: tuple[Sensitivity, ...]) -> dict[str, Sensitivity]:
    return {one.path: one for one in found}


@pytest.fixture(scope="module")
def demo() -> dict[str, Sensitivity]:
    return by_path(
        sensitivities(demo_car(), demo_lane(), demo_weather(), conditions=Conditions(fuel_mass=20.0))
    )


def test_every_number_of_the_car_has_one(demo: dict[str, Sensitivity]) -> None:
    assert set(demo) == set(numbers_of(demo_car()))
    assert len(demo) >= 40


@pytest.mark.parametrize(
    "name",
    [
        "masses.car",
        "masses.cg_height",
        "aero.drag_area",
        "engine.torques",
        "tyre_front.friction_lateral",
        "tyre_front.friction_longitudinal",
        "gearbox.shift_time",
        "suspension.roll_stiffness_front",
        "suspension.roll_stiffness_rear",
    ],
)
def test_a_tenth_more_changes_the_lap_as_foretold(name: str, demo: dict[str, Sensitivity]) -> None:
    """Rerun with the number 10 % higher and lower: the slope between lies near the foretold one."""
    car, path, weather = demo_car(), demo_lane(), demo_weather()
    fuel = Conditions(fuel_mass=20.0)
    value = numbers_of(car)[name]
    high = lap_time(with_number(car, name, 1.1 * value), path, weather, fuel)
    low = lap_time(with_number(car, name, 0.9 * value), path, weather, fuel)
    rerun = (high - low) / 20.0  # seconds per percent
    foretold = demo[name].seconds_per_percent
    assert foretold == pytest.approx(rerun, rel=0.35, abs=0.01)
    if abs(rerun) > 0.02:
        assert foretold * rerun > 0.0


def test_where_the_rear_seldom_holds_the_slope_grows_with_the_step(demo: dict[str, Sensitivity]) -> None:
    """Less rear grip is soon dear, more of it buys little: the foretold slope lies between the two."""
    car, path, weather = demo_car(), demo_lane(), demo_weather()
    fuel = Conditions(fuel_mass=20.0)
    name = "tyre_rear.friction_lateral"
    now, less, more = (
        lap_time(with_number(car, name, share * numbers_of(car)[name]), path, weather, fuel)
        for share in (1.0, 0.9, 1.1)
    )
    assert (less - now) / 10.0 > -demo[name].seconds_per_percent > 0.9 * (now - more) / 10.0 > 0.0


def test_signs_are_the_trade_s(demo: dict[str, Sensitivity]) -> None:
    for worse in ("masses.car", "masses.driver", "masses.ballast", "masses.cg_height", "aero.drag_area"):
        assert demo[worse].seconds_per_unit > 0.0, worse
    for better in ("engine.torques", "tyre_front.friction_lateral", "dimensions.track_front"):
        assert demo[better].seconds_per_unit < 0.0, better


def test_what_does_not_touch_the_lap_is_worth_nothing(demo: dict[str, Sensitivity]) -> None:
    for name in ("tank.volume", "cooling.radiator_face_area", "brakes.front.disc_mass", "fuel.density"):
        assert demo[name].seconds_per_unit == 0.0, name


def test_uncertainty_becomes_seconds_and_the_dearest_doubt_comes_first() -> None:
    known = {
        "masses.cg_height": Known(value=0.5, origin=Origin.ESTIMATED, uncertainty=0.03),
        "aero.drag_area": Known(value=0.68, origin=Origin.ASSUMED, uncertainty=0.06),
    }
    path = club_circuit(step=5.0)
    found = sensitivities(front_driven_hatchback(), path, AIR, known=known)
    doubts = [one.seconds_of_doubt for one in found]
    assert doubts == sorted(doubts, reverse=True)
    assert {found[0].path, found[1].path} == set(known)
    for one in found[:2]:
        assert one.seconds_of_doubt == pytest.approx(abs(one.seconds_per_unit) * known[one.path].uncertainty)
        assert one.origin is known[one.path].origin


def test_a_value_at_the_edge_of_what_a_part_allows_is_taken_from_one_side() -> None:
    car = front_driven_hatchback()
    best = replace(car, gearbox=replace(car.gearbox, efficiency=1.0))
    told: list[float] = []
    found = by_path(sensitivities(best, club_circuit(step=5.0), AIR, progress=told.append))
    assert found["gearbox.efficiency"].seconds_per_unit < 0.0
    assert found["masses.ballast"].seconds_per_unit > 0.0
    assert told[-1] == pytest.approx(1.0)
    assert told == sorted(told)
