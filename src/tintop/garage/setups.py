"""Two set-ups of a bench compared: the jobs between them, both driven round a circuit where one is named."""

from collections.abc import Callable

from tintop.car.chassis import End
from tintop.garage.bench import Bench
from tintop.garage.keeper import Garage
from tintop.garage.setup_effects import line_of
from tintop.garage.setup_limits import legality_at, not_legal_words
from tintop.known import Origin
from tintop.lap.setup_effect import place_for
from tintop.lap.setup_gain import confirmed
from tintop.questions.best_setup import NOT_CHECKED
from tintop.questions.from_one_setup_to_another import (
    Changeover,
    from_one_setup_to_another,
    weather_purpose,
)


def compare_setups(
    bench: Bench,
    a: str,
    b: str,
    circuit: str = "",
    progress: Callable[[float], None] | None = None,
    garage: Garage | None = None,
) -> Changeover:
    """From set-up `a` to set-up `b`, both by their file's stem; BadInput naming what there is.

    With a circuit both are driven there on the same day, a wet one where the second is for the wet. With a
    `garage` what the books of the event say of the second is said too.
    """
    first, second = bench.setup(a), bench.setup(b)
    legality = legality_at(garage, bench, b, circuit) if garage else NOT_CHECKED
    predicted = None
    if circuit:
        car = bench.described.car
        weather = bench.weather(weather_purpose(first, second))
        path = line_of(bench, circuit)
        predicted = confirmed(
            car,
            bench.chassis,
            first,
            second,
            place_for(car, path, weather),
            known=bench.described.known,
            chassis_known=bench.chassis_known,
            progress=progress,
        )
    return from_one_setup_to_another(
        first,
        second,
        bench.described.car,
        bench.chassis,
        units=bench.settings.units,
        circuit=circuit,
        predicted=predicted,
        assumed_radii=assumed_radii(bench),
        not_legal=not_legal_words(legality, second, bench.chassis, bench.settings.units),
        legality=legality.sentences,
    )


def assumed_radii(bench: Bench) -> tuple[str, ...]:
    """The sets of tyres whose radius is that of their class at either end: nobody measured it."""
    return tuple(
        tyres.name
        for place, tyres in enumerate(bench.chassis.tyre_sets, 1)
        if any(
            (known := bench.chassis_known.get(f"tyre_sets.{place}.{end.value}.radius")) is not None
            and known.origin is Origin.ASSUMED
            for end in End
        )
    )
