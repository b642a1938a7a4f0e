"""After going back everything is as it was in the backup, and what stood before is still somewhere."""

import itertools
import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from deaths import dies_at, place_in_memory
from stores import CHANGED_BY_A_RESTORE, draft, new_store, save
from tintop.errors import BadInput
from tintop.store.backups import digest_of_file
from tintop.store.garage_store import Store


@pytest.fixture
def memory() -> Iterator[Path]:
    with place_in_memory() as place:
        yield place


def content(file: Path) -> str:
    return digest_of_file(file, without=CHANGED_BY_A_RESTORE)


def lived_in(folder: Path) -> Path:
    """A garage with a backup and changes made since; give the backup."""
    with new_store(folder) as store:
        store.append([draft("before")])
        save(store, "car.toml", "mass = 1\n")
        save(store, "events/midsummer.toml", "laps = 1\n")
        backup = store.back_up()
        store.append([draft("after")])
        save(store, "car.toml", "mass = 2\n")
        save(store, "events/autumn.toml", "laps = 2\n")
    return backup


def asides(folder: Path) -> list[Path]:
    return sorted(folder.glob("before-restore-*"))


def test_going_back_brings_the_content_of_the_backup_and_sets_the_present_aside(tmp_path: Path) -> None:
    backup = lived_in(tmp_path)
    with Store.open(tmp_path) as store:
        phone, secret = store.add_device("phone", "crew"), store.secret()
    present = content(tmp_path / "garage.sqlite")
    assert present != content(backup)
    with Store.restore(tmp_path) as store:
        assert [entry.key for entry in store.entries()] == ["before"]
        assert store.document_names() == ("car.toml", "events/midsummer.toml", "garage.toml")
        assert store.document("car.toml").text == "mass = 1\n"
        assert store.secret() != secret
        assert store.devices() == ()
        assert any(backup.name in words for words in store.notices)
        assert store.take_in_outside_edits() == ()
    assert content(tmp_path / "garage.sqlite") == content(backup)
    assert (tmp_path / "car.toml").read_text() == "mass = 1\n"
    assert not (tmp_path / "events" / "autumn.toml").exists()
    (aside,) = asides(tmp_path)
    assert content(aside / "garage.sqlite") == present
    assert (aside / "car.toml").read_text() == "mass = 2\n"
    assert (aside / "events" / "autumn.toml").read_text() == "laps = 2\n"
    with Store.restore(tmp_path, aside / "garage.sqlite") as store:  # and forward again
        assert [entry.key for entry in store.entries()] == ["before", "after"]
        assert [one.identifier for one in store.devices() if one.revoked_at] == [phone.identifier]
        assert store.document("car.toml").text == "mass = 2\n"
    assert content(tmp_path / "garage.sqlite") == present


@pytest.mark.parametrize("harm", ["empty", "cut short", "garbled", "missing", "garbled in the middle"])
def test_a_damaged_database_is_told_with_the_way_back_and_the_way_back_works(
    tmp_path: Path, harm: str
) -> None:
    lived_in(tmp_path)
    file = tmp_path / "garage.sqlite"
    whole = file.read_bytes()
    harmed = {
        "empty": b"",
        "cut short": whole[: len(whole) // 2],
        "garbled": b"\xa5" * len(whole),
        "garbled in the middle": whole[:8192] + b"\xa5" * 4096 + whole[12288:],
    }
    if harm == "missing":
        file.unlink()
    else:
        file.write_bytes(harmed[harm])
    for writing in (True, False):
        with pytest.raises(BadInput) as refused:
            Store.open(tmp_path, writing=writing)
        assert f'tintop restore "{tmp_path}"' in str(refused.value)
        assert len(str(refused.value)) < 600
    with Store.restore(tmp_path) as store:
        assert [entry.key for entry in store.entries()] == ["before"]
    if harm != "missing":
        assert (asides(tmp_path)[0] / "garage.sqlite").read_bytes() == harmed[harm]


def test_the_newest_whole_backup_is_taken_and_the_damaged_one_named(tmp_path: Path) -> None:
    backup = lived_in(tmp_path)
    with Store.open(tmp_path) as store:
        newest = store.back_up()
    newest.write_bytes(newest.read_bytes()[:10_000])
    with pytest.raises(BadInput, match="damage"):
        Store.restore(tmp_path, newest)
    assert asides(tmp_path) == []
    with Store.restore(tmp_path) as store:
        assert [entry.key for entry in store.entries()] == ["before"]
        assert any(newest.name in words and "damaged" in words for words in store.notices)
        assert any(backup.name in words for words in store.notices)


def test_without_a_whole_backup_nothing_is_changed(tmp_path: Path) -> None:
    lived_in(tmp_path)
    shutil.rmtree(tmp_path / "backup")
    before = {path: path.read_bytes() for path in tmp_path.rglob("*.*") if path.is_file()}
    for backup, words in (
        (None, "no backup"),
        (tmp_path / "nowhere.sqlite", "no such file"),
        (tmp_path / "car.toml", "damage"),
    ):
        with pytest.raises(BadInput, match=words):
            Store.restore(tmp_path, backup)
    with closing(sqlite3.connect(tmp_path.parent / "other.sqlite")) as other:
        other.execute("CREATE TABLE a (b)")
    with pytest.raises(BadInput, match="without the tables of a garage"):
        Store.restore(tmp_path, tmp_path.parent / "other.sqlite")
    with pytest.raises(BadInput, match="no such folder"):
        Store.restore(tmp_path / "nowhere")
    assert {path: path.read_bytes() for path in tmp_path.rglob("*.*") if path.is_file()} == before


def test_a_garage_open_for_writing_is_not_restored(tmp_path: Path) -> None:
    lived_in(tmp_path)
    with Store.open(tmp_path), pytest.raises(BadInput, match="open for writing"):
        Store.restore(tmp_path)
    assert asides(tmp_path) == []


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this machine has no fork")
def test_a_restore_that_dies_at_any_touch_of_the_disk_loses_nothing(memory: Path) -> None:
    model = memory / "model"
    backup = content(lived_in(model))
    present = content(model / "garage.sqlite")
    for touch in itertools.count():
        folder = memory / f"garage-{touch}"
        shutil.copytree(model, folder)
        died = dies_at(touch, folder, lambda folder=folder: Store.restore(folder).close())
        with Store.open(folder) as store:
            names = [entry.key for entry in store.entries()]
            assert names in (["before"], ["before", "after"]), f"touch {touch}"
            texts = {name: store.document(name).text for name in store.document_names()}
            assert all((folder / name).read_text() == text for name, text in texts.items())
        found = [content(path) for path in (folder / "garage.sqlite", *folder.glob("*/garage.sqlite"))]
        assert present in found, f"touch {touch}"
        with Store.restore(folder) as store:
            assert [entry.key for entry in store.entries()] == ["before"]
            assert store.document("car.toml").text == "mass = 1\n"
        shutil.rmtree(folder)
        if not died:
            break
    assert touch > 20
    assert backup != present
