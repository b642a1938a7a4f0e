"""The probability that each thing lasts: many races drawn from the stated uncertainties on a lap model."""

import math
from collections.abc import Callable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tintop.car.car import Car
from tintop.circuit.circuit import Path
from tintop.errors import refuse
from tintop.event import Event
from tintop.known import Known
from tintop.physics import many_races as kernel
from tintop.physics import race_numbers as layout
from tintop.race.draws import Spread, drawn_numbers, spread_of
from tintop.race.items import ITEMS
from tintop.race.lap_model import LapModel, fit_lap_model, plan_of, race_numbers, stops_of
from tintop.race.march import check_race, neutralisations

FloatArray = NDArray[np.float64]

RACES = 10_000
_CHUNK_LAPS = 150_000  # about 0.3 s of work on one core
_TRAFFIC_PHASE = len(layout.AXLE_NUMBERS) * 2 + layout.OTHER_NUMBERS.index("traffic_phase")
_LENGTH_SHAPE = 4  # of the gamma law of a safety car's length: its standard deviation is half its mean


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemOdds:
    """One item over all races: probability that it lasts, its standard error, and the margin.

    `margin` is (5 %, 50 %, 95 %) in the item's SI unit; `runs_out_at` (5 %, 50 %, 95 %) of the race clock [s]
    among the races where it does not last, None where it always does.
    """

    item: str
    unit: str
    probability: float
    standard_error: float
    margin: tuple[float, float, float]
    runs_out_at: tuple[float, float, float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """Odds of every item and of the whole car, laps (5 %, 50 %, 95 %), and how true the lap model is.

    `first_to_fail` gives, by item, the share of races in which it is the first that does not last.
    """

    items: tuple[ItemOdds, ...]
    all_last: float
    all_last_standard_error: float
    first_to_fail: Mapping[str, float]
    laps: tuple[float, float, float]
    races: int
    seed: int
    uncertain_paths: tuple[str, ...]
    left_out: tuple[str, ...]
    fit_error: Mapping[str, float]

    def of(self, item: str) -> ItemOdds:
        """Give the odds of one item by name."""
        return next(odds for odds in self.items if odds.item == item)


def odds(
    car: Car,
    path: Path,
    event: Event,
    known: Mapping[str, Known],
    *,
    races: int = RACES,
    seed: int = 1,
    executor: Executor | None = None,
    progress: Callable[[float], None] | None = None,
    model: LapModel | None = None,
    spread: Spread | None = None,
) -> Odds:
    """Draw races from the uncertainties of `known` (by path, of car, weather and race) and count what lasts.

    A race's dice depend on `seed` and its place alone: any `executor`, or none, gives the same numbers.
    Safety cars come at random (Poisson) at the stated rate. Numbers are drawn log-normally about the stated
    value, temperatures and minimums normally, all independent. Raises BadInput as `check_race` does.
    `model` and `spread` spare finding them where they are at hand.
    """
    check_race(car, event)
    if races < 2:
        raise refuse("races", races, "2 or more")
    model = model or fit_lap_model(car, path, event)
    spread = spread or spread_of(car, path, event, known, model.racing)
    normal_seed, uniform_seed = np.random.SeedSequence(seed).spawn(2)
    normals = np.random.default_rng(normal_seed).standard_normal((races, len(spread.paths) + 2))
    numbers = drawn_numbers(race_numbers(car, event.weather, event.race), spread, normals[:, 2:])
    factors = np.ascontiguousarray(np.exp(normals[:, 2:] @ spread.output_steps))
    slow, phase = _neutralised(event, known, normals[:, :2], np.random.default_rng(uniform_seed), races)
    numbers[:, _TRAFFIC_PHASE] = phase
    outcome = _run(car, event, model, numbers, factors, slow, executor, progress)
    return _counted(car, outcome, races, seed, spread.paths, spread.left_out, model)


def stated_race(car: Car, event: Event, model: LapModel) -> layout.Races:
    """Run the one race in which every number is as stated, with the march's own safety cars and traffic."""
    slow = np.array(neutralisations(event.race), dtype=float).reshape(1, -1, 2)
    numbers = race_numbers(car, event.weather, event.race)[None]
    return kernel.run_races(
        model.surface,
        model.shape,
        stops_of(car, event.race),
        plan_of(event),
        model.start_state,
        numbers,
        np.ones((1, layout.OUTPUTS)),
        slow,
    )


def standard_error(lasting: int, races: int) -> float:
    """Standard deviation of the probability after counting, from a flat prior: not zero even when all last.

    Source: beta posterior of a binomial count, A. Gelman et al., Bayesian Data Analysis, ch. 2 (from memory).
    """
    good, bad = lasting + 1.0, races - lasting + 1.0
    return math.sqrt(good * bad / ((good + bad) ** 2 * (good + bad + 1.0)))


def _neutralised(
    event: Event, known: Mapping[str, Known], normals: FloatArray, dice: np.random.Generator, races: int
) -> tuple[FloatArray, FloatArray]:
    """Start and length of the safety cars of each race (races, periods, 2), and the phase of its traffic."""
    race = event.race
    rate = race.safety_cars_per_hour * race.duration / 3600.0
    rates = rate * np.exp(_relative(known, "race.safety_cars_per_hour") * normals[:, 0])
    mean_length = race.safety_car_length * np.exp(_relative(known, "race.safety_car_length") * normals[:, 1])
    most = int(np.ceil(3.0 * rate + 6.0 * math.sqrt(rate) + 2.0)) if rate > 0.0 else 1
    uniforms = 1.0 - dice.random((races, 2 + most * (1 + _LENGTH_SHAPE)))
    phase = 1.0 - uniforms[:, 0]
    number = _poisson(uniforms[:, 1], rates, most)
    starts = uniforms[:, 2 : 2 + most] * race.duration
    lengths = -np.log(uniforms[:, 2 + most :]).reshape(races, most, _LENGTH_SHAPE).mean(axis=2)
    lengths = lengths * mean_length[:, None]
    lengths = np.where(np.arange(most)[None, :] < number[:, None], lengths, 0.0)
    return np.ascontiguousarray(np.stack((starts, lengths), axis=2)), phase


def _relative(known: Mapping[str, Known], path: str) -> float:
    number = known.get(path)
    if number is None or number.value <= 0.0:
        return 0.0
    return math.log1p(number.uncertainty / number.value)


def _poisson(uniform: FloatArray, rates: FloatArray, most: int) -> FloatArray:
    """Poisson counts by inverting the distribution, no more than `most`."""
    count = np.zeros(uniform.shape[0])
    term = np.exp(-rates)
    total = term.copy()
    for k in range(1, most + 1):
        count += uniform > total
        term = term * rates / k
        total += term
    return count


def _run(
    car: Car,
    event: Event,
    model: LapModel,
    numbers: FloatArray,
    factors: FloatArray,
    slow: FloatArray,
    executor: Executor | None,
    progress: Callable[[float], None] | None,
) -> layout.Races:
    races = numbers.shape[0]
    lap_time = math.exp(float(model.surface.coefficients[0, layout.TIME]))
    laps = max(event.race.duration / lap_time, 1.0)
    chunk = max(int(_CHUNK_LAPS / laps), 1)
    fixed = (model.surface, model.shape, stops_of(car, event.race), plan_of(event), model.start_state)
    parts = [
        (*fixed, numbers[at : at + chunk], factors[at : at + chunk], slow[at : at + chunk])
        for at in range(0, races, chunk)
    ]
    if executor is None:
        results = (kernel.run_races(*part) for part in parts)
    else:
        futures = [executor.submit(kernel.run_races, *part) for part in parts]
        results = (future.result() for future in futures)
    done = []
    for result in results:
        done.append(result)
        if progress is not None:
            progress(len(done) / len(parts))
    return layout.Races(*(np.concatenate(columns) for columns in zip(*done, strict=True)))


def _counted(
    car: Car,
    outcome: layout.Races,
    races: int,
    seed: int,
    paths: tuple[str, ...],
    left_out: tuple[str, ...],
    model: LapModel,
) -> Odds:
    margin = outcome.margin.copy()
    margin[:, layout.ITEM_FUEL] /= car.fuel.density
    lasts = margin >= 0.0
    items = []
    for place, item in enumerate(ITEMS):
        count = int(np.count_nonzero(lasts[:, place]))
        gone = outcome.out_at[:, place]
        gone = gone[np.isfinite(gone)]
        items.append(
            ItemOdds(
                item=item.name,
                unit=item.unit,
                probability=count / races,
                standard_error=standard_error(count, races),
                margin=_quantiles(margin[:, place]),
                runs_out_at=_quantiles(gone) if gone.size else None,
            )
        )
    every = int(np.count_nonzero(np.all(lasts, axis=1)))
    first = np.nanargmin(np.where(np.isnan(outcome.out_at), np.inf, outcome.out_at), axis=1)
    failing = ~np.all(lasts, axis=1)
    shares = np.bincount(first[failing], minlength=len(ITEMS)) / races
    return Odds(
        items=tuple(items),
        all_last=every / races,
        all_last_standard_error=standard_error(every, races),
        first_to_fail={item.name: float(share) for item, share in zip(ITEMS, shares, strict=True)},
        laps=_quantiles(outcome.laps),
        races=races,
        seed=seed,
        uncertain_paths=paths,
        left_out=left_out,
        fit_error=model.fit_error,
    )


def _quantiles(values: FloatArray) -> tuple[float, float, float]:
    low, middle, high = np.quantile(values, (0.05, 0.5, 0.95))
    return float(low), float(middle), float(high)
