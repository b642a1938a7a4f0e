import numpy as np
import pytest

from cars import front_driven_hatchback, semi_slick
from demo_cars import mirrored
from paths import oval
from tintop.event import Weather
from tintop.race.hot_air import hot_air, standing_time_constant

CAR, PATH = front_driven_hatchback(), oval(400.0, 60.0, 10.0)
DRY = Weather()


def test_tyres_warm_lap_by_lap_towards_an_end():
    found = hot_air(CAR, PATH, DRY, laps=25)
    steps = np.diff(found.temps, axis=0)
    assert np.all(steps > -1e-6)
    assert np.all(steps[-1] < 0.1 * steps[0])
    assert 0.0 < found.share_after(1) < found.share_after(5) < found.share_after(25) == pytest.approx(1.0)
    assert found.share_after(99) == found.share_after(25)


def test_the_outer_side_is_the_warmer_and_a_mirrored_circuit_turns_it_about():
    one, other = hot_air(CAR, PATH, DRY), hot_air(CAR, mirrored(PATH), DRY)
    swapped = other.rise[[1, 0, 3, 2]]
    assert one.rise == pytest.approx(swapped, rel=1e-6)
    outer, inner = (0, 1) if one.load[0] > one.load[1] else (1, 0)
    assert one.rise[outer] > one.rise[inner]
    assert one.slip_work[outer] > one.slip_work[inner]


def test_the_driven_and_heavier_front_warms_more_and_rain_keeps_all_cooler():
    dry = hot_air(CAR, PATH, DRY)
    wet = hot_air(CAR, PATH, Weather(wetness=1.0, road_temp=20.0))
    assert dry.rise[:2].mean() > dry.rise[2:].mean()
    assert np.all(wet.rise < dry.rise)


def test_a_whole_degree_is_as_good_as_a_broken_one():
    whole, broken = (hot_air(CAR, PATH, Weather(air_temp=air), laps=3) for air in (20, 20.0))
    assert whole.temps == pytest.approx(broken.temps)


def test_a_standing_tyre_takes_about_an_hour():
    assert 1800.0 < standing_time_constant(semi_slick()) < 9000.0
