from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from cars import front_driven_hatchback, rear_driven_coupe
from demo_cars import demo_car, demo_lane, demo_weather
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.lap.conditions import Conditions
from tintop.lap.flying_lap import lap_time
from tintop.lap.sensitivity import Sensitivity
from tintop.lap.vehicle import brake_forces
from tintop.lap.what_if import NAMES, Levers, as_it_stands, changed_car, room, what_steps_buy

_STEP = 4.0


def _with(car, **changes: float) -> Levers:
    return replace(as_it_stands(car), **changes)


@pytest.mark.parametrize("car", [front_driven_hatchback(), rear_driven_coupe(), demo_car()])
def test_levers_left_alone_leave_the_lap_alone(car) -> None:
    same = changed_car(car, as_it_stands(car))
    assert lap_time(same, demo_lane(_STEP), demo_weather()) == pytest.approx(
        lap_time(car, demo_lane(_STEP), demo_weather()), abs=1e-9
    )


@settings(max_examples=60, deadline=None)
@given(shares=some.tuples(*[some.floats(0.0, 1.0) for _ in NAMES]))
def test_a_changed_car_stands_where_its_levers_were_put(shares: tuple[float, ...]) -> None:
    car = front_driven_hatchback()
    wanted = Levers(
        **{
            name: low + share * (high - low)
            for (name, (low, high)), share in zip(room(car).items(), shares, strict=True)
        }
    )
    changed = changed_car(car, wanted)
    found = as_it_stands(changed)
    for name in NAMES:
        assert getattr(found, name) == pytest.approx(getattr(wanted, name), rel=1e-9)
    # moving a balance leaves the whole
    assert brake_forces(changed, Conditions())[1] == pytest.approx(brake_forces(car, Conditions())[1])
    assert changed.suspension.roll_stiffness_front + changed.suspension.roll_stiffness_rear == pytest.approx(
        car.suspension.roll_stiffness_front + car.suspension.roll_stiffness_rear
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_lever_beyond_its_room_is_refused_by_name(name: str) -> None:
    car = demo_car()
    low, high = room(car)[name]
    for value in (0.99 * low, 1.01 * high, float("nan")):
        with pytest.raises(BadInput) as refused:
            changed_car(car, _with(car, **{name: value}))
        assert [problem.where for problem in refused.value.problems] == [name]


@pytest.mark.parametrize(
    ("name", "factor"), [("mass", 0.95), ("power", 1.1), ("grip", 1.05), ("drag_area", 0.8)]
)
def test_a_better_car_is_quicker_and_a_worse_one_slower(name: str, factor: float) -> None:
    car, path, weather = demo_car(), demo_lane(_STEP), demo_weather()
    now = lap_time(car, path, weather)
    value = getattr(as_it_stands(car), name)
    assert lap_time(changed_car(car, _with(car, **{name: factor * value})), path, weather) < now
    assert lap_time(changed_car(car, _with(car, **{name: value / factor})), path, weather) > now


def test_what_steps_buy_is_the_difference_of_two_laps() -> None:
    car, path, weather = demo_car(), demo_lane(_STEP), demo_weather()
    gains = what_steps_buy(car, path, weather)
    lighter = replace(car, masses=replace(car.masses, car=car.masses.car - 10.0))
    expected = lap_time(car, path, weather) - lap_time(lighter, path, weather)
    assert gains[0].what == "10 kg less"
    assert gains[0].seconds == pytest.approx(expected, abs=1e-9)
    assert all(gain.seconds > 0.0 for gain in gains)
    assert all(gain.low == gain.seconds == gain.high for gain in gains)  # nothing said to be in doubt


def test_doubt_about_the_car_widens_what_a_step_buys() -> None:
    car, path, weather = demo_car(), demo_lane(_STEP), demo_weather()
    name = "engine.torques"
    worth = Sensitivity(
        path=name,
        value=1.0,
        seconds_per_unit=-20.0,
        seconds_per_percent=-0.2,
        uncertainty=0.05,
        seconds_of_doubt=1.0,
        origin=Origin.ASSUMED,
    )
    known = {name: Known(value=1.0, uncertainty=0.05, origin=Origin.ASSUMED)}
    for gain in what_steps_buy(car, path, weather, worth=(worth,), known=known):
        assert gain.low < gain.seconds < gain.high
        assert gain.high - gain.seconds == pytest.approx(gain.seconds - gain.low)
