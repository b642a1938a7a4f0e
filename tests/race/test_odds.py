import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from cars import front_driven_hatchback, rear_driven_coupe
from events import twenty_minutes, two_hours
from paths import club_circuit
from tintop.car.numbers import numbers_of
from tintop.errors import BadInput
from tintop.known import Known, Origin
from tintop.physics import lap_pieces
from tintop.physics import many_races as kernel
from tintop.physics import race_numbers as layout
from tintop.race.draws import drawn_numbers, spread_of
from tintop.race.items import ITEMS
from tintop.race.lap_model import fit_lap_model, plan_of, race_numbers, stops_of
from tintop.race.lasting import left_over_race
from tintop.race.march import march
from tintop.race.odds import _poisson, odds, standard_error, stated_race

CAR = front_driven_hatchback()
PATH = club_circuit(step=2.0)


def estimated(value: float, uncertainty: float) -> Known:
    return Known(value=value, uncertainty=uncertainty, origin=Origin.ESTIMATED)


def rough_knowledge() -> dict[str, Known]:
    """Every number of the car to 3 %, wear and cooling to 20 %."""
    known = {}
    for path, value in numbers_of(CAR).items():
        share = 0.2 if path.endswith(("wear_rate", "air_cooling", "conductance")) else 0.03
        known[path] = estimated(value, share * abs(value))
    for path in ("disc_thickness", "disc_thickness_minimum", "pad.thickness"):
        known[f"brakes.front.{path}"] = estimated(0.02, 1e-4)
        known[f"brakes.rear.{path}"] = estimated(0.02, 1e-4)
    known["weather.air_temp"] = estimated(20.0, 4.0)
    known["race.safety_cars_per_hour"] = estimated(0.5, 0.2)
    known["race.traffic_share"] = estimated(0.15, 0.05)
    return known


@pytest.fixture(scope="module")
def model():
    return fit_lap_model(CAR, PATH, two_hours())


@pytest.mark.parametrize("car", [CAR, rear_driven_coupe()], ids=["hatchback", "coupe"])
def test_the_stated_race_of_the_lap_model_is_the_marched_race(car):
    """The model races lap by lap what the march does metre by metre."""
    event = two_hours()
    fast = stated_race(car, event, fit_lap_model(car, PATH, event))
    trace = march(car, PATH, event)
    assert abs(fast.laps[0] - trace.laps) <= 1
    assert fast.clock[0] / fast.laps[0] == pytest.approx(trace.clock[-1] / trace.laps, rel=0.01)
    assert fast.fuel_burned[0] / fast.laps[0] == pytest.approx(
        trace.fuel_burned.sum() / trace.laps, rel=0.015
    )
    slow = left_over_race(car, trace).min(axis=0)
    brakes = car.brakes
    worn = {
        "front pads": brakes.front.pad.thickness - brakes.front.pad.thickness_minimum,
        "rear pads": brakes.rear.pad.thickness - brakes.rear.pad.thickness_minimum,
        "front disc thickness": brakes.front.disc_thickness - brakes.front.disc_thickness_minimum,
        "rear disc thickness": brakes.rear.disc_thickness - brakes.rear.disc_thickness_minimum,
        "front tyre tread": car.tyre_front.tread_depth - car.tyre_front.tread_depth_minimum,
        "rear tyre tread": car.tyre_rear.tread_depth - car.tyre_rear.tread_depth_minimum,
    }
    for place, item in enumerate(ITEMS):
        ours, marched = fast.margin[0, place], slow[place]
        if item.name in worn:
            assert worn[item.name] - ours == pytest.approx(worn[item.name] - marched, rel=0.06)
        elif item.unit == "K":
            assert ours == pytest.approx(marched, abs=8.0)  # 1 to 4 % of rises of 100 to 600 K


def test_the_surface_fits_laps_it_was_not_fitted_on(model):
    assert model.fit_error["lap_time"] < 0.006
    assert model.fit_error["fuel"] < 0.012
    assert all(error < 0.03 for name, error in model.fit_error.items() if name.startswith("brake_work"))
    assert all(error < 0.15 for name, error in model.fit_error.items() if name.startswith("slip_work"))


def test_the_same_numbers_for_any_number_of_workers(model):
    known = rough_knowledge()
    alone = odds(CAR, PATH, two_hours(), known, races=6000, seed=3, model=model)
    with ThreadPoolExecutor(2) as two:
        shared = odds(CAR, PATH, two_hours(), known, races=6000, seed=3, model=model, executor=two)
    assert alone == shared


def test_a_race_keeps_its_dice_when_more_races_are_run(model):
    known = rough_knowledge()
    spread = spread_of(CAR, PATH, two_hours(), known, model.racing)
    few = np.random.default_rng(5).standard_normal((10, len(spread.paths)))
    many = np.random.default_rng(5).standard_normal((1000, len(spread.paths)))
    np.testing.assert_array_equal(few, many[:10])
    base = race_numbers(CAR, two_hours().weather, two_hours().race)
    np.testing.assert_allclose(
        drawn_numbers(base, spread, few), drawn_numbers(base, spread, many)[:10], rtol=1e-12
    )


def test_another_seed_agrees_within_the_standard_error(model):
    known = rough_knowledge()
    one, other = (odds(CAR, PATH, two_hours(), known, races=2000, seed=seed, model=model) for seed in (1, 2))
    for a, b in zip(one.items, other.items, strict=True):
        assert abs(a.probability - b.probability) <= 4.5 * math.hypot(a.standard_error, b.standard_error)


def test_more_races_narrow_the_standard_error(model):
    known = rough_knowledge()
    few = odds(CAR, PATH, two_hours(), known, races=300, model=model)
    many = odds(CAR, PATH, two_hours(), known, races=3000, model=model)
    for a, b in zip(few.items, many.items, strict=True):
        assert b.standard_error < a.standard_error
    assert standard_error(100, 100) > 0.0
    assert standard_error(50, 100) == pytest.approx(math.sqrt(0.25 / 100.0), rel=0.02)


def test_nothing_uncertain_gives_one_answer(model):
    certain = odds(
        CAR, PATH, twenty_minutes(), {}, races=50, model=fit_lap_model(CAR, PATH, twenty_minutes())
    )
    for item in certain.items:
        assert item.margin[0] == pytest.approx(item.margin[2])
        assert item.probability in (0.0, 1.0)


def test_more_doubt_about_the_wear_widens_the_margin(model):
    path = "brakes.front.pad.wear_rate"
    rate = CAR.brakes.front.pad.wear_rate
    spans = []
    event = two_hours(safety_cars_per_hour=0.0)  # their number moves the wear as well
    for share in (0.1, 0.4):
        known = {path: estimated(rate, share * rate)}
        low, _, high = odds(CAR, PATH, event, known, races=1000, model=model).of("front pads").margin
        spans.append(high - low)
    assert spans[1] > 3.0 * spans[0]


def test_a_lasting_item_fails_when_its_limit_is_taken_away(model):
    thin = replace(CAR.brakes.front.pad, thickness_minimum=0.0115)
    car = replace(CAR, brakes=replace(CAR.brakes, front=replace(CAR.brakes.front, pad=thin)))
    answer = odds(car, PATH, two_hours(), {}, races=20, model=model)
    pads = answer.of("front pads")
    assert pads.probability == 0.0
    assert pads.runs_out_at is not None
    assert 0.0 < pads.runs_out_at[1] < 3600.0
    assert answer.all_last == 0.0
    assert sum(answer.first_to_fail.values()) == pytest.approx(1.0)


def test_safety_cars_come_as_poisson_says():
    uniform = (np.arange(20_000) + 0.5) / 20_000
    counts = _poisson(uniform, np.full(20_000, 1.2), 20)
    assert counts.mean() == pytest.approx(1.2, rel=1e-3)
    assert counts.var() == pytest.approx(1.2, rel=2e-3)
    assert np.mean(counts == 0) == pytest.approx(math.exp(-1.2), abs=1e-4)


def test_a_single_race_is_refused():
    with pytest.raises(BadInput, match="races"):
        odds(CAR, PATH, two_hours(), {}, races=1)


def test_compiled_and_plain_races_agree(model, monkeypatch):
    plain = getattr(kernel.run_races, "py_func", None)
    if plain is None:
        pytest.skip("kernels run plain: NUMBA_DISABLE_JIT is set")
    event = twenty_minutes()
    arguments = (
        model.surface,
        model.shape,
        stops_of(CAR, event.race),
        plan_of(event)._replace(duration=300.0),
        model.start_state,
        race_numbers(CAR, event.weather, event.race)[None],
        np.ones((1, layout.OUTPUTS)),
        np.zeros((1, 1, 2)),
    )
    compiled = kernel.run_races(*arguments)
    for module in (kernel, lap_pieces):
        for name, thing in list(vars(module).items()):
            if hasattr(thing, "py_func"):
                monkeypatch.setattr(module, name, thing.py_func)
    for ours, theirs in zip(compiled, plain(*arguments), strict=True):
        np.testing.assert_allclose(ours, theirs, rtol=1e-9, atol=1e-12)
