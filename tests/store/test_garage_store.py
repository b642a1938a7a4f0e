"""The owner's path through a garage: make it, write, close, open again, find everything."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest

from deaths import place_in_memory
from stores import LANTERN, draft, new_store, save
from tintop.errors import BadInput
from tintop.logbook.entries import Measure, Reading
from tintop.settings import Settings
from tintop.store.garage_store import Store


def test_what_is_written_is_there_when_the_garage_is_opened_again(tmp_path: Path) -> None:
    folder = tmp_path / "garage"
    hot = Reading(measure=Measure.PRESSURE_HOT, value=206_842.7, written="30 psi", corner="FL")
    with Store.create(folder, LANTERN) as store:
        written = store.append([draft("one"), replace(draft("two"), matter=hot, clock="14:05")])
        saved = store.save_document("car.toml", "mass = 1000\n", based_on=None, who="Ann", why="weighed")
    with Store.open(folder) as store:
        assert store.entries() == written
        assert [entry.number for entry in written] == [1, 2]
        assert store.entries()[1].matter == hot
        assert store.settings == LANTERN
        assert store.document("car.toml") == saved
        assert store.document_names() == ("car.toml", "garage.toml")
        assert store.notices == ()
    assert (folder / "car.toml").read_text() == "mass = 1000\n"


def test_documents_that_lie_in_the_folder_become_first_revisions(tmp_path: Path) -> None:
    (tmp_path / "circuits").mkdir()
    (tmp_path / "car.toml").write_text("mass = 1000\n")
    (tmp_path / "circuits" / "larkmoor.csv").write_text("x,y\r\n1,2\r\n", newline="")
    with Store.create(tmp_path, LANTERN) as store:
        assert store.document_names() == ("car.toml", "circuits/larkmoor.csv", "garage.toml")
        assert store.document("circuits/larkmoor.csv").text == "x,y\r\n1,2\r\n"
        assert store.document("car.toml").number == 1
        assert store.take_in_outside_edits() == ()
        assert store.notices == ()


def test_a_garage_is_not_made_over_another(tmp_path: Path) -> None:
    Store.create(tmp_path, LANTERN).close()
    with pytest.raises(BadInput, match="found a garage"):
        Store.create(tmp_path, Settings(title="Another"))
    (tmp_path / "garage.sqlite").unlink()
    with pytest.raises(BadInput, match="tintop restore"):
        Store.create(tmp_path, Settings(title="Another"))


def test_reading_goes_on_beside_the_one_writer(tmp_path: Path) -> None:
    with Store.create(tmp_path, LANTERN) as writer, Store.open(tmp_path, writing=False) as reader:
        writer.append([draft("one")])
        assert len(reader.entries()) == 1
        with pytest.raises(BadInput, match="opened for reading"):
            reader.append([draft("two")])
        with pytest.raises(BadInput, match="open for writing"):
            Store.open(tmp_path)
    Store.open(tmp_path).close()


def test_threads_share_a_store_and_lose_nothing() -> None:
    failed: list[BaseException] = []

    def work(store: Store, name: str) -> None:
        try:
            for number in range(8):
                store.append([draft(f"{name} {number} a"), draft(f"{name} {number} b")])
                save(store, f"{name}.toml", f"number = {number}\n")
                store.keep_original(name, "text/plain", f"{name} {number}".encode())
                store.entries()
                store.take_in_outside_edits()
        except BaseException as error:
            failed.append(error)

    with place_in_memory() as place, new_store(place) as store:
        threads = [threading.Thread(target=work, args=(store, f"thread-{number}")) for number in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert failed == []
        entries = store.entries()
        assert [entry.number for entry in entries] == list(range(1, 65))
        pairs = [(one.key[:-2], two.key[:-2]) for one, two in zip(entries[::2], entries[1::2], strict=True)]
        assert all(one == two for one, two in pairs), "a batch was torn apart"
        assert all(len(store.revisions(f"thread-{number}.toml")) == 8 for number in range(4))
        assert store.notices == ()
