import itertools
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from demo_cars import demo_car, demo_lane
from events import twenty_minutes
from tintop.event import Stop
from tintop.race.march import RaceTrace, march, march_regardless
from tintop.race.stint_plan import stints_of, stop_windows

STEP = 4.0


def event(at: float = 500.0):
    return twenty_minutes(start_fuel_volume=0.0125, stops=(Stop(at=at, standing=60.0, fuel_volume=0.008),))


@cache
def trace() -> RaceTrace:
    return march(demo_car(), demo_lane(STEP), event())


def test_every_litre_is_counted_from_stint_to_stint() -> None:
    car = demo_car()
    found = stints_of(trace(), car.fuel.density)
    assert len(found) == 2 and found[-1].last_lap == trace().laps and found[-1].standing is None
    assert found[0].standing == 60.0 and found[0].put_in == 0.008 and found[0].parts == ""
    for stint in found:
        assert stint.left == pytest.approx(stint.fuel_at_start - stint.burned, abs=1e-9)
    for before, after in itertools.pairwise(found):
        idled = before.left + before.put_in - after.fuel_at_start
        assert 0.0 <= idled < 0.1e-3
    total = sum(stint.burned for stint in found)
    assert total == pytest.approx(float(np.sum(trace().fuel_burned)) / car.fuel.density)


def test_new_parts_are_named() -> None:
    both = replace(trace(), stops_made=((3, Stop(at=1.0, standing=1.0, new_pads=True, new_tyres=True)),))
    assert stints_of(both, demo_car().fuel.density)[0].parts == "new pads and new tyres"


def test_the_last_lap_of_the_window_is_the_last_the_tank_ends() -> None:
    """Marched again with the stop moved: on that lap the tank is not dry, on the next it is."""
    window, flag = stop_windows(demo_car(), trace())
    assert flag is None and window is not None
    assert window.last_lap is not None and window.last_clock is not None
    in_time = march_regardless(demo_car(), demo_lane(STEP), event(at=window.last_clock - 5.0))
    too_late = march_regardless(demo_car(), demo_lane(STEP), event(at=window.last_clock + 5.0))
    assert in_time.stops_made[0][0] == window.last_lap and too_late.stops_made[0][0] == window.last_lap + 1
    assert in_time.fuel_left[window.last_lap - 1] >= 0.0
    assert too_late.dry_at is not None and too_late.fuel_left[window.last_lap] < 0.0
    assert in_time.clock[window.last_lap - 1] - in_time.stop_time[window.last_lap - 1] == pytest.approx(
        window.last_clock, abs=1.0
    )


def test_the_first_lap_of_the_window_is_the_first_with_room_for_the_fuel() -> None:
    """A tank brimmed at the start: the can fits on the first lap by which as much is burned as it holds."""
    stop = Stop(at=500.0, standing=60.0, fuel_volume=0.003)
    brimmed = march(demo_car(), demo_lane(STEP), twenty_minutes(start_fuel_volume=0.014, stops=(stop,)))
    car = demo_car()
    small = replace(car, tank=replace(car.tank, volume=0.014))
    window = stop_windows(small, brimmed)[0]
    assert window is not None and 1 < window.first_lap < brimmed.stops_made[0][0]
    aboard = brimmed.fuel_left / car.fuel.density + car.tank.unusable_volume + 0.003
    assert aboard[window.first_lap - 1] <= 0.014 < aboard[window.first_lap - 2]
    assert window.first_clock == brimmed.clock[window.first_lap - 1]


def test_a_race_that_the_tank_ends_without_a_stop_has_no_last_lap() -> None:
    plenty = march(
        demo_car(),
        demo_lane(STEP),
        twenty_minutes(start_fuel_volume=0.04, stops=(Stop(at=500.0, standing=60.0, fuel_volume=0.002),)),
    )
    window = stop_windows(demo_car(), plenty)[0]
    assert window is not None and window.last_lap is None and window.last_clock is None
