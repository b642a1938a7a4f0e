"""A garage is made wholly or not at all."""

import itertools
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from deaths import dies_at, place_in_memory
from stores import LANTERN, new_store, save
from tintop.errors import BadInput
from tintop.settings import Settings
from tintop.store.garage_store import Store

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this machine has no fork")


@pytest.fixture
def memory() -> Iterator[Path]:
    with place_in_memory() as place:
        yield place


def test_a_making_that_dies_at_any_touch_can_be_done_again(memory: Path) -> None:
    for touch in itertools.count():
        folder = memory / f"garage-{touch}"
        folder.mkdir()
        (folder / "car.toml").write_text("mass = 1\n")
        died = dies_at(touch, folder, lambda folder=folder: new_store(folder).close())
        try:
            store = Store.open(folder)
        except BadInput as refused:
            assert "no garage" in str(refused)
            store = new_store(folder)
        with store:
            assert store.settings == LANTERN
            assert [one.text for one in store.revisions("car.toml")] == ["mass = 1\n"]
        assert not list(folder.glob(".*.part*"))
        shutil.rmtree(folder)
        if not died:
            break
    assert touch > 10


def test_a_save_that_dies_at_any_touch_is_there_or_not_but_never_half(memory: Path) -> None:
    model = memory / "model"
    with new_store(model) as store:
        save(store, "car.toml", "mass = 1\n")

    def save_two(folder: Path) -> None:
        with Store.open(folder) as store:
            save(store, "car.toml", "mass = 2\n")

    found = set()
    for touch in itertools.count():
        folder = memory / f"garage-{touch}"
        shutil.copytree(model, folder)
        died = dies_at(touch, folder, lambda folder=folder: save_two(folder))
        with Store.open(folder) as store:
            found.add(store.document("car.toml").text)
            assert (folder / "car.toml").read_text() == store.document("car.toml").text
            assert len(store.revisions("car.toml")) <= 2
        shutil.rmtree(folder)
        if not died:
            break
    assert found == {"mass = 1\n", "mass = 2\n"}


def test_a_folder_that_cannot_be_one_is_refused_in_words(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(BadInput, match="found a file"):
        new_store(tmp_path / "file")
    (tmp_path / "garage").mkdir()
    (tmp_path / "garage" / "car.toml").write_bytes(b"\xff")
    with pytest.raises(BadInput, match="not text in UTF-8"):
        new_store(tmp_path / "garage")
    assert {path.name for path in (tmp_path / "garage").iterdir()} == {"car.toml", "garage.lock"}
    with pytest.raises(BadInput, match="title"):
        Store.create(tmp_path / "new", Settings(title=" "))
    assert not (tmp_path / "new").exists()


def test_a_garage_toml_that_lay_there_stays_as_the_first_revision(tmp_path: Path) -> None:
    (tmp_path / "garage.toml").write_text('title = "Old"\n')
    with new_store(tmp_path) as store:
        assert store.settings == LANTERN
        assert [one.number for one in store.revisions("garage.toml")] == [2, 1]
        assert store.revisions("garage.toml")[1].text == 'title = "Old"\n'
        assert store.notices == ()
