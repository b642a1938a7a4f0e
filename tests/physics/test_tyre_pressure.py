import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics.tyre_pressure import (
    DAY,
    gas_left_out,
    leak_rate,
    loose_water_growth,
    moist_air_growth,
    pressure_gauge_at,
    seconds_to_fall,
    temp_at_pressure,
)

pressures, temps = st.floats(80e3, 300e3), st.floats(-10.0, 130.0)
errors = st.lists(st.floats(-1.0, 1.0), min_size=5, max_size=12)


@pytest.mark.parametrize("case_id", ["V3-07", "V3-09", "V3-10", "V3-11", "V3-12"])
def test_published_case(case_id):
    check(case_id)


@given(pressures, temps, temps)
def test_there_and_back_is_the_same_pressure(pressure, one, other):
    there = pressure_gauge_at(pressure, one, other)
    assert pressure_gauge_at(there, other, one) == pytest.approx(pressure, rel=1e-9)
    assert (there > pressure) == (other > one) or there == pytest.approx(pressure)


@given(pressures, temps)
def test_a_hill_circuit_makes_the_gauge_rise_less(pressure, temp):
    at_sea = pressure_gauge_at(pressure, temp, temp + 50.0)
    on_a_hill = pressure_gauge_at(pressure, temp, temp + 50.0, air_pressure=80e3)
    assert on_a_hill < at_sea


@given(pressures, st.floats(80e3, 104e3), st.floats(80e3, 104e3), temps)
def test_driven_up_a_hill_the_gauge_reads_more_by_what_the_air_outside_lost(pressure, home, hill, temp):
    read = pressure_gauge_at(pressure, temp, temp, home, hill)
    assert read - pressure == pytest.approx(home - hill, abs=1e-3)


@given(pressures, temps, temps)
def test_the_temperature_is_found_back_from_the_pressure(pressure, one, other):
    hot = pressure_gauge_at(pressure, one, other)
    assert temp_at_pressure(pressure, one, hot) == pytest.approx(other, abs=1e-6)


@given(pressures, st.floats(40.0, 110.0), st.floats(0.02, 0.3))
def test_bled_air_is_missing_by_the_same_share_when_cold(pressure, hot, share):
    lower = pressure - share * pressure
    gone = gas_left_out(pressure, lower)
    cold_before, cold_after = (pressure_gauge_at(p, hot, 15.0) + 101325.0 for p in (pressure, lower))
    assert cold_after / cold_before == pytest.approx(1.0 - gone)


@given(st.floats(0.0, 1.0), st.floats(0.0, 30.0), st.floats(30.0, 100.0))
def test_moist_air_adds_less_than_a_gauge_can_tell(humidity, temp, hot):
    added = moist_air_growth(humidity, temp, hot, 2.8e5, 101325.0)
    assert -1.0 < added < 0.10e5
    if humidity * 2.8e5 / 101325.0 < 0.9:  # never saturated: vapour is a gas like the rest
        assert added == pytest.approx(0.0, abs=1e-6)


@given(st.floats(1e-3, 50e-3))
def test_water_in_the_tyre_adds_no_more_than_its_saturation(water):
    added = loose_water_growth(water, 0.03, 20.0, 90.0, 2.7e5)
    assert 0.0 <= added < 0.75e5


@given(errors, st.floats(0.0, 0.04))
def test_a_leak_is_found_within_its_stated_doubt(off, leak):
    error = 0.005
    days = range(len(off))
    readings = [2.6e5 * math.exp(-leak * day + error * one) for day, one in zip(days, off, strict=True)]
    found = leak_rate([day * DAY for day in days], readings, error)
    assert found is not None and found.readings == len(off)
    assert abs(found.share * DAY - leak) < 5.0 * found.uncertainty * DAY


def test_one_wild_reading_does_not_make_a_leak():
    chance = random.Random(5)
    readings = [2.6e5 * (1.0 + chance.gauss(0.0, 0.002)) for _ in range(11)]
    readings[9] *= 0.8
    found = leak_rate([day * DAY for day in range(11)], readings, 0.004)
    assert found is not None
    assert abs(found.share) < 2.0 * found.uncertainty


def test_readings_of_one_moment_tell_no_rate():
    assert leak_rate([0.0, 0.0], [2.6e5, 2.5e5], 0.004) is None
    assert leak_rate([], [], 0.004) is None


def test_a_standing_tyre_falls_to_the_air_and_no_further():
    assert seconds_to_fall(80.0, 20.0, 5400.0, 30.0) == pytest.approx(5400.0 * math.log(2.0))
    assert seconds_to_fall(80.0, 20.0, 5400.0, 60.0) == math.inf
    assert seconds_to_fall(20.0, 20.0, 5400.0, 5.0) == math.inf
