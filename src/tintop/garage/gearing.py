"""The bench asked which gearing, round its circuits."""

from collections.abc import Callable, Sequence

from tintop.car.car_with_setup import car_with_setup
from tintop.car.setup import Setup
from tintop.event import Weather
from tintop.garage.bench import Bench
from tintop.garage.setup_effects import line_of
from tintop.lap.gearing import Round, setups_to_compare
from tintop.questions.which_gearing import GearingAnswer, which_gearing

Progress = Callable[[float], None]


def ask_which_gearing(
    bench: Bench,
    setup: Setup,
    weather: Weather,
    circuits: Sequence[str] = (),
    *,
    more: Sequence[float] = (),
    progress: Progress | None = None,
) -> GearingAnswer:
    """Answer for a set-up round these circuits by their files' stems, or all; `more` final drives too."""
    for one in setups_to_compare(bench.chassis, setup, more):
        car_with_setup(bench.described.car, bench.chassis, one, weather)  # refuses before a line is sought
    tell = progress or (lambda _share: None)
    names = tuple(circuits) or tuple(bench.circuits)
    rounds = {}
    for count, name in enumerate(names):
        line = line_of(bench, name, lambda share, count=count: tell(0.5 * (count + share) / len(names)))  # type: ignore[misc]
        rounds[name] = Round(circuit=bench.circuit(name), path=line, weather=weather)
    return which_gearing(
        bench.described,
        bench.chassis,
        setup,
        rounds,
        more=more,
        progress=lambda share: tell(0.5 + 0.5 * share),
    )
