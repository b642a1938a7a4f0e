from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cars import endurance_saloon, front_driven_hatchback
from events import twenty_minutes, two_hours
from paths import club_circuit
from tintop.car.numbers import with_number
from tintop.errors import BadInput
from tintop.event import Stop
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap
from tintop.race.lasting import lasting
from tintop.race.march import LapKind, march, march_regardless, neutralisations, worn_grip

CAR = front_driven_hatchback()
PATH = club_circuit(step=2.0)


@pytest.fixture(scope="module")
def race():
    return march(CAR, PATH, two_hours())


def test_the_race_ends_with_the_lap_in_which_the_clock_passes_its_length(race):
    assert race.clock[-1] >= 7200.0 > race.clock[-2]
    spent = np.diff(race.clock, prepend=0.0)
    np.testing.assert_allclose(spent, race.lap_time + race.stop_time, rtol=1e-12)


def test_fuel_burned_is_fuel_gone(race):
    start, put_in = 0.055 * CAR.fuel.density, 0.020 * CAR.fuel.density
    usable_at_end = race.fuel_left[-1] + CAR.tank.unusable_volume * CAR.fuel.density
    formation_and_idling = start + put_in - race.fuel_burned.sum() - usable_at_end
    assert 0.0 < formation_and_idling < 1.5 * race.fuel_burned.max()


def test_race_fuel_of_a_two_litre_lies_between_15_and_35_litres_an_hour(race):
    """Common practice, no source."""
    litres_per_hour = race.fuel_burned.sum() / CAR.fuel.density * 1e3 / race.clock[-1] * 3600.0
    assert 15.0 < litres_per_hour < 35.0


@pytest.mark.parametrize(("mass", "power"), [(1100.0, 150e3), (1200.0, 157e3), (1300.0, 165e3)])
def test_an_endurance_pad_set_lasts_two_hours_and_not_a_season(mass, power):
    """Common practice, no source; a season is 20 hours of racing or more."""
    car = endurance_saloon(mass, power)
    event = two_hours(start_fuel_volume=0.070)
    judged = {item.item: item for item in lasting(car, event, march(car, PATH, event))}
    assert judged["front pads"].does_last
    assert 2.0 * 3600.0 < judged["front pads"].good_for_s < 20.0 * 3600.0


def test_slow_laps_are_slow_and_stops_stand(race):
    slow = race.kind == LapKind.SAFETY_CAR
    pace = two_hours().race.safety_car_pace
    assert slow.sum() * race.lap_time[slow].mean() == pytest.approx(540.0, abs=race.lap_time[slow].mean())
    assert race.lap_time[slow].min() > 0.95 * np.median(race.lap_time) / pace
    (lap, stop), *others = race.stops_made
    assert not others
    assert race.stop_time[lap - 1] == stop.standing + two_hours().race.pit_lane_loss
    assert race.stop_time.sum() == race.stop_time[lap - 1]


def test_traffic_is_the_stated_share_of_laps(race):
    assert np.sum(race.kind == LapKind.TRAFFIC) == pytest.approx(0.15 * race.laps, abs=2.0)


def test_a_warming_tyre_gains_pressure_by_the_gas_law(race):
    temps, pressures = race.carcass_temp[-1], race.pressure_hot[-1]
    expected = (CAR.tyre_front.pressure_cold + 101325.0) * (temps[0] + 273.15) / (20.0 + 273.15) - 101325.0
    assert pressures[0] == pytest.approx(expected)
    assert np.all(pressures > CAR.tyre_front.pressure_cold)


def test_the_hot_lap_has_its_temperatures_along_it(race):
    disc = race.hot_lap.channel("disc_temp")
    assert disc.shape == (race.hot_lap.distance.shape[0], 4)
    assert disc.max() == pytest.approx(race.disc_temp_peak[race.hot_lap_number - 1].max(), abs=1e-9)
    assert np.all(race.hot_lap.channel("pad_surface_temp").max(axis=0) > disc.max(axis=0))


def test_a_race_longer_than_the_tank_with_no_stop_is_refused_with_the_numbers():
    event = two_hours(start_fuel_volume=0.030, stops=())
    with pytest.raises(BadInput) as refused:
        march(CAR, PATH, event)
    text = str(refused.value)
    assert "race.start_fuel_volume" in text
    assert "27.0 usable litres" in text
    assert "stop" in text
    trace = march_regardless(CAR, PATH, event)
    assert trace.dry_at is not None
    assert 0.0 < trace.dry_at < 7200.0
    assert trace.fuel_left[-1] < 0.0


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"start_fuel_volume": 0.090}, "race.start_fuel_volume"),
        ({"start_fuel_volume": 0.002}, "race.start_fuel_volume"),
        ({"stops": (Stop(at=600.0, standing=60.0, fuel_volume=0.2),)}, "race.stops.1.fuel_volume"),
        ({"stops": (Stop(at=9000.0, standing=60.0),)}, "race.stops.1.at"),
    ],
)
def test_a_race_that_contradicts_the_car_is_refused(changes, field):
    with pytest.raises(BadInput, match=field.replace(".", r"\.")):
        march(CAR, PATH, two_hours(**changes))


@given(warmer=st.floats(1.0, 20.0))
@settings(max_examples=5, deadline=None)
def test_a_hotter_day_never_gives_cooler_coolant_or_oil(warmer):
    cool = twenty_minutes()
    hot = replace(cool, weather=replace(cool.weather, air_temp=20.0 + warmer, road_temp=28.0 + warmer))
    one, other = march(CAR, PATH, cool), march(CAR, PATH, hot)
    assert other.coolant_temp_peak.max() > one.coolant_temp_peak.max()
    assert other.oil_temp_peak.max() > one.oil_temp_peak.max()


@given(share=st.floats(0.05, 1.0))
@settings(max_examples=5, deadline=None)
def test_more_traffic_never_cools(share):
    clear, behind = march(CAR, PATH, twenty_minutes()), march(CAR, PATH, twenty_minutes(traffic_share=share))
    assert behind.coolant_temp_peak.max() >= clear.coolant_temp_peak.max() - 1e-9
    assert behind.disc_temp_peak.max() >= clear.disc_temp_peak.max() - 1e-9


@given(thicker=st.floats(0.0, 0.008))
@settings(max_examples=5, deadline=None)
def test_a_thicker_pad_never_has_less_margin(thicker):
    new = with_number(CAR, "brakes.front.pad.thickness", CAR.brakes.front.pad.thickness + thicker)
    thin, thick = march(CAR, PATH, twenty_minutes()), march(new, PATH, twenty_minutes())
    assert thick.pad_thickness[:, :2].min() >= thin.pad_thickness[:, :2].min() + 0.99 * thicker
    assert thick.fluid_temp_peak.max() <= thin.fluid_temp_peak.max() + 0.2


def test_finer_points_along_the_path_hardly_move_the_answer():
    coarse = march(CAR, club_circuit(step=2.0), twenty_minutes())
    fine = march(CAR, club_circuit(step=1.0), twenty_minutes())
    assert fine.lap_time.sum() == pytest.approx(coarse.lap_time.sum(), rel=3e-3)
    assert fine.disc_temp_peak.max() == pytest.approx(coarse.disc_temp_peak.max(), rel=0.01)
    assert fine.coolant_temp_peak.max() == pytest.approx(coarse.coolant_temp_peak.max(), rel=0.01)


def test_brake_work_of_a_lap_is_the_kinetic_energy_it_takes_out_less_drag_and_rolling():
    lap = flying_lap(CAR, PATH, two_hours().weather, Conditions(fuel_mass=20.0))
    braking = lap.channel("brake_force") > 0.0
    spent = lap.segment_time[braking]
    mass = CAR.masses.without_fuel + 20.0
    rotating = sum(2.0 * t.inertia / t.radius**2 for t in (CAR.tyre_front, CAR.tyre_rear))
    after = np.roll(lap.speed, -1)
    lost = 0.5 * (mass + rotating) * (lap.speed**2 - after**2)[braking].sum()
    resisted = (lap.step * (lap.channel("drag_force") + lap.channel("rolling_force")))[braking].sum()
    brakes = (spent @ lap.channel("brake_power")[braking]).sum()
    slip = (spent @ lap.channel("tyre_slip_power")[braking]).sum()
    assert brakes + slip == pytest.approx(lost - resisted, rel=0.01)
    assert brakes < lost - resisted


def test_new_pads_and_tyres_at_a_stop_are_as_thick_as_at_the_start():
    stop = Stop(at=600.0, standing=60.0, new_pads=True, new_tyres=True)
    trace = march(CAR, PATH, twenty_minutes(stops=(stop,)))
    lap = trace.stops_made[0][0]
    assert trace.pad_thickness[lap, 0] > trace.pad_thickness[lap - 1, 0]
    assert trace.tread_depth[lap, 0] > trace.tread_depth[lap - 1, 0]
    assert trace.carcass_temp[lap, 0] < trace.carcass_temp[lap - 1, 0]


def test_neutralisations_share_the_expected_time():
    race = two_hours(safety_cars_per_hour=0.7).race
    periods = neutralisations(race)
    assert len(periods) == 2
    assert sum(length for _, length in periods) == pytest.approx(0.7 * 2.0 * 540.0)
    assert neutralisations(two_hours(safety_cars_per_hour=0.0).race) == ()


def test_wear_costs_more_grip_in_the_wet():
    tyre = CAR.tyre_front
    assert worn_grip(tyre, tyre.tread_depth, 1.0) == 1.0
    assert (
        worn_grip(tyre, tyre.tread_depth_minimum, 1.0) < worn_grip(tyre, tyre.tread_depth_minimum, 0.0) < 1.0
    )
