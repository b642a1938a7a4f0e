"""A suggestion as a set-up of its own: named, read back, written once, and only where there is one."""

from dataclasses import replace
from pathlib import Path

import pytest

from short_benches import SHORT, short_bench
from tintop.car.chassis import End
from tintop.errors import BadInput
from tintop.garage.setups_search import ask_best_setup
from tintop.garage.suggested_setup import file_of, save_in_folder
from tintop.store.documents.setup_reader import read_setup

BENCH = short_bench()
UNITS = BENCH.settings.units


@pytest.fixture(scope="module")
def found():
    """What is found from a camber far off, so that there is something to turn."""
    upright = BENCH.setup("dry").with_pair(End.FRONT, camber=0.0)
    bench = replace(BENCH, setups={**BENCH.setups, "upright": upright})
    return ask_best_setup(bench, "upright", SHORT, adjust=("front camber",))


def test_a_suggestion_is_written_once_and_reads_back(found, tmp_path):
    assert found.has_changes
    written = save_in_folder(tmp_path, UNITS, found, "Short, try 1", SHORT)
    assert Path(written) == tmp_path / "setups" / "short-try-1.toml"
    read = read_setup(Path(written), BENCH.chassis)
    assert read.corners[0].camber == pytest.approx(found.setup.corners[0].camber)
    assert (read.name, read.circuit, read.purpose) == ("Short, try 1", SHORT, found.before.purpose)
    with pytest.raises(BadInput, match="no set-up has yet"):
        save_in_folder(tmp_path, UNITS, found, "Short, try 1", SHORT)


@pytest.mark.parametrize(
    "name", ["", "…", "x" * 80, "a\nb", "a\u202eb", "CON", "lpt1", "compare", "Compare!"]
)
def test_a_name_has_to_be_one_and_nothing_is_written_under_another(found, tmp_path, name):
    with pytest.raises(BadInput, match="name of the set-up"):
        file_of(name)
    with pytest.raises(BadInput, match="name of the set-up"):
        save_in_folder(tmp_path, UNITS, found, name, SHORT)
    assert not list(tmp_path.iterdir())


def test_a_plain_copy_is_no_suggestion(found, tmp_path):
    nothing = replace(found, searched=replace(found.searched, changes=()), setup=found.before)
    with pytest.raises(BadInput, match="nothing worth turning"):
        save_in_folder(tmp_path, UNITS, nothing, "Copy", SHORT)
    assert not list(tmp_path.iterdir())


def test_what_would_not_read_again_is_not_written(found, tmp_path):
    odd = replace(found, before=replace(found.before, name="dry\u0000"))
    with pytest.raises(BadInput):
        save_in_folder(tmp_path, UNITS, odd, "Odd", SHORT)
    assert not list(tmp_path.iterdir())
