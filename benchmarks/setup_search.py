"""The search for a set-up from eight adjusters of the demo, whole laps and their doubts included."""

import time

from tintop.garage.bench import load_bench
from tintop.garage.setup_effects import effects_of, line_of
from tintop.garage.setups_search import ask_best_setup

EIGHT = (
    "front springs", "rear springs", "front ride height", "rear anti-roll bar", "front camber",
    "front rebound clicks", "front cold pressure", "rear cold pressure",
)  # fmt: skip


def rows(folder: str) -> list[tuple[str, str, str, bool]]:
    """Rows for the folder of a demo; the line is found before, as it is once a circuit."""
    bench = load_bench(folder)
    line_of(bench, "larkmoor")
    effects_of(bench, ("dry",), "larkmoor")
    start = time.perf_counter()
    found = ask_best_setup(bench, "dry", "larkmoor", adjust=EIGHT)
    taken = time.perf_counter() - start
    start = time.perf_counter()
    effects_of(bench, ("dry",), "larkmoor")
    effect = time.perf_counter() - start
    looked_at = found.searched.looked_at
    return [
        (
            f"best set-up from eight adjusters, {looked_at} set-ups looked at",
            f"{taken:.1f} s",
            "20 s",
            taken <= 20,
        ),
        ("what one set-up does, by whole laps", f"{1e3 * effect:.0f} ms", "50 ms", effect <= 0.05),
    ]
