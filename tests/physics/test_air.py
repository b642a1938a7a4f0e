import math

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import air

temps = st.floats(-20.0, 50.0)
pressures = st.floats(70e3, 106e3)
humidities = st.floats(0.0, 1.0)


@pytest.mark.parametrize("case_id", ["V6-01", "V6-02", "V6-03", "V6-04", "V6-05"])
def test_published_case(case_id):
    check(case_id)


@pytest.mark.parametrize("height", [0.0, 120.0, 650.0, 1500.0, 4000.0])
def test_standard_atmosphere_agrees_with_an_independent_library(height):
    oracle = ATMOSPHERE_1976(height)
    geopotential = air.geopotential_height(height)
    temp, pressure = air.standard_temp(geopotential), air.standard_pressure(geopotential)
    assert temp + 273.15 == pytest.approx(oracle.T, rel=1e-6)
    assert pressure == pytest.approx(oracle.P, rel=1e-5)
    assert air.density_dry_air(temp, pressure) == pytest.approx(oracle.rho, rel=1e-5)
    assert air.speed_of_sound(temp) == pytest.approx(oracle.v_sonic, rel=1e-5)


@given(temps, pressures, humidities)
def test_moist_air_is_near_a_mixture_of_ideal_gases(temp, pressure, humidity):
    vapour = humidity * air.saturation_pressure(temp)
    kelvin = temp + 273.15
    mixture = (pressure - vapour) / (287.05 * kelvin) + vapour / (461.5 * kelvin)
    assert air.density_moist_air(temp, pressure, humidity) == pytest.approx(mixture, rel=2e-3)


@given(temps, pressures, st.floats(0.0, 0.9))
def test_damp_and_warm_air_is_lighter(temp, pressure, humidity):
    here = air.density_moist_air(temp, pressure, humidity)
    assert air.density_moist_air(temp, pressure, humidity + 0.1) < here
    assert air.density_moist_air(temp + 1.0, pressure, humidity) < here
    assert air.density_moist_air(temp, pressure + 100.0, humidity) > here


def test_standard_air_gives_the_whole_torque():
    for is_charged in (False, True):
        assert air.power_factor(25.0, 99e3, 0.0, is_charged) == pytest.approx(1.0, abs=1e-12)


@given(temps, st.floats(70e3, 98e3), humidities)
def test_thin_air_costs_a_charged_engine_less(temp, pressure, humidity):
    free = air.power_factor(temp, pressure, humidity, False)
    charged = air.power_factor(temp, pressure, humidity, True)
    assert charged > free
    assert charged * (298.0 / (temp + 273.0)) ** -0.6 < 1.0


@given(temps, pressures, humidities)
def test_hot_damp_air_costs_power(temp, pressure, humidity):
    here = air.power_factor(temp, pressure, humidity, False)
    assert air.power_factor(temp + 1.0, pressure, humidity, False) < here
    assert air.power_factor(temp, pressure, min(humidity + 0.1, 1.0), False) <= here


@given(st.floats(15.0, 35.0), st.floats(94e3, 102e3))
def test_the_two_standards_agree_within_a_percent_near_standard_air(temp, dry):
    iso, sae = air.power_correction_iso_1585(temp, dry), air.power_correction_sae_j1349(temp, dry)
    assert math.isclose(iso, sae, rel_tol=0.01)
