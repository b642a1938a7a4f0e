"""A file is the old one or the new one, and what the disk refuses is a sentence."""

import errno
from pathlib import Path
from typing import Any

import pytest

from tintop.errors import BadInput
from tintop.store import durable
from tintop.store.durable import clear_unfinished, disk_in_plain_words, make_folder, write_whole


def test_a_file_is_written_with_its_folders(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b" / "c.toml"
    write_whole(path, b"one")
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert [one.name for one in path.parent.iterdir()] == ["c.toml"]
    make_folder(path.parent)


@pytest.mark.parametrize("step", ["_sync", "put_in_place"])
def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    path = tmp_path / "c.toml"
    write_whole(path, b"one")

    def full(*_: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(durable, step, full)
    with pytest.raises(BadInput, match="no room left"), disk_in_plain_words(path):
        write_whole(path, b"two")
    assert path.read_bytes() == b"one"
    assert [one.name for one in tmp_path.iterdir()] == ["c.toml"]


def test_content_and_folder_are_synced_in_that_order_around_the_rename(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []
    sync, replace = durable._sync, Path.replace
    monkeypatch.setattr(durable, "_sync", lambda handle: (done.append("sync"), sync(handle)))
    monkeypatch.setattr(Path, "replace", lambda one, two: (done.append("rename"), replace(one, two)))
    write_whole(tmp_path / "c.toml", b"one")
    assert done == ["sync", "rename", "sync"]


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (errno.ENOSPC, "no room left"),
        (errno.EFBIG, "no room left"),
        (errno.EACCES, "writing is not allowed"),
        (errno.EROFS, "writing is not allowed"),
        (errno.EIO, "cannot be read or written"),
    ],
)
def test_what_the_disk_refuses_is_a_sentence(code: int, words: str) -> None:
    with pytest.raises(BadInput, match=words), disk_in_plain_words(Path("/garage")):
        raise OSError(code, "…")


def test_only_what_was_left_unfinished_is_cleared_away(tmp_path: Path) -> None:
    for name in (".car.toml.12ab.part", ".garage.sqlite.12ab.part-journal", ".hidden", "car.part"):
        (tmp_path / name).touch()
    clear_unfinished(tmp_path, untouched_for=3600.0)
    assert len(list(tmp_path.iterdir())) == 4
    clear_unfinished(tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == {".hidden", "car.part"}
