"""What would make it last: each remedy is a changed car or plan, marched again and drawn again."""

from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from tintop.car.car import Car
from tintop.circuit.circuit import Path
from tintop.errors import TintopError
from tintop.event import Event
from tintop.known import Known
from tintop.race.draws import Spread, spread_of
from tintop.race.heat import fresh_state
from tintop.race.items import Item, item_of
from tintop.race.lap_model import LapModel, fit_lap_model
from tintop.race.lasting import Lasts, least_margin, racing_lap_time
from tintop.race.levers import Lever, levers
from tintop.race.march import RaceTrace, march_regardless
from tintop.race.odds import Odds, odds

SAFE_PROBABILITY = 0.95
_MOST_ITEMS = 4
_AT_ONCE = 4  # the kernels let go of the interpreter
_MARCHES = 4
_RACES = 500  # drawn with each remedy
_REACH = 1.05  # of the step that a straight line asks for


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """One change in a size one can buy or do, meant to make the item last in 95 of 100 races.

    `change` is the deed in words; `number` the path or quantity changed, from `before` to `after` in `unit`;
    `margin` is the item's least margin then as planned, in its own unit; `lap_time_cost` is what it adds to a
    racing lap [s] and `laps` what the race then counts. `is_enough`: the item lasts with its usual reserve in
    the race as planned. `probability` that it then lasts, and `all_last` that everything does, are None where
    no races were drawn with the remedy.
    """

    item: str
    change: str
    number: str
    before: float
    after: float
    unit: str
    margin: float
    lap_time_cost: float
    laps: int
    is_enough: bool
    probability: float | None = None
    all_last: float | None = None

    @property
    def is_safe(self) -> bool:
        """Whether the item then lasts in 95 of 100 races."""
        return self.is_enough and self.probability is not None and self.probability >= SAFE_PROBABILITY


@dataclass(frozen=True, slots=True, kw_only=True)
class _Dice:
    """What drawing a remedy's races needs of the race as it stands."""

    known: Mapping[str, Known]
    model: LapModel
    spread: Spread
    seed: int


def remedies(
    car: Car,
    path: Path,
    event: Event,
    trace: RaceTrace,
    judged: tuple[Lasts, ...],
    *,
    chances: Odds | None = None,
    known: Mapping[str, Known] | None = None,
    progress: Callable[[float], None] | None = None,
) -> tuple[Remedy, ...]:
    """Find what would make items last that do not, are close, or last in fewer than 95 of 100 races.

    The four that last least often are looked at, and every one that does not last as planned. Each remedy
    stands alone. The reserve aimed at is the margin below which an item is called close, or with `chances`
    what the worst twentieth of the races lose on the race as planned, where that is more. Then 500 races are
    drawn with each remedy from the uncertainties of `known`.
    """
    tasks = [(each, lever) for each in _wanting(judged) for lever in levers(car, event, trace, each)]
    dice = _dice(car, path, event, known, chances) if chances and known and tasks else None

    def look(task: tuple[Lasts, Lever]) -> Remedy | None:
        each, lever = task
        remedy = _solve(car, path, trace, item_of(each.item), lever, _reserve(event, each, lever, chances))
        return remedy if remedy is None or dice is None else _drawn(path, lever, remedy, dice)

    found = []
    with ThreadPoolExecutor(max_workers=_AT_ONCE) as workers:
        try:
            for number, remedy in enumerate(workers.map(look, tasks), 1):
                found += [remedy] if remedy is not None else []
                if progress is not None:
                    progress(number / len(tasks))
        except BaseException:
            workers.shutdown(cancel_futures=True)
            raise
    return tuple(found)


def _wanting(judged: tuple[Lasts, ...]) -> list[Lasts]:
    wanting = [each for each in judged if not each.does_last or each.is_close or is_doubtful(each)]
    least = sorted(wanting, key=lambda each: 1.0 if each.probability is None else each.probability)
    return [each for each in wanting if not each.does_last or each in least[:_MOST_ITEMS]]


def is_doubtful(each: Lasts) -> bool:
    """Whether an item lasts in fewer than 95 of 100 races."""
    return each.probability is not None and each.probability < SAFE_PROBABILITY


def _reserve(event: Event, each: Lasts, lever: Lever, chances: Odds | None) -> float:
    """Margin as planned that leaves 95 of 100 races nothing short, as far as a line can tell."""
    item = item_of(each.item)
    if chances is None:
        return item.close
    low = chances.of(each.item).margin[0]
    if lever.adds:
        return max(item.close, each.margin - low)
    room = each.limit if item.is_consumable else each.limit - event.weather.air_temp
    return max(item.close, room * (1.0 - (room - each.margin) / max(room - low, room - each.margin)))


def _dice(car: Car, path: Path, event: Event, known: Mapping[str, Known], chances: Odds) -> _Dice:
    model = fit_lap_model(car, path, event)
    spread = spread_of(car, path, event, known, model.racing)
    return _Dice(known=known, model=model, spread=spread, seed=chances.seed)


def _drawn(path: Path, lever: Lever, remedy: Remedy, dice: _Dice) -> Remedy:
    """A remedy with its odds; one that leaves the flying lap alone is drawn on the lap model at hand."""
    car, event = lever.apply(remedy.after)
    try:
        model = (
            fit_lap_model(car, path, event)
            if lever.is_on_the_lap
            else replace(dice.model, start_state=fresh_state(car, event.weather))
        )
        found = odds(
            car, path, event, dice.known, races=_RACES, seed=dice.seed, model=model, spread=dice.spread
        )
    except TintopError:
        return remedy
    return replace(remedy, probability=found.of(remedy.item).probability, all_last=found.all_last)


def _solve(car: Car, path: Path, trace: RaceTrace, item: Item, lever: Lever, reserve: float) -> Remedy | None:
    """Smallest size of a lever found that brings the margin to the reserve; None if none brings it near.

    Sizes are tried from the smallest up, each as far as the line through the last two asks for.
    """
    short = least_margin(car, trace, item)
    value, last = lever.reaching(lever.before + 0.5 * lever.step), (lever.before, short)
    best: Remedy | None = None
    for _ in range(_MARCHES):
        try:
            changed_car, changed_event = lever.apply(value)
            after = march_regardless(changed_car, path, changed_event)
        except TintopError:
            break
        margin = least_margin(changed_car, after, item)
        best = _remedy(item, lever, trace, after, value, margin)
        if margin >= reserve or value == lever.most:
            break
        slope = (margin - last[1]) / (value - last[0])
        step = _REACH * (reserve - margin) / slope if slope * lever.step > 0.0 else lever.most - value
        last = (value, margin)
        value = lever.reaching(value + (step if step * lever.step > 0.0 else lever.step))
    if best is None or (best.margin < item.close and best.margin < 0.5 * (short + item.close)):
        return None
    return best if best.margin > short else None


def _remedy(
    item: Item, lever: Lever, trace: RaceTrace, after: RaceTrace, value: float, margin: float
) -> Remedy:
    return Remedy(
        item=item.name,
        change=lever.say(value),
        number=lever.number,
        before=lever.before,
        after=value,
        unit=lever.unit,
        margin=margin,
        lap_time_cost=racing_lap_time(after) - racing_lap_time(trace),
        laps=after.laps,
        is_enough=margin >= item.close,
    )
