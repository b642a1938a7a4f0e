"""How quick is this car here, what limits it metre by metre, and how sure is that?"""

import math

from tintop.answer import Answer, Assumption, Figure, Verdict
from tintop.car.described import DescribedCar
from tintop.car.measuring import deed_for, words_of_path
from tintop.circuit.circuit import Circuit, Path
from tintop.event import Weather
from tintop.known import Origin
from tintop.lap.sectors import corner_summaries, sector_times
from tintop.lap.sensitivity import Sensitivity
from tintop.lap.trace import LapTrace, Limit
from tintop.owner_units import lap_words

_LIMIT_WORDS = {
    Limit.FRONT_GRIP: "front grip",
    Limit.REAR_GRIP: "rear grip",
    Limit.POWER: "power",
    Limit.LIMITER: "the rev limiter",
    Limit.BRAKES: "the brakes",
    Limit.GEAR_SHIFT: "gear shifts",
}
_SEVERAL = (Limit.BRAKES, Limit.GEAR_SHIFT)
_RANGE = 1.96  # standard uncertainties in a 95 % range of a normal distribution
CAUTIONS = (
    "A predicted lap is the car's, driven by somebody who uses all its grip; nobody does that on every lap.",
    "The prediction is not a promise that any corner can be taken at the speed shown.",
)


def how_quick(
    described: DescribedCar,
    circuit: Circuit,
    path: Path,
    weather: Weather,
    lap: LapTrace,
    worth: tuple[Sensitivity, ...],
) -> Answer:
    """Answer from a predicted lap and the worth of each number of the car."""
    doubt = math.sqrt(sum(one.seconds_of_doubt**2 for one in worth))
    shares = lap.limit_share()
    most = max(shares, key=lambda name: shares[name])
    assumed = tuple(
        Assumption(
            path=one.path,
            value=one.value,
            uncertainty=one.uncertainty,
            effect=one.seconds_of_doubt,
            effect_unit="s",
            source=described.known[one.path].source,
        )
        for one in worth
        if one.origin is Origin.ASSUMED and one.seconds_of_doubt > 0.0
    )
    why = tuple(
        f"{_LIMIT_WORDS[limit]} {'limit' if limit in _SEVERAL else 'limits'} "
        f"{100.0 * share:.0f} % of the lap's time"
        for name, share in sorted(shares.items(), key=lambda item: -item[1])
        if share >= 0.005 and (limit := Limit[name.upper()])
    )
    return Answer(
        question="How quick?",
        verdict=Verdict.FOUND,
        sentence=f"{lap_words(lap.lap_time)} on {circuit.name} along the {path.name}, "
        f"held back most by {_LIMIT_WORDS[Limit[most.upper()]]}.",
        figures=(
            Figure(
                name="lap time",
                value=lap.lap_time,
                low=lap.lap_time - _RANGE * doubt,
                high=lap.lap_time + _RANGE * doubt,
                unit="s",
                basis="predicted; range from the stated uncertainty of every number of the car",
            ),
            _exact("highest speed", float(lap.speed.max()), "m/s"),
            _exact("lowest speed", float(lap.speed.min()), "m/s"),
            _fuel(described, lap),
        ),
        why=why,
        next_thing=_next_thing(worth),
        cautions=CAUTIONS,
        assumptions=assumed,
        works=("Milliken1995", "Pacejka2012", "Brayshaw2005", "Picard2008", "ISO1585", "ISO8855"),
        working={
            "sectors_s": sector_times(lap, circuit, path),
            "corners": corner_summaries(lap, circuit, path),
            "limit_share": shares,
            "circuit_notes": circuit.smoothing.notes,
        },
    )


def _next_thing(worth: tuple[Sensitivity, ...]) -> str:
    """What to do about the dearest doubt."""
    if not worth or worth[0].seconds_of_doubt <= 0.0:
        return ""
    deed = deed_for(worth[0].path)
    return (
        f"{deed[:1].upper()}{deed[1:]}: the doubt about {words_of_path(worth[0].path)} alone is worth "
        f"±{worth[0].seconds_of_doubt:.2f} s."
    )


def _fuel(described: DescribedCar, lap: LapTrace) -> Figure:
    kilograms = float(lap.per_lap("fuel_flow"))
    volume = kilograms / described.car.fuel.density
    return Figure(
        name="fuel for a flying lap",
        value=volume,
        low=volume,
        high=volume,
        unit="m3",
        basis=f"predicted, {kilograms:.2f} kg; no range computed",
    )


def _exact(name: str, value: float, unit: str) -> Figure:
    return Figure(
        name=name, value=value, low=value, high=value, unit=unit, basis="predicted; no range computed"
    )
