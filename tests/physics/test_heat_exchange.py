import math

import pytest
from ht.hx import effectiveness_from_NTU
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.errors import BadInput
from tintop.physics import heat_exchange
from tintop.physics.heat_march import crossflow_effectiveness

units = st.floats(0.05, 8.0)
ratios = st.floats(0.01, 1.0)

FORMS = {
    "counterflow": (heat_exchange.effectiveness_counterflow, 1e-9),
    "parallel": (heat_exchange.effectiveness_parallel_flow, 1e-9),
    "crossflow": (heat_exchange.effectiveness_crossflow_exact, 1e-7),
    "crossflow approximate": (crossflow_effectiveness, 1e-9),
    "crossflow, mixed Cmax": (heat_exchange.effectiveness_crossflow_larger_mixed, 1e-9),
}


@pytest.mark.parametrize("case_id", ["V5-01", "V5-02", "V5-03", "V5-05", "V5-06"])
def test_published_case(case_id):
    check(case_id)


@pytest.mark.parametrize("arrangement", FORMS)
@pytest.mark.parametrize("ratio", [0.05, 0.3, 0.7, 0.95])
@pytest.mark.parametrize("size", [0.1, 0.8, 2.0, 5.0])
def test_effectiveness_agrees_with_an_independent_library(arrangement, ratio, size):
    form, near = FORMS[arrangement]
    assert form(size, ratio) == pytest.approx(effectiveness_from_NTU(size, ratio, arrangement), abs=near)


@given(units, ratios)
def test_counterflow_is_best_and_parallel_flow_worst(size, ratio):
    best = heat_exchange.effectiveness_counterflow(size, ratio)
    cross = heat_exchange.effectiveness_crossflow_exact(size, ratio)
    worst = heat_exchange.effectiveness_parallel_flow(size, ratio)
    assert 0.0 < worst <= cross + 1e-12
    assert cross <= best + 1e-12
    assert best < 1.0 or size * (1.0 - ratio) > 5.0


@given(units, ratios)
def test_the_form_the_race_uses_stays_near_the_exact_series(size, ratio):
    """Within 0.009 at the points of the printed table, within 0.014 anywhere up to 8 transfer units."""
    exact = heat_exchange.effectiveness_crossflow_exact(size, ratio)
    assert crossflow_effectiveness(size, ratio) == pytest.approx(exact, abs=0.014)


@given(units)
def test_all_forms_meet_when_the_other_stream_stays_at_one_temperature(size):
    wanted = 1.0 - math.exp(-size)
    for form, _ in FORMS.values():
        assert form(size, 0.0) == pytest.approx(wanted, abs=1e-12)


@given(st.floats(0.05, 4.0), ratios)
def test_size_and_effectiveness_are_inverse(size, ratio):
    share = heat_exchange.effectiveness_crossflow_larger_mixed(size, ratio)
    found = heat_exchange.transfer_units_crossflow_larger_mixed(share, ratio)
    assert found == pytest.approx(size, rel=1e-6)


def test_no_core_is_large_enough_for_the_impossible():
    with pytest.raises(BadInput, match="an effectiveness of"):
        heat_exchange.transfer_units_crossflow_larger_mixed(0.9, 1.0)


@given(st.floats(-10.0, 400.0), st.floats(0.0, 5e4), st.floats(10.0, 2e3), st.floats(1.0, 600.0))
def test_a_lump_keeps_its_energy(start, heat, conductance, time):
    """Heat in = heat given off + heat stored: the loss integrated over the exact path of temperature."""
    capacity, ambient = 45e3, 20.0
    end = heat_exchange.lump_temp(start, time, heat, conductance, ambient, capacity)
    steady = heat_exchange.steady_temp(heat, conductance, ambient)
    mean_excess = steady - ambient - capacity / conductance * (end - start) / time
    stored = capacity * (end - start)
    assert conductance * mean_excess * time + stored == pytest.approx(heat * time, rel=1e-6, abs=1e-3)
    halfway = heat_exchange.lump_temp(start, 0.5 * time, heat, conductance, ambient, capacity)
    again = heat_exchange.lump_temp(halfway, 0.5 * time, heat, conductance, ambient, capacity)
    assert again == pytest.approx(end, abs=1e-6)


@given(st.floats(0.05, 0.95))
def test_time_to_a_temperature_is_the_inverse_of_the_lump(share):
    target = 20.0 + share * 30e3 / 1200.0
    time = heat_exchange.time_to_temp(20.0, target, 30e3, 1200.0, 20.0, 45e3)
    assert heat_exchange.lump_temp(20.0, time, 30e3, 1200.0, 20.0, 45e3) == pytest.approx(target, abs=1e-9)


def test_a_lump_never_reaches_more_than_its_steady_temperature():
    assert heat_exchange.time_to_temp(20.0, 60.0, 30e3, 1200.0, 20.0, 45e3) == math.inf
