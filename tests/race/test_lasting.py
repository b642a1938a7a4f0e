from dataclasses import replace

import numpy as np
import pytest

from cars import front_driven_hatchback
from events import twenty_minutes, two_hours
from paths import club_circuit
from tintop.known import Known, Origin
from tintop.race.items import ITEMS, NAMES
from tintop.race.lasting import first_to_run_out, lasting, left_over_race
from tintop.race.levers import levers
from tintop.race.march import march, march_regardless
from tintop.race.odds import odds
from tintop.race.remedies import remedies

CAR = front_driven_hatchback()
PATH = club_circuit(step=4.0)


def with_pad(**changes):
    pad = replace(CAR.brakes.front.pad, **changes)
    return replace(CAR, brakes=replace(CAR.brakes, front=replace(CAR.brakes.front, pad=pad)))


def judged_of(car, event):
    trace = march_regardless(car, PATH, event)
    return trace, lasting(car, event, trace)


def named(judged, name):
    return next(each for each in judged if each.item == name)


def test_every_item_is_judged_once_and_adds_up():
    trace, judged = judged_of(CAR, two_hours())
    assert tuple(each.item for each in judged) == NAMES
    left = left_over_race(CAR, trace)
    assert left.shape == (trace.laps, len(ITEMS))
    for each in judged:
        assert each.margin == pytest.approx(each.limit - each.used)
        assert each.does_last == (each.margin >= 0.0)
        assert (each.runs_out_at_s is None) == each.does_last


def test_pads_worn_through_run_out_when_the_wear_says():
    car = with_pad(thickness=0.0045)
    trace, judged = judged_of(car, two_hours())
    pads = named(judged, "front pads")
    assert not pads.does_last
    thinnest = trace.pad_thickness[:, :2].min(axis=1) - car.brakes.front.pad.thickness_minimum
    at = np.interp(0.0, -thinnest, trace.clock - trace.stop_time)
    assert pads.runs_out_at_s == pytest.approx(at, abs=200.0)
    assert first_to_run_out(judged) is not None


def test_fuel_runs_out_at_the_clock_of_the_march():
    event = two_hours(start_fuel_volume=0.030, stops=())
    trace, judged = judged_of(CAR, event)
    fuel = named(judged, "fuel")
    assert fuel.runs_out_at_s == trace.dry_at
    assert fuel.margin < 0.0
    assert fuel.good_for_s == pytest.approx(trace.dry_at, rel=0.1)


def test_each_remedy_for_pads_makes_them_last_with_the_reserve():
    car = with_pad(thickness=0.0042)
    event = twenty_minutes(duration=2400.0)
    trace, judged = judged_of(car, event)
    pads = named(judged, "front pads")
    assert not pads.does_last or pads.is_close
    found = [each for each in remedies(car, PATH, event, trace, (pads,)) if each.is_enough]
    numbers = {each.number for each in found}
    assert {"brakes.front.pad.thickness", "brakes.front.pad.wear_rate", "race.stops.at"} <= numbers
    for each in found:
        assert each.margin >= 0.999e-3
    thicker = next(each for each in found if each.number == "brakes.front.pad.thickness")
    again = march(with_pad(thickness=thicker.after), PATH, event)
    assert again.pad_thickness[:, :2].min() - 0.002 == pytest.approx(thicker.margin, rel=1e-9)
    needed = 1e-3 - pads.margin
    assert needed <= thicker.after - thicker.before < needed + 0.5e-3  # the next half millimetre
    assert thicker.after * 2e3 == pytest.approx(round(thicker.after * 2e3))
    assert "4.2 mm on the car now" in thicker.change


def test_a_stop_or_less_throttle_makes_the_fuel_last():
    event = twenty_minutes(start_fuel_volume=0.012)
    trace, judged = judged_of(CAR, event)
    fuel = named(judged, "fuel")
    assert not fuel.does_last
    found = {each.number: each for each in remedies(CAR, PATH, event, trace, (fuel,))}
    stop = found["race.stops.fuel_volume"]
    assert stop.is_enough
    assert stop.after == pytest.approx(2.0e-3 - fuel.margin, rel=0.25)
    assert stop.laps <= trace.laps
    assert found["engine.torques"].lap_time_cost > 0.0
    start = found["race.start_fuel_volume"]
    assert start.is_enough and start.after <= CAR.tank.volume
    assert start.change == f"start with {start.after * 1e3:.1f} L, {(start.after - 0.012) * 1e3:.1f} L more"


def test_a_full_tank_holds_no_more():
    event = twenty_minutes(start_fuel_volume=CAR.tank.volume)
    trace, judged = judged_of(CAR, event)
    doubtful = replace(named(judged, "fuel"), probability=0.5)
    numbers = {each.number for each in levers(CAR, event, trace, doubtful)}
    assert numbers == {"race.stops.fuel_volume", "engine.torques"}


def test_a_doubtful_item_gets_its_remedies_and_each_says_how_often_it_then_lasts():
    """Enough as planned is not enough: the front pads pass the race as planned and fail many drawn."""
    car, event = with_pad(thickness=0.0049), twenty_minutes(duration=2400.0)
    known = {
        "brakes.front.pad.wear_rate": Known(
            value=CAR.brakes.front.pad.wear_rate,
            uncertainty=0.5 * CAR.brakes.front.pad.wear_rate,
            origin=Origin.ASSUMED,
        )
    }
    trace = march_regardless(car, PATH, event)
    chances = odds(car, PATH, event, known, races=1000)
    judged = lasting(car, event, trace, chances)
    pads = named(judged, "front pads")
    assert pads.does_last and not pads.is_close and pads.probability < 0.95
    found = remedies(car, PATH, event, trace, (pads,), chances=chances, known=known)
    assert {"brakes.front.pad.thickness", "brakes.front.pad.wear_rate"} <= {each.number for each in found}
    thicker = next(each for each in found if each.number == "brakes.front.pad.thickness")
    again = odds(with_pad(thickness=thicker.after), PATH, event, known, races=1000)
    assert thicker.probability == pytest.approx(again.of("front pads").probability, abs=0.005)
    assert thicker.all_last == pytest.approx(again.all_last, abs=0.005)
    assert thicker.probability > pads.probability + 0.02
    for each in found:
        assert each.is_enough and each.probability > pads.probability
        assert each.is_safe == (each.probability >= 0.95)
    assert any(each.is_safe for each in found)


def test_a_cooler_remedy_is_no_larger_than_needed():
    event = twenty_minutes()
    cooling = replace(CAR.cooling, oil_limit=116.0)
    car = replace(CAR, cooling=cooling)
    trace, judged = judged_of(car, event)
    oil = named(judged, "oil")
    assert not oil.does_last or oil.is_close
    cooler = next(
        each
        for each in remedies(car, PATH, event, trace, (oil,))
        if each.number == "cooling.oil_core_conductance"
    )
    assert cooler.is_enough
    assert cooler.after > cooler.before
    assert cooler.margin >= 5.0
    smaller = cooler.after - 0.25 * cooler.before
    again = replace(car, cooling=replace(cooling, oil_core_conductance=smaller))
    smaller_margin = left_over_race(again, march(again, PATH, event))[:, NAMES.index("oil")].min()
    assert smaller_margin < 5.0
    assert cooler.lap_time_cost == pytest.approx(0.0, abs=0.01)
