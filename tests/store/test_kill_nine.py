"""A writer killed at random moments loses nothing it acknowledged; and the trial would see it if it did."""

import importlib.util
import os
import sys
from pathlib import Path
from types import ModuleType

import pytest

from stores import draft, new_store, save

SCRIPT = Path(__file__).parents[2] / "benchmarks" / "kill_nine.py"

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this machine has no fork")


@pytest.fixture(scope="module")
def trial() -> ModuleType:
    spec = importlib.util.spec_from_file_location("kill_nine", SCRIPT)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules["kill_nine"] = module
    spec.loader.exec_module(module)
    return module


def test_ten_kills_lose_nothing(trial: ModuleType, tmp_path: Path) -> None:
    tally = trial.run(10, 7, [tmp_path])
    assert tally.kills == 10
    assert tally.lost == []


def test_the_trial_sees_what_is_lost(trial: ModuleType, tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        store.append([draft("one")])
        save(store, "car.toml", "mass = 1\n")
    known, tally = trial.Acknowledged(), trial.Tally()
    known.note({"what": "entries", "keys": {"1": "one", "2": "two"}})
    known.note({"what": "document", "name": "car.toml", "digest": "0" * 64})
    known.note({"what": "document", "name": "new.toml", "digest": "0" * 64})
    known.note({"what": "backup", "path": "/nowhere"})
    trial.look(tmp_path, known, tally)
    assert len(tally.lost) == 4
    (tmp_path / "car.toml").write_text("mass = 2\n")
    (tmp_path / ".car.toml.1.part").touch()
    tally.lost.clear()
    trial.look(tmp_path, trial.Acknowledged(), tally)
    assert any("edited outside" in words for words in tally.lost)
