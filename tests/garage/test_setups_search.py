"""The search asked of a bench: what was typed, what is kept, and what a stopped search leaves."""

import pytest

from short_benches import SHORT, short_bench
from tintop.errors import BadInput
from tintop.garage.setups_search import (
    adjuster_names,
    ask_best_setup,
    balance_typed,
    searched_names,
)

BENCH = short_bench()


@pytest.mark.parametrize(
    ("text", "window"),
    [
        ("", None),
        ("2", (0.02, None)),
        ("1 to 8", (0.01, 0.08)),
        ("1 % to 8 %", (0.01, 0.08)),
        ("-1 to 0.5 %", (-0.01, 0.005)),
        ("1 – 3", (0.01, 0.03)),
    ],
)
def test_a_window_of_balance_as_it_is_typed(text, window):
    assert balance_typed(text, "balance") == (window and pytest.approx(window))


@pytest.mark.parametrize("text", ["loose", "8 to 1", "1 to 2 to 3", "80 %", "1 to"])
def test_slips_in_the_balance_are_told(text):
    with pytest.raises(BadInput):
        balance_typed(text, "balance")


def test_names_that_are_not_there_are_told_with_those_there_are():
    with pytest.raises(BadInput, match="front camber"):
        ask_best_setup(BENCH, "dry", SHORT, adjust=("front cambre",))
    with pytest.raises(BadInput, match="'front toe', which a lap cannot judge"):
        ask_best_setup(BENCH, "dry", SHORT, adjust=("front toe",))
    with pytest.raises(BadInput, match="'toe', which a lap cannot judge"):
        ask_best_setup(BENCH, "dry", SHORT, adjust=("front camber", "toe"))
    with pytest.raises(BadInput, match="short"):
        ask_best_setup(BENCH, "dry", "shrt")
    with pytest.raises(BadInput, match="dry"):
        ask_best_setup(BENCH, "drie", SHORT)


def test_what_a_lap_cannot_judge_is_no_part_of_what_is_searched():
    assert set(adjuster_names(BENCH)) - set(searched_names(BENCH)) == {"front toe"}


def test_a_stopped_search_leaves_nothing(tmp_path):
    class Stopped(Exception):
        pass

    def progress(share):
        if share > 0.3:
            raise Stopped

    with pytest.raises(Stopped):
        ask_best_setup(BENCH, "dry", SHORT, adjust=("front camber",), progress=progress)
    assert not list(tmp_path.iterdir())
