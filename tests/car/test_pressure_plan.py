"""The example of docs/theory/pressures.md is worked here with the same numbers."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.car.pressure_plan import (
    PressureDay,
    Rise,
    Stage,
    cold_corners,
    day_plan,
    gauge_step,
    home_an_hour_after,
    in_the_rain,
    on_a_warmer_day,
    rounded,
    written,
)
from tintop.car.tread_doubts import MOST_MINUTES
from tintop.errors import BadInput
from tintop.physics.tyre_pressure import pressure_gauge_at

PRACTICE = Stage(name="practice", air_temp=14.0, laps=8)
RACE = Stage(name="the race", air_temp=22.0, laps=20)


def rises(*values, doubt=6.0):
    first, second, third, fourth = (Rise(value=each, uncertainty=doubt, basis="by hand") for each in values)
    return first, second, third, fourth


def a_day(**changes):
    asked = PressureDay(
        targets=(2.15e5,) * 4,
        target_basis="by hand",
        rises=rises(60.0, 50.0, 40.0, 30.0),
        tyres_at=14.0,
        stages=(PRACTICE, RACE),
        cooling=(4000.0,) * 4,
        unit="bar",
        home=(2.2e5, 2.2e5, 2.0e5, 2.0e5),
        rain=rises(30.0, 29.0, 17.0, 16.0),
    )
    return replace(asked, **changes)


def bar(pressure):
    return round(pressure / 1e5, 4)


def test_the_example_worked_by_hand():
    day = a_day()
    corners = cold_corners(day)
    assert bar(corners[0].exact) == 1.6033
    assert written(corners[0].to_set, "bar") == "1.60 bar"
    assert bar(corners[0].comes_to) == 2.146
    warm = cold_corners(a_day(tyres_at=24.0))[0]
    assert bar(warm.exact) == 1.6944
    practice, race = day_plan(day, corners)
    assert written(practice.to[0], "bar") == "2.10 bar"
    assert bar(practice.cold_next[0]) == 1.6337
    assert bar(race.comes_to[0]) == 2.1717
    assert bar(on_a_warmer_day(day, corners[0])[1]) == 2.0787


def test_left_and_right_differ_as_their_rises_do():
    cold = [each.to_set for each in cold_corners(a_day())]
    assert cold == sorted(cold)
    assert cold[0] < cold[3]


@given(st.floats(1.5e5, 3.0e5), st.floats(0.0, 90.0), st.floats(-5.0, 40.0), st.floats(-5.0, 40.0))
def test_the_exact_cold_pressure_comes_to_the_target(target, rise, air, tyres_at):
    day = a_day(
        targets=(target,) * 4, rises=rises(rise, rise, rise, rise), tyres_at=tyres_at,
        stages=(replace(PRACTICE, air_temp=air),), set_air_pressure=98e3, air_pressure=95e3,
    )  # fmt: skip
    try:
        corner = cold_corners(day)[0]
    except BadInput as error:
        assert "cold pressure FL" in str(error)
        return
    assert abs(corner.to_set - corner.exact) <= 0.5 * gauge_step("bar") + 1e-6
    assert abs(corner.comes_to - target) <= 0.8 * gauge_step("bar")
    assert corner.low < corner.exact < corner.high


def test_a_hotter_race_is_bled_for_and_a_colder_one_pumped_for():
    day = a_day(stages=(PRACTICE, replace(RACE, air_temp=30.0)))
    plan = day_plan(day, cold_corners(day))
    assert plan[0].deed.startswith("bleed FL")
    assert all(to < comes for to, comes in zip(plan[0].to, plan[0].comes_to, strict=True))
    day = a_day(stages=(RACE, replace(PRACTICE, name="the evening")), tyres_at=22.0)
    assert "put air into" in day_plan(day, cold_corners(day))[0].deed


def test_two_sessions_in_the_same_air_leave_the_tyres_alone():
    day = a_day(stages=(PRACTICE, replace(RACE, air_temp=14.0)))
    plan = day_plan(day, cold_corners(day))
    assert plan[0].to is None and plan[0].deed == "leave all four for the race"
    assert plan[1].to is None and plan[1].cold_next is None


def test_a_short_qualifying_is_set_higher_and_bled_after():
    day = a_day(stages=(replace(PRACTICE, laps=3, share=0.7), replace(RACE, air_temp=14.0)))
    assert cold_corners(day)[0].to_set > cold_corners(a_day())[0].to_set
    assert day_plan(day, cold_corners(day))[0].deed.startswith("bleed FL, FR")


def test_a_reading_waits_less_than_a_tyre_takes_to_cool():
    for row in day_plan(a_day(), cold_corners(a_day())):
        assert 60.0 < row.read_within <= 60.0 * MOST_MINUTES < 900.0 < row.cold_after < 6.0 * 3600.0


def test_how_much_is_gone_by_the_reading_is_newtons_law_at_the_quickest_cooling():
    """60 K over the air at 2.5 times the stated rate: a psi is gone before the treads' three minutes."""
    day = a_day(cooling_doubt=4.0)
    row = day_plan(day, cold_corners(day))[0]
    fastest = max(range(4), key=lambda place: day.rises[place].value)
    above = row.stage.share * day.rises[fastest].value
    hot = row.stage.air_temp + above
    cooled = row.stage.air_temp + above * math.exp(-row.read_within * 4.0 / day.cooling[fastest])
    fallen = row.comes_to[fastest] - pressure_gauge_at(row.comes_to[fastest], hot, cooled, day.air_pressure)
    assert row.lost_by_then == pytest.approx(fallen, rel=1e-9)
    assert row.lost_by_then == pytest.approx(6894.757, rel=1e-6)
    sure = day_plan(a_day(), cold_corners(day))[0]
    assert row.read_within < sure.read_within == 60.0 * MOST_MINUTES
    assert sure.lost_by_then < 6894.757
    assert row.cold_after == sure.cold_after  # by the slowest: a cold reading is not hurried


def test_the_rain_wants_more_air_and_the_road_home_too():
    day = a_day()
    rain = in_the_rain(day)
    assert rain is not None
    assert all(wet > dry.to_set for wet, dry in zip(rain, cold_corners(day), strict=True))
    assert in_the_rain(a_day(rain=None)) is None
    home = home_an_hour_after(day)
    assert home is not None and home[0] == home[1]
    assert all(warm >= cold for warm, cold in zip(home[0], day.home, strict=True))
    least, most = home_an_hour_after(a_day(cooling_doubt=2.5))
    assert (
        most == home[0] and all(low <= high for low, high in zip(least, most, strict=True)) and least < most
    )
    assert home_an_hour_after(a_day(home_tyres="road tyres")) is None  # those never got warm
    assert home_an_hour_after(a_day(home=None)) is None


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"targets": (31.0e5, 2e5, 2e5, 2e5)}, "hot target FL"),
        ({"targets": (0.9e5,) * 4}, "cold pressure FL"),
        ({"unit": "bananas"}, "unit of the gauge"),
        ({"tyres_at": 140.0}, "temperature of the tyres"),
        ({"stages": ()}, "sessions"),
        ({"stages": (replace(PRACTICE, air_temp=70.0),)}, "air, practice"),
        ({"rises": rises(60.0, 200.0, 40.0, 30.0)}, "rise FR"),
    ],
)
def test_nonsense_is_refused_by_name(changes, named):
    with pytest.raises(BadInput, match=named):
        cold_corners(a_day(**changes))


@pytest.mark.parametrize(
    ("pressure", "unit", "words"),
    [(1.654e5, "bar", "1.65 bar"), (1.654e5, "psi", "24.0 psi"), (1.654e5, "kPa", "165 kPa")],
)
def test_a_pressure_is_set_to_the_step_of_its_gauge(pressure, unit, words):
    assert written(rounded(pressure, unit), unit) == words
