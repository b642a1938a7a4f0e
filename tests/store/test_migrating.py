"""A garage written by the first migration opens in the last; one from a newer tintop is refused."""

import sqlite3
from contextlib import closing
from hashlib import sha256
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from stores import LANTERN, draft, new_store
from tintop.errors import BadInput
from tintop.logbook.entries import Remark
from tintop.store.backups import digest_of_file
from tintop.store.database import Database
from tintop.store.garage_store import Store
from tintop.store.migrating import migrate
from tintop.store.migrations import LATEST, VERSIONS
from tintop.store.settings_document import settings_text
from tintop.store.tables import metadata


def first_garage(folder: Path) -> None:
    """A garage as the first migration left it, its rows written without today's code."""
    folder.mkdir(exist_ok=True)
    file = folder / "garage.sqlite"
    file.touch()
    database = Database(file, writing=True)
    migrate(database, "0001")
    database.close()
    text = settings_text(LANTERN)
    (folder / "garage.toml").write_text(text, encoding="utf-8")
    digest = sha256(text.encode()).hexdigest()
    with closing(sqlite3.connect(file)) as connection, connection:
        connection.execute(
            "INSERT INTO entry VALUES (1, 'first', '2026-05-02', '14:05', '2026-05-02T14:06:00Z', 'Ann', '', "
            '\'a note\', NULL, \'remark\', \'{"kind":"remark","text":"cold and wet","about":""}\')'
        )
        connection.execute(
            "INSERT INTO revision VALUES "
            "(1, 'garage.toml', 1, ?, ?, '2026-05-02T14:06:00Z', 'Ann', '', 'saved here')",
            (digest, text),
        )
        connection.execute("INSERT INTO secret VALUES ('signing', 'the old secret')")


def tables(file: Path) -> set[str]:
    with closing(sqlite3.connect(file)) as connection:
        return {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}


def test_a_garage_written_by_the_first_migration_opens_in_the_last(tmp_path: Path) -> None:
    first_garage(tmp_path)
    assert "device" not in tables(tmp_path / "garage.sqlite")
    before = digest_of_file(tmp_path / "garage.sqlite")
    with pytest.raises(BadInput, match="older version"):
        Store.open(tmp_path, writing=False)
    with Store.open(tmp_path) as store:
        (entry,) = store.entries()
        assert entry.matter == Remark(text="cold and wet") and entry.clock == "14:05"
        assert store.settings == LANTERN
        assert store.secret() == "the old secret"
        assert store.add_device("phone", "crew") in store.devices()
        assert store.append([draft("second")])[0].number == 2
        (backup,) = store.backups()
        assert any(backup.path.name in words for words in store.notices)
    assert digest_of_file(backup.path) == before
    with Store.restore(tmp_path, backup.path) as store:  # and an old backup comes up to date on its way back
        assert [one.key for one in store.entries()] == ["first"]
        assert store.devices() == ()
    with Store.open(tmp_path) as store:
        assert store.notices == ()


def test_a_migration_that_fails_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first_garage(tmp_path)
    before = digest_of_file(tmp_path / "garage.sqlite")
    with monkeypatch.context() as patch, pytest.raises(RuntimeError):

        def fail(*_: object, **__: object) -> None:
            raise RuntimeError

        patch.setattr("alembic.op.create_index", fail)
        Store.open(tmp_path)
    assert digest_of_file(tmp_path / "garage.sqlite") == before
    Store.open(tmp_path).close()


def test_a_garage_of_a_newer_version_is_refused_and_left_alone(tmp_path: Path) -> None:
    new_store(tmp_path).close()
    with closing(sqlite3.connect(tmp_path / "garage.sqlite")) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '0999'")
    before = (tmp_path / "garage.sqlite").read_bytes()
    for writing in (True, False):
        with pytest.raises(BadInput, match=r"newer version \(0999\).*install that one") as refused:
            Store.open(tmp_path, writing=writing)
        assert "\n" not in str(refused.value)
    assert (tmp_path / "garage.sqlite").read_bytes() == before


def test_the_migrations_are_one_line_and_end_where_the_code_says() -> None:
    config = Config()
    config.set_main_option("script_location", "tintop.store:migrations")
    steps = [step.revision for step in ScriptDirectory.from_config(config).walk_revisions()]
    assert tuple(reversed(steps)) == VERSIONS and steps[0] == LATEST


def test_the_migrations_make_the_tables_the_code_speaks_of(tmp_path: Path) -> None:
    with new_store(tmp_path) as store, store._database.reading() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []
