import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics.tyre_pressure import pressure_gauge_at

pressures, temps = st.floats(80e3, 300e3), st.floats(-10.0, 130.0)


def test_published_case():
    check("V3-07")


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
