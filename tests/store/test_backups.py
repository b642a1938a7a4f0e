"""A backup holds the same content as the database, is proved so, and the years thin the backups."""

import re
import sqlite3
import threading
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stores import draft, new_store, save
from tintop.errors import BadInput
from tintop.store import backups, moments
from tintop.store.backups import content_digest, digest_of_file, kept_of, verify
from tintop.store.garage_store import Store

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
DAY = timedelta(days=1)


def dump(file: Path) -> list[str]:
    """The content as SQL, by the standard library: nothing of ours."""
    with closing(sqlite3.connect(file)) as connection:
        return list(connection.iterdump())


def test_a_backup_holds_what_the_database_holds(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        store.append([draft(f"{number}") for number in range(200)])
        save(store, "car.toml", "mass = 1\n" * 5_000)
        path = store.back_up()
        assert store.backups()[0].path == path
        assert store.backups()[0].size == path.stat().st_size
    assert dump(path) == dump(tmp_path / "garage.sqlite")
    assert digest_of_file(path) == digest_of_file(tmp_path / "garage.sqlite")
    assert not list((tmp_path / "backup").glob(".*"))
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_the_digest_sees_every_change(tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "a.sqlite")) as connection:
        seen = set()
        for change in (
            "CREATE TABLE a (x, y)",
            "INSERT INTO a VALUES (1, '2')",
            "INSERT INTO a VALUES (1, 2)",
            "UPDATE a SET y = NULL WHERE rowid = 2",
            "UPDATE a SET x = 1.0 WHERE rowid = 2",
            "DELETE FROM a WHERE rowid = 1",
            "CREATE INDEX b ON a (x)",
            "ALTER TABLE a ADD COLUMN z",
        ):
            connection.execute(change)
            seen.add(content_digest(connection))
        assert len(seen) == 8
        assert content_digest(connection) == content_digest(connection)


def test_a_copy_that_differs_is_no_backup(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with new_store(tmp_path) as store:
        before = store.backups()
        monkeypatch.setattr(backups, "content_digest", _changing())
        with pytest.raises(BadInput, match="differs from the database"):
            store.back_up()
        assert store.backups() == before
        assert not list((tmp_path / "backup").glob(".*"))


def _changing() -> Any:
    digests = iter(["one", "another"])
    return lambda _connection: next(digests)


def test_a_damaged_copy_is_told(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        store.append([draft(f"{number}") for number in range(200)])
        path = store.back_up()
    verify(path, digest_of_file(path))
    with pytest.raises(BadInput, match="differs"):
        verify(path, "0" * 64)
    path.write_bytes(path.read_bytes()[:-5000])
    with pytest.raises(BadInput, match="damage"):
        verify(path)


def test_backups_go_on_while_others_write_and_each_is_one_state_of_the_whole(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        is_done = threading.Event()

        def write() -> None:
            number = 0
            while not is_done.is_set():
                store.append([draft(f"{number} a"), draft(f"{number} b")])
                number += 1

        writer = threading.Thread(target=write)
        writer.start()
        try:
            paths = [store.back_up() for _ in range(4)]
        finally:
            is_done.set()
            writer.join()
    for path in paths:
        with closing(sqlite3.connect(path)) as connection:
            assert connection.execute("SELECT count(*) % 2 FROM entry").fetchone() == (0,)


def test_a_backup_is_made_on_opening_once_a_day(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with new_store(tmp_path) as store:
        assert len(store.backups()) == 1
        assert store.back_up_if_due() is None
    with Store.open(tmp_path) as store:
        assert len(store.backups()) == 1
    later = moments.now() + timedelta(hours=25)
    monkeypatch.setattr(moments, "now", lambda: later)
    with Store.open(tmp_path) as store:
        assert len(store.backups()) == 2 and store.notices == ()
        assert store.backups()[0].made_at == moments.written(later)


def test_a_backup_that_fails_is_told_and_the_garage_opens_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    new_store(tmp_path).close()
    later = moments.now() + timedelta(days=8)
    monkeypatch.setattr(moments, "now", lambda: later)

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backups, "sync_file", full)
    with Store.open(tmp_path) as store:
        assert any(re.search(r"No backup .* no room left", words) for words in store.notices)
        assert any("more than a week old" in words for words in store.notices)
        assert len(store.backups()) == 1


def test_two_backups_in_one_second_are_two(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        store.append([draft("one")])
        paths = [store.back_up() for _ in range(12)]
        assert len(set(paths)) == 12
        assert store.backups()[0].path == paths[-1]


def test_what_stays_of_daily_backups_of_five_years() -> None:
    made = [NOW - number * DAY for number in range(5 * 365)]
    kept = kept_of(made, NOW)
    ages = sorted((NOW - one).days for one in kept)
    assert ages[:8] == list(range(8))
    weekly = [age for age in ages if 7 < age <= 56]
    monthly = [age for age in ages if 56 < age <= 730]
    yearly = [age for age in ages if age > 730]
    assert 6 <= len(weekly) <= 8 and 22 <= len(monthly) <= 24 and 3 <= len(yearly) <= 4
    assert max(b - a for a, b in zip([7, *weekly], weekly, strict=False)) <= 8
    assert max(b - a for a, b in zip([56, *monthly], monthly, strict=False)) <= 35


@settings(max_examples=200)
@given(hours=st.lists(st.integers(-100, 60_000), min_size=1, max_size=60))
def test_thinning_keeps_the_newest_and_the_young_and_done_twice_changes_nothing(hours: list[int]) -> None:
    made = [NOW - timedelta(hours=one) for one in hours]
    kept = kept_of(made, NOW)
    assert kept <= set(made) and max(made) in kept
    assert {one for one in made if NOW - one <= 7 * DAY} <= kept
    assert kept_of(kept, NOW) == kept
    for one in made:
        age = NOW - one
        span = 7 * DAY if age <= 56 * DAY else 31 * DAY if age <= 730 * DAY else 366 * DAY
        assert any(timedelta(0) <= stays - one <= span for stays in kept)


def test_thinning_removes_files_of_ours_only(tmp_path: Path) -> None:
    with new_store(tmp_path) as store:
        place = tmp_path / "backup"
        for stamp in ("20200105T000000Z", "20200106T000000Z", "20200106T000000Z-2"):
            (place / f"garage-{stamp}.sqlite").write_bytes(b"")
        for name in ("garage-mine.sqlite", "note.txt"):
            (place / name).write_bytes(b"")
        newest = store.back_up()
    names = {path.name for path in place.iterdir()}
    assert {"garage-mine.sqlite", "note.txt", newest.name} <= names
    assert "garage-20200105T000000Z.sqlite" not in names and "garage-20200106T000000Z.sqlite" in names
