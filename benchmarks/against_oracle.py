"""The lap against CasADi with IPOPT on the same single-track car, path and mesh."""

import sys
from pathlib import Path

from tintop.circuit.circuit import Path as Line
from tintop.lap.vehicle import road_of

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
from oracle import Stated, kernel_lap, optimised_lap


def against_the_oracle(path: Line) -> list[tuple[str, str, str, bool]]:
    """Rows of the table: how much quicker, and how far apart the lap times are."""
    road = road_of(path)
    ours, seconds = kernel_lap(Stated(), road)
    optimum, seconds_of_optimum = optimised_lap(Stated(), road)
    times, apart = seconds_of_optimum / seconds, abs(ours / optimum - 1.0)
    return [
        (
            "against CasADi/IPOPT, same single-track car, 5 km at 1 m",
            f"{times:,.0f} times quicker ({1e3 * seconds:.2f} ms, {seconds_of_optimum:.1f} s)",
            "3,000 times",
            times >= 3000,
        ),
        (
            "difference of lap time to it",
            f"{100 * apart:.3f} % ({ours:.3f} s, {optimum:.3f} s)",
            "0.5 %",
            apart <= 5e-3,
        ),
    ]
