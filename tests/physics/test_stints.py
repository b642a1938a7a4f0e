import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from published import check
from tintop.physics import stints

tanks, burns, races = st.floats(0.02, 0.1), st.floats(2e-6, 2e-5), st.floats(3600.0, 24 * 3600.0)


@pytest.mark.parametrize("case_id", [f"V11-0{n}" for n in (1, 2, 3, 4, 6, 7)])
def test_published_case(case_id):
    check(case_id)


@given(tanks, burns, races)
def test_the_fewest_stops_have_open_windows_and_one_fewer_has_not(tank, burn, race):
    stops = stints.least_stops(tank, burn, race)
    assert all(w.earliest <= w.latest + 1e-6 for w in stints.pit_windows(tank, burn, race, stops))
    assert (stops + 1) * tank >= race * burn * (1.0 - 1e-6)
    if stops > 0:
        assert stops * tank < race * burn * (1.0 + 1e-6)
    if stops > 1:
        closed = stints.pit_windows(tank, burn, race, stops - 1)
        assert any(w.earliest > w.latest - 1e-6 for w in closed)


@given(st.integers(10, 120), st.floats(0.005, 0.2), st.floats(10.0, 120.0))
def test_the_best_number_of_stops_is_near_the_continuous_one(laps, loss, stop):
    best = stints.best_stops(laps, loss, stop)
    wanted = stints.best_stops_continuous(laps, loss, stop)
    here = stints.loss_with_stops(laps, loss, stop, best)
    assert best + 1 <= wanted + 2.5
    for other in (best - 1, best + 1):
        if 0 <= other < laps:
            assert here <= stints.loss_with_stops(laps, loss, stop, other)


@given(st.floats(0.0, 3.0), st.floats(0.1, 6.0))
def test_chances_of_every_count_sum_to_one(rate, hours):
    counts = [stints.chance_of_count(rate, hours, count) for count in range(90)]
    assert sum(counts) == pytest.approx(1.0, abs=1e-9)
    assert stints.chance_of_any(rate, hours) == pytest.approx(1.0 - counts[0], abs=1e-12)


@given(st.floats(0.01, 0.99), st.integers(100, 100000))
def test_four_times_the_races_halve_the_error(share, samples):
    once = stints.share_standard_error(share, samples)
    assert stints.share_standard_error(share, 4 * samples) == pytest.approx(once / 2.0)
    assert stints.samples_for_share(share, once) == samples


@given(st.integers(1, 60), st.floats(0.5, 4.0))
def test_fuel_carried_is_the_sum_over_the_laps(laps, fuel):
    summed = math.fsum(0.03 * fuel * left for left in range(1, laps + 1))
    assert stints.time_lost_to_fuel(laps, fuel, 0.03) == pytest.approx(summed)


def test_nothing_is_refuelled_when_the_tank_is_enough():
    assert stints.least_refuel(3600.0, 1e-5, 0.003, 0.06) == 0.0
    assert stints.least_stops(0.06, 1e-5, 3600.0) == 0
