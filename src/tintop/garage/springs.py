"""The bench asked which springs and bars, on the line driven round a circuit."""

from collections.abc import Callable

from tintop.car.chassis import Chassis
from tintop.car.setup import Setup
from tintop.event import Weather
from tintop.garage.bench import Bench
from tintop.garage.setup_effects import line_of
from tintop.lap.spring_map import SpringMap, Varied, rough_fit, spring_map, trial_on
from tintop.questions.which_springs_and_bars import Drive, SpringsAnswer, which_springs_and_bars

Progress = Callable[[float], None]


def ask_which_springs(
    bench: Bench,
    setup: Setup,
    weather: Weather,
    circuit: str = "",
    *,
    chassis: Chassis | None = None,
    progress: Progress | None = None,
) -> SpringsAnswer:
    """Answer for a set-up, on a circuit by its file's stem or on none; `chassis` may hold free parts more."""
    drive = None
    if circuit:
        drive = Drive(circuit=bench.circuit(circuit), path=line_of(bench, circuit, progress))
    return which_springs_and_bars(
        bench.described,
        chassis or bench.chassis,
        bench.chassis_known,
        setup,
        weather,
        drive,
        bench.settings.currency,
    )


def map_of(
    bench: Bench,
    setup: Setup,
    weather: Weather,
    circuit: str,
    varied: Varied,
    speed: float,
    *,
    chassis: Chassis | None = None,
    progress: Progress | None = None,
) -> SpringMap:
    """Every pair of springs or bars round a circuit, balance at a steady speed [m/s]."""
    tell = progress or (lambda _share: None)
    path = line_of(bench, circuit, lambda share: tell(0.5 * share))
    hung = chassis or bench.chassis
    trial = trial_on(rough_fit(bench.described.car, hung, path, weather), path, weather, speed)
    return spring_map(hung, setup, trial, varied, lambda share: tell(0.5 + 0.5 * share))
