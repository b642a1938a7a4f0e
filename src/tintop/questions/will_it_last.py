"""Do fuel, brakes, tyres and cooling last the race, what goes first, and what would cure it?"""

from tintop.answer import Answer, Figure, Verdict
from tintop.car.car import Car
from tintop.event import Event
from tintop.race.lasting import Lasts, first_to_run_out
from tintop.race.march import RaceTrace
from tintop.race.odds import Odds
from tintop.race.remedies import Remedy

_SAFE_PROBABILITY = 0.95
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
    weakest = min(
        judged, key=lambda each: (each.probability if each.probability is not None else 1.0, each.margin)
    )
    verdict, sentence = _verdict(car, event, trace, odds, first, weakest)
    why = tuple(_reason(each) for each in judged if not each.does_last or each.is_close or _is_doubtful(each))
    wanted = (first or weakest).item
    helpful = [cure for cure in cures if cure.is_enough and cure.item == wanted]
    cheapest = min(helpful, key=lambda cure: (-cure.laps, cure.lap_time_cost)) if helpful else None
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
        next_thing=_next_thing(cheapest, weakest),
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
    if odds.all_last < _SAFE_PROBABILITY:
        return (
            Verdict.CLOSE,
            f"{car.name} lasts {race} as planned, but {chance}; the weakest is the {weakest.item}.",
        )
    return Verdict.YES, f"{car.name} lasts {race}: {chance}; the weakest is the {weakest.item}."


def _fails(each: Lasts) -> str:
    if each.unit == "K":
        return "is over its limit"
    return "are used up" if each.item.endswith("pads") else "is used up"


def _is_doubtful(each: Lasts) -> bool:
    return each.probability is not None and each.probability < _SAFE_PROBABILITY


def _reason(each: Lasts) -> str:
    chance = "" if each.probability is None else f", lasts in {100 * each.probability:.0f} of 100 races"
    if each.runs_out_at_s is not None:
        return f"{each.item} {_fails(each)} after {written_clock(each.runs_out_at_s)}{chance}"
    return f"{each.item}: {written_amount(each.margin, each.unit)} left{chance}"


def _next_thing(cheapest: Remedy | None, weakest: Lasts) -> str:
    if cheapest is None:
        return f"Watch the {weakest.item}: measure it at the stop."
    return f"For the {cheapest.item}: {written_remedy(cheapest)}."


def written_remedy(cure: Remedy) -> str:
    """Write one remedy: what changes, from what to what, and what it costs."""
    change = ""
    if cure.before != cure.after:
        before, after = written_amount(cure.before, cure.unit), written_amount(cure.after, cure.unit)
        change = f" ({before} to {after})"
    lost = f"{cure.lap_time_cost:+.2f} s a lap" if abs(cure.lap_time_cost) >= 0.005 else "no lap time lost"
    cost = f", {lost}, {cure.laps} laps in the race"
    enough = "" if cure.is_enough else "; not enough alone"
    return f"{cure.change}{change}{cost}{enough}"


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
