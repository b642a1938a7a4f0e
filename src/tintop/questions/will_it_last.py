"""Do fuel, brakes, tyres and cooling last the race, what goes first, and what would cure it?"""

from tintop.answer import Answer, Figure, Verdict
from tintop.car.car import Car
from tintop.event import Event
from tintop.race.lasting import Lasts, first_to_run_out
from tintop.race.march import RaceTrace
from tintop.race.odds import Odds
from tintop.race.remedies import SAFE_PROBABILITY, Remedy, is_doubtful

CAUTIONS = (
    "Wear and heat differ tenfold between circuits and compounds: measure pads and discs at every stop and "
    "trust the gauge in your hand before this forecast.",
    "A pad at its minimum, a disc cracked to its edge, a long pedal or the oil light means stop.",
)


def will_it_last(
    car: Car,
    event: Event,
    trace: RaceTrace,
    judged: tuple[Lasts, ...],
    odds: Odds,
    cures: tuple[Remedy, ...],
) -> Answer:
    """Answer from a marched race, its judgement, the odds and the remedies found."""
    first = first_to_run_out(judged)
    ranked = worst_first(judged)
    weakest = ranked[0]
    verdict, sentence = _verdict(car, event, trace, odds, first, weakest)
    why = tuple(_reason(each) for each in ranked if not each.does_last or each.is_close or is_doubtful(each))
    wanted = (first or weakest).item
    helpful = [cure for cure in best_first(cures) if cure.is_enough and cure.item == wanted]
    return Answer(
        question="Will it last?",
        verdict=verdict,
        sentence=sentence,
        figures=(
            Figure(
                name="laps",
                value=float(trace.laps),
                low=odds.laps[0],
                high=odds.laps[2],
                unit="laps",
                basis=f"marched lap by lap; 5 to 95 % of {odds.races} races",
            ),
            Figure(
                name="chance that everything lasts",
                value=odds.all_last,
                low=max(odds.all_last - 1.96 * odds.all_last_standard_error, 0.0),
                high=min(odds.all_last + 1.96 * odds.all_last_standard_error, 1.0),
                unit="",
                basis=f"{odds.races} races drawn from the stated uncertainties, seed {odds.seed}",
            ),
        ),
        why=why,
        next_thing=_next_thing(helpful[0] if helpful else None, weakest),
        cautions=CAUTIONS,
        works=("Heywood1988", "Limpert2011", "Incropera2007", "Picard2008"),
    )


def _verdict(
    car: Car, event: Event, trace: RaceTrace, odds: Odds, first: Lasts | None, weakest: Lasts
) -> tuple[Verdict, str]:
    race = f"{trace.laps} laps of {event.name}"
    chance = f"everything lasts in {100 * odds.all_last:.0f} of 100 races"
    if first is not None and first.runs_out_at_s is not None:
        return (
            Verdict.NO,
            f"{car.name} does not last {race}: the {first.item} {_fails(first)} after "
            f"{written_clock(first.runs_out_at_s)}; {chance}.",
        )
    if odds.all_last < SAFE_PROBABILITY:
        return (
            Verdict.CLOSE,
            f"{car.name} lasts {race} as planned, but {chance}; the weakest is the {weakest.item}.",
        )
    return Verdict.YES, f"{car.name} lasts {race}: {chance}; the weakest is the {weakest.item}."


def _fails(each: Lasts) -> str:
    if each.unit == "K":
        return "is over its limit"
    return "are used up" if each.item.endswith("pads") else "is used up"


def worst_first(judged: tuple[Lasts, ...]) -> tuple[Lasts, ...]:
    """The items by how seldom they last."""
    return tuple(
        sorted(judged, key=lambda each: (1.0 if each.probability is None else each.probability, each.margin))
    )


def best_first(cures: tuple[Remedy, ...]) -> tuple[Remedy, ...]:
    """Remedies that make their item last in 95 of 100 races before others, then by laps and lap time lost."""
    return tuple(sorted(cures, key=lambda cure: (not cure.is_safe, -cure.laps, round(cure.lap_time_cost, 2))))


def _reason(each: Lasts) -> str:
    chance = "" if each.probability is None else f", lasts in {of_hundred(each.probability)} of 100 races"
    if each.runs_out_at_s is not None:
        return f"{each.item} {_fails(each)} after {written_clock(each.runs_out_at_s)}{chance}"
    return f"{each.item}: {written_margin(each)}{chance}"


def _next_thing(best: Remedy | None, weakest: Lasts) -> str:
    if best is None:
        return f"Watch the {weakest.item}: measure it at the stop."
    return f"For the {best.item}: {written_remedy(best)}; {written_effect(best)}."


def written_remedy(cure: Remedy) -> str:
    """Write one remedy: what to do, and what it costs in the race."""
    cost = cure.lap_time_cost
    lost = f"{abs(cost):.1f} s a lap {'slower' if cost > 0.0 else 'quicker'}"
    return f"{cure.change}, {'no lap time lost' if abs(cost) < 0.05 else lost}, {cure.laps} laps in the race"


def written_effect(cure: Remedy) -> str:
    """Write what a remedy alone does: enough as planned or not, and in how many of 100 races it lasts."""
    planned = "enough as planned" if cure.is_enough else "not enough alone as planned"
    if cure.probability is None or cure.all_last is None:
        return f"{planned} only: no races were drawn with it" if cure.is_enough else planned
    return (
        f"{planned}, then lasts in {of_hundred(cure.probability)} of 100 races, "
        f"everything in {of_hundred(cure.all_last)}"
    )


def of_hundred(probability: float) -> str:
    """Races of a hundred; 100 only if it was every one."""
    if probability >= 1.0:
        return "100"
    return f"{min(100.0 * probability, 99.9):.1f}" if probability > 0.99 else f"{100.0 * probability:.0f}"


def written_margin(each: Lasts) -> str:
    """Write what is left of an item at the worst; a temperature with its limit, what is used up as gone."""
    if each.unit == "K":
        side = "under" if each.margin >= 0.0 else "over"
        return f"{each.used:.0f} °C, {abs(each.margin):.0f} °C {side} its {each.limit:.0f}"
    if each.margin < 0.0:
        return f"gone, {written_amount(-each.margin, each.unit)} short"
    return f"{written_amount(each.margin, each.unit)} left"


def written_range(low: float, high: float, unit: str) -> tuple[str, str]:
    """Write the two ends of what is left; what is used up cannot be less than gone."""
    if unit == "K":
        ends = [f"{abs(end):.0f} °C {'under' if end >= 0.0 else 'over'}" for end in (low, high)]
    else:
        ends = ["gone" if end < 0.0 else written_amount(end, unit) for end in (low, high)]
    return ends[0], ends[1]


def written_amount(value: float, unit: str) -> str:
    """Write an amount in the unit a mechanic reads: litres, millimetres, kelvin."""
    scale, name, digits = {
        "m3": (1e3, "L", 1),
        "m": (1e3, "mm", 2),
        "K": (1.0, "K", 0),
        "°C": (1.0, "°C", 0),
        "W/K": (1.0, "W/K", 0),
        "": (1.0, "", 3),
    }.get(unit, (1.0, unit, 3))
    if unit == "m3/J":
        return f"{value:.2e} m³/J"
    return f"{value * scale:.{digits}f} {name}".rstrip()


def written_clock(seconds: float) -> str:
    """Write a race clock as hours:minutes."""
    minutes = round(seconds / 60.0)
    return f"{minutes // 60} h {minutes % 60:02d} min"
