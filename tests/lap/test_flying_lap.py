"""The lap of a described car: energy, order of things, and what more of each number does."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cars import front_driven_hatchback, rear_driven_coupe
from demo_cars import CARS, demo_car, demo_lane, demo_weather, flat, mirrored
from paths import club_circuit, flat_path
from tintop.car.car import Car, DrivenAxle
from tintop.car.numbers import numbers_of, with_number
from tintop.event import Weather
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import flying_lap, lap_of, lap_time, lap_timer
from tintop.lap.trace import LapTrace, Limit
from tintop.lap.vehicle import fuel_line, numbers_for

CLUB = club_circuit(step=1.0)
AIR = Weather()
FUEL = Conditions(fuel_mass=20.0)
# below this a difference of lap times is the solver's own noise [s]
NOISE = 2e-3


def four_wheel_driven() -> Car:
    car = front_driven_hatchback()
    return replace(car, driven_axle=DrivenAxle.FOUR, gearbox=replace(car.gearbox, front_drive_share=0.4))


def work(lap: LapTrace, force: str) -> float:
    return float(np.sum(lap.channel(force) * lap.step))


@pytest.mark.parametrize("name", CARS)
def test_the_fuel_s_work_is_all_found_again(name: str) -> None:
    """Fuel through Willans line and driveline = drag, rolling, brakes, tyres and the engine's flywheel."""
    car, path = demo_car(name), demo_lane()
    lap = flying_lap(car, path, demo_weather(), FUEL)
    vehicle = numbers_for(car, demo_weather(), FUEL).vehicle
    fuel_per_work, friction_work = fuel_line(car.engine)
    burning = lap.channel("fuel_flow") > 0.0
    at_the_crank = lap.channel("fuel_flow") / fuel_per_work - burning * friction_work * lap.channel(
        "engine_speed"
    )
    given = float(np.sum(at_the_crank * lap.segment_time)) * car.gearbox.efficiency

    squares = np.append(lap.speed, lap.speed[0]) ** 2
    heights = np.append(path.z, path.z[0])
    kinetic = 0.5 * (vehicle.mass + vehicle.rolling_mass) * np.diff(squares)
    potential = vehicle.mass * 9.80665 * np.diff(heights)
    flywheel = work(lap, "inertia_force") - float(np.sum(kinetic))
    taken = (
        work(lap, "drag_force")
        + work(lap, "rolling_force")
        + float(lap.per_lap("brake_power").sum())
        + float(lap.per_lap("tyre_slip_power").sum())
        + float(np.sum(kinetic))
        + float(np.sum(potential))
        + flywheel
    )
    assert np.ptp(path.z) > 5.0
    assert taken == pytest.approx(given, rel=1e-3)
    # the flywheel only takes while the car accelerates, and its share is small
    assert 0.0 < flywheel < 0.06 * given
    heat = float(np.sum(lap.channel("fuel_flow") * lap.segment_time)) * car.fuel.heating_value
    assert 0.10 < given / heat < 0.35


@pytest.mark.parametrize("name", CARS)
def test_energy_balances_between_any_two_points(name: str) -> None:
    """The change of kinetic and potential energy over a part of the lap is the work done in it."""
    car, path = demo_car(name), demo_lane()
    lap = flying_lap(car, path, demo_weather(), FUEL)
    vehicle = numbers_for(car, demo_weather(), FUEL).vehicle
    at_the_wheels = lap.channel("engine_power") * car.gearbox.efficiency
    for first, last in ((0, 700), (700, 1900), (1900, 2999)):
        part = slice(first, last)

        def over(rate: np.ndarray, part: slice = part) -> float:
            return float(np.sum((rate * lap.segment_time)[part]))

        turning = float(
            np.sum(
                (
                    (
                        lap.channel("inertia_force")
                        - (vehicle.mass + vehicle.rolling_mass) * lap.longitudinal_acceleration
                    )
                    * lap.step
                )[part]
            )
        )
        gained = 0.5 * (vehicle.mass + vehicle.rolling_mass) * (lap.speed[last] ** 2 - lap.speed[first] ** 2)
        gained += vehicle.mass * 9.80665 * (path.z[last] - path.z[first])
        lost = (
            float(np.sum(((lap.channel("drag_force") + lap.channel("rolling_force")) * lap.step)[part]))
            + over(lap.channel("brake_power").sum(axis=1))
            + over(lap.channel("tyre_slip_power").sum(axis=1))
        )
        assert gained + lost + turning == pytest.approx(over(at_the_wheels), abs=2e-3 * over(at_the_wheels))


@pytest.mark.parametrize("car", [front_driven_hatchback(), rear_driven_coupe()], ids=lambda car: car.name)
def test_a_stop_s_brake_energy_is_the_kinetic_energy_less_drag_and_rolling(car: Car) -> None:
    straight = flat_path(
        "long straight and a hairpin",
        [(900.0, 0.0), (math.pi * 12.0, 1 / 12.0), (900.0, 0.0), (math.pi * 12.0, 1 / 12.0)],
    )
    lap = flying_lap(car, straight, AIR)
    vehicle = numbers_for(car, AIR, Conditions()).vehicle
    first = int(np.argmax(lap.speed[:900]))
    stop = slice(first, 895)  # ends before the curve, where the tyres' side slip takes its part
    assert np.all(lap.channel("brake_force")[first + 1 : 895] > 0.0)
    kinetic = 0.5 * (vehicle.mass + vehicle.rolling_mass) * (lap.speed[first] ** 2 - lap.speed[895] ** 2)
    resisted = float(np.sum(((lap.channel("drag_force") + lap.channel("rolling_force")) * lap.step)[stop]))
    brakes = float(np.sum((lap.channel("brake_power").sum(axis=1) * lap.segment_time)[stop]))
    slipping = float(np.sum((lap.channel("tyre_slip_power").sum(axis=1) * lap.segment_time)[stop]))
    driven = float(np.sum((lap.channel("engine_power") * lap.segment_time)[stop])) * car.gearbox.efficiency
    assert brakes + slipping == pytest.approx(kinetic - resisted + driven, rel=1e-3)
    assert brakes > 0.85 * (kinetic - resisted)


@pytest.mark.parametrize("name", CARS)
def test_no_wheel_is_worked_beyond_its_grip(name: str) -> None:
    """At the points the limit is kept; between them the mean force of the segment may pass it a little."""
    lap = flying_lap(demo_car(name), demo_lane(), demo_weather(), FUEL)
    worst = lap.channel("grip_used").max(axis=1)
    assert np.quantile(worst, 0.99) < 1.03
    assert worst.max() < 1.07
    lap = flying_lap(demo_car(name), demo_lane(0.25), demo_weather(), FUEL)
    worst = lap.channel("grip_used").max(axis=1)
    assert np.quantile(worst, 0.99) < 1.01


def test_shares_of_the_limits_sum_to_one_and_times_to_the_lap() -> None:
    lap = flying_lap(demo_car(), demo_lane(), demo_weather(), FUEL)
    assert sum(lap.limit_share().values()) == pytest.approx(1.0, abs=1e-12)
    assert float(lap.segment_time.sum()) == pytest.approx(lap.lap_time, abs=1e-9)
    assert lap.length == pytest.approx(demo_lane().length)


@pytest.mark.parametrize("name", CARS)
def test_left_and_right_mirrored_are_the_same(name: str) -> None:
    one = flying_lap(demo_car(name), demo_lane(), demo_weather(), FUEL)
    other = flying_lap(demo_car(name), mirrored(demo_lane()), demo_weather(), FUEL)
    assert other.lap_time == pytest.approx(one.lap_time, rel=1e-9)
    swapped = [1, 0, 3, 2]
    assert other.channel("wheel_load")[:, swapped] == pytest.approx(
        one.channel("wheel_load"), rel=1e-6, abs=1e-3
    )
    assert other.lateral_acceleration == pytest.approx(-one.lateral_acceleration, rel=1e-6, abs=1e-9)


def test_weaker_left_tyres_trade_places_with_weaker_right_ones() -> None:
    left = Conditions(grip=(0.9, 1.0, 0.95, 1.0))
    right = Conditions(grip=(1.0, 0.9, 1.0, 0.95))
    car = rear_driven_coupe()
    assert lap_time(car, demo_lane(), AIR, left) == pytest.approx(
        lap_time(car, mirrored(demo_lane()), AIR, right), rel=1e-9
    )


@pytest.mark.parametrize("name", CARS)
def test_a_finer_mesh_comes_to_the_same_lap(name: str) -> None:
    """Without the pauses of gear changes, which last whole steps and so come and go with the mesh."""
    car = with_number(demo_car(name), "gearbox.shift_time", 0.0)
    times = [flying_lap(car, demo_lane(step), demo_weather(), FUEL).lap_time for step in (2.0, 1.0, 0.5)]
    assert times[1] == pytest.approx(times[2], rel=1.5e-3)
    assert abs(times[1] - times[2]) < abs(times[0] - times[1]) + NOISE


CHANGES = {
    # name of the number: whether more of it can only help, or only hurt
    "engine.torques": -1,
    "masses.ballast": +1,
    "aero.drag_area": +1,
    "gearbox.efficiency": -1,
    "gearbox.shift_time": +1,
    "tyre_front.rolling_resistance": +1,
    "tyre_rear.rolling_resistance": +1,
    "engine.inertia": +1,
}


@settings(max_examples=25, deadline=None)
@given(
    car=st.sampled_from([front_driven_hatchback(), rear_driven_coupe(), four_wheel_driven()]),
    name=st.sampled_from(sorted(CHANGES)),
    share=st.floats(0.01, 0.15),
)
def test_more_of_a_number_never_helps_the_wrong_way(car: Car, name: str, share: float) -> None:
    value = numbers_of(car)[name]
    more = value + (share * 200.0 if name == "masses.ballast" else share * value)
    if name == "gearbox.efficiency":
        more = min(more, 1.0)
    before = lap_time(car, CLUB, AIR)
    after = lap_time(with_number(car, name, more), CLUB, AIR)
    assert CHANGES[name] * (after - before) >= -NOISE


@settings(max_examples=20, deadline=None)
@given(
    car=st.sampled_from([front_driven_hatchback(), rear_driven_coupe(), four_wheel_driven()]),
    low=st.floats(0.4, 1.1),
    more=st.floats(0.0, 0.3),
)
def test_more_grip_is_never_slower(car: Car, low: float, more: float) -> None:
    poor = lap_time(car, CLUB, AIR, Conditions(grip=(low,) * 4))
    good = lap_time(car, CLUB, AIR, Conditions(grip=(low + more,) * 4))
    assert good <= poor + NOISE


def test_a_wet_road_is_slower_the_wetter_it_is() -> None:
    times = [lap_time(front_driven_hatchback(), CLUB, Weather(wetness=wet)) for wet in (0.0, 0.3, 0.6, 1.0)]
    assert times == sorted(times)
    assert times[-1] > 1.15 * times[0]


def test_thin_air_costs_power_and_drag() -> None:
    low = flying_lap(front_driven_hatchback(), CLUB, Weather())
    high = flying_lap(front_driven_hatchback(), CLUB, Weather(air_pressure=80e3))
    assert high.lap_time > low.lap_time
    assert high.channel("engine_power").max() < 0.85 * low.channel("engine_power").max()


def test_stripping_the_interior_buys_seconds() -> None:
    """Common practice, no source: 170 kg off a 1,400 kg car buys seconds, not tenths, on three kilometres."""
    heavy = with_number(front_driven_hatchback(), "masses.car", 1400.0 - 85.0)
    light = with_number(heavy, "masses.car", 1400.0 - 85.0 - 170.0)
    gain = lap_time(heavy, club_circuit(), AIR) - lap_time(light, club_circuit(), AIR)
    assert 1.0 < gain < 6.0


def test_shifts_take_their_time_and_gears_rise_and_fall_with_speed() -> None:
    lap = flying_lap(front_driven_hatchback(), club_circuit(), AIR)
    gears = lap.channel("gear")
    limits = lap.channel("limit")
    shifting = limits == Limit.GEAR_SHIFT
    ups = int(np.sum((np.diff(gears) > 0) & (np.diff(lap.speed) > 0)))
    assert 4 <= ups <= 30
    assert np.all(lap.channel("drive_force")[shifting] < 500.0)
    # each shift lasts shift_time, to within the metre it starts and ends on
    starts = int(np.sum(shifting & ~np.roll(shifting, 1)))
    time = float(lap.segment_time[shifting].sum())
    assert time == pytest.approx(starts * 0.35, abs=starts * 0.06)
    quick = lap_time(with_number(front_driven_hatchback(), "gearbox.shift_time", 0.0), club_circuit(), AIR)
    assert starts * 0.1 * 0.35 < lap.lap_time - quick < starts * 0.35


def test_engine_turns_with_the_wheels_and_never_past_the_limiter() -> None:
    car = front_driven_hatchback()
    lap = flying_lap(car, club_circuit(), AIR)
    gears = lap.channel("gear").astype(int)
    ratios = np.array(car.gearbox.ratios) * car.gearbox.final_drive / car.tyre_front.radius
    after = np.roll(lap.speed, -1)
    middle = np.sqrt(0.5 * (lap.speed**2 + after**2))
    turning = np.maximum(middle * ratios[gears - 1], car.engine.idle_speed)
    assert lap.channel("engine_speed") == pytest.approx(turning, rel=1e-9)
    # to within one step of the drive table
    assert np.all(lap.channel("engine_speed") <= car.engine.limiter_speed + 0.1 * ratios[gears - 1])


def test_a_short_top_gear_runs_into_the_limiter() -> None:
    car = front_driven_hatchback()
    short = replace(car, gearbox=replace(car.gearbox, ratios=(3.31, 2.05, 1.6)))
    lap = flying_lap(short, club_circuit(), AIR)
    top = car.engine.limiter_speed * car.tyre_front.radius / (1.6 * car.gearbox.final_drive)
    assert lap.limit_share()["limiter"] > 0.03
    assert lap.speed.max() == pytest.approx(top, rel=1e-6)
    assert lap.lap_time > lap_time(car, club_circuit(), AIR)


def test_each_gear_is_the_one_that_pulls_most() -> None:
    numbers = numbers_for(front_driven_hatchback(), AIR, Conditions()).driveline
    lap = lap_of(numbers_for(front_driven_hatchback(), AIR, Conditions()), club_circuit())
    full = (lap.channel("throttle") > 0.99) & (lap.channel("limit") == Limit.POWER)
    places = np.minimum((lap.speed / numbers.speed_step).astype(int), numbers.force.shape[1] - 1)
    best = numbers.force[:, places].max(axis=0)
    chosen = numbers.force[lap.channel("gear").astype(int) - 1, places]
    assert full.sum() > 300
    assert np.quantile(chosen[full] / best[full], 0.02) > 0.99


def test_pace_below_one_scales_the_speeds() -> None:
    car = front_driven_hatchback()
    racing = flying_lap(car, CLUB, AIR)
    slow = flying_lap(car, CLUB, AIR, Conditions(pace=0.6))
    assert slow.lap_time == pytest.approx(racing.lap_time / 0.6, rel=1e-12)
    assert slow.channel("grip_used").max() < 0.6
    assert float(slow.per_lap("fuel_flow")) < float(racing.per_lap("fuel_flow"))
    assert float(slow.per_lap("brake_power").sum()) < 0.4 * float(racing.per_lap("brake_power").sum())


def test_fuel_aboard_costs_time() -> None:
    car = front_driven_hatchback()
    empty = lap_time(car, CLUB, AIR)
    full = lap_time(car, CLUB, AIR, Conditions(fuel_mass=50.0))
    # [s/kg]: the rules of thumb of the paddock lie between 0.05 and 0.32 s per 10 kg; no source better
    assert 0.005 < (full - empty) / 50.0 < 0.032


def test_faded_pads_move_the_limit_to_the_brakes() -> None:
    car = front_driven_hatchback()
    lap = flying_lap(car, CLUB, AIR, Conditions(pad_friction=(0.12, 0.12)))
    assert lap.limit_share()["brakes"] > 0.02
    assert lap.lap_time > lap_time(car, CLUB, AIR)


def test_race_fuel_of_a_two_litre_saloon() -> None:
    """Common practice, no source: 15 to 35 litres an hour."""
    for name in CARS:
        lap = flying_lap(demo_car(name), demo_lane(), demo_weather(), FUEL)
        litres = float(lap.per_lap("fuel_flow")) / demo_car(name).fuel.density * 1e3
        assert 15.0 < litres * 3600.0 / lap.lap_time < 35.0


def test_one_timer_serves_many_paths() -> None:
    car = rear_driven_coupe()
    timer = lap_timer(car, AIR)
    for path in (CLUB, demo_lane(), flat(demo_lane())):
        assert timer(path) == lap_time(car, path, AIR)
        assert timer(path) == pytest.approx(flying_lap(car, path, AIR).lap_time, rel=1e-12)


def test_understeer_and_oversteer_show_in_the_balance() -> None:
    car = rear_driven_coupe()
    stiff_front = replace(car, suspension=replace(car.suspension, roll_stiffness_front=90e3))
    stiff_rear = replace(car, suspension=replace(car.suspension, roll_stiffness_rear=90e3))
    ring = flat_path("ring", [(2.0 * math.pi * 40.0, 1.0 / 40.0)])
    assert float(np.mean(flying_lap(stiff_front, ring, AIR).channel("balance"))) > 0.02
    assert float(np.mean(flying_lap(stiff_rear, ring, AIR).channel("balance"))) < -0.02
