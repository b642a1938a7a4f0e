"""Backups of the database: whole, verified, and thinned by age."""

import re
import sqlite3
from collections.abc import Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path

from tintop.errors import refuse
from tintop.store import moments
from tintop.store.database import Database, database_in_plain_words
from tintop.store.durable import (
    clear_unfinished,
    disk_in_plain_words,
    make_folder,
    put_in_place,
    sync_file,
    sync_folder,
    unfinished_beside,
)

BACKUP_NAME = "backup"
DUE_AFTER = timedelta(hours=24)
OLD_AFTER = timedelta(days=7)
_ABANDONED = 3600.0  # [s]; before that another tintop may still be at work on it
_STAMP = "%Y%m%dT%H%M%SZ"
_NAME = re.compile(r"garage-(\d{8}T\d{6}Z)(?:-(\d+))?\.sqlite")
_DAILY, _WEEKLY, _MONTHLY = timedelta(days=7), timedelta(weeks=8), timedelta(days=730)


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """One backup: where it is, when it was made (UTC, ISO 8601), and its size in bytes."""

    path: Path
    made_at: str
    size: int


def list_backups(folder: Path) -> tuple[Backup, ...]:
    """The backups of a garage, newest first."""
    found: list[tuple[datetime, int, Backup]] = []
    for path in (folder / BACKUP_NAME).glob("garage-*.sqlite"):
        match = _NAME.fullmatch(path.name)
        if match and path.is_file():
            made = datetime.strptime(match[1], _STAMP).replace(tzinfo=UTC)
            backup = Backup(path=path, made_at=moments.written(made), size=path.stat().st_size)
            found.append((made, int(match[2] or 1), backup))
    return tuple(backup for *_, backup in sorted(found, key=lambda one: one[:2], reverse=True))


def make_backup(folder: Path, database: Database) -> Backup:
    """Copy the database as it stands into the backup folder and prove the copy equal.

    Raises BadInput if the copy cannot be written or is not equal; then no backup of that name is left.
    """
    place = folder / BACKUP_NAME
    with disk_in_plain_words(place):
        make_folder(place)
        clear_unfinished(place, untouched_for=_ABANDONED)
        path = _free_name(place)
        unfinished = unfinished_beside(path)
        try:
            with database.turn(), database.reading() as connection:
                source = connection.connection.driver_connection
                assert isinstance(source, sqlite3.Connection)
                expected = content_digest(source)
                unfinished.touch(mode=0o600)
                with database_in_plain_words(path), closing(sqlite3.connect(unfinished)) as copy:
                    source.backup(copy)
            verify(unfinished, expected)
            sync_file(unfinished)
            put_in_place(unfinished, path)
        except BaseException:
            unfinished.unlink(missing_ok=True)
            raise
    return Backup(path=path, made_at=moments.written(_made(path)), size=path.stat().st_size)


def verify(file: Path, expected: str | None = None) -> None:
    """Raise BadInput unless a copy is whole and, if a digest is given, has that content."""
    try:
        with closing(_opened_to_read(file)) as connection:
            found = str(connection.execute("PRAGMA integrity_check(1)").fetchone()[0])
            is_same = expected is None or content_digest(connection) == expected
    except sqlite3.Error as error:
        found, is_same = str(error), True
    if found != "ok" or not is_same:
        raise refuse(
            str(file),
            f"damage ({found})" if found != "ok" else "content that differs from the database",
            "a whole copy",
            "It is no use as a backup. If a new one fails too, the database itself is damaged: go back to "
            "the last good one with tintop restore.",
        )


def content_digest(connection: sqlite3.Connection, *, without: Sequence[str] = ()) -> str:
    """The sha-256 over every row of every table, in order, and over how the tables are made."""
    digest = sha256()
    tables = connection.execute(
        "SELECT name, type, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_%' ORDER BY type, name"
    ).fetchall()
    for name, kind, sql in tables:
        if name in without:
            continue
        digest.update(repr((name, kind, sql)).encode())
        if kind == "table":
            for row in connection.execute(f'SELECT * FROM "{name}" ORDER BY rowid'):
                digest.update(repr(row).encode("utf-8", "surrogatepass"))
    return digest.hexdigest()


def digest_of_file(file: Path, *, without: Sequence[str] = ()) -> str:
    """The content digest of a database file that nobody writes."""
    with database_in_plain_words(file), closing(_opened_to_read(file)) as connection:
        return content_digest(connection, without=without)


def is_due(folder: Path, *, after: timedelta = DUE_AFTER) -> bool:
    """Whether the newest backup is older than `after`, or there is none."""
    found = list_backups(folder)
    return not found or moments.now() - moments.read(found[0].made_at) > after


def thin(folder: Path) -> tuple[Path, ...]:
    """Remove backups that the years have made too many, and give what was removed."""
    found = list_backups(folder)
    kept = kept_of((moments.read(one.made_at) for one in found), moments.now())
    removed = tuple(one.path for one in found[1:] if moments.read(one.made_at) not in kept)
    for path in removed:
        path.unlink(missing_ok=True)
    if removed:
        sync_folder(folder / BACKUP_NAME)
    return removed


def kept_of(made: Iterable[datetime], now: datetime) -> frozenset[datetime]:
    """Which backups stay: all of 7 days, then the last of each week for 8 weeks, of each month for two
    years, of each year after; the newest always.
    """
    kept: set[datetime] = set()
    spans: set[tuple[object, ...]] = set()
    for moment in sorted(made, reverse=True):
        age = now - moment
        if age <= _DAILY or not kept:
            kept.add(moment)
            continue
        week = moment.isocalendar()
        span: tuple[object, ...] = (
            ("week", week.year, week.week)
            if age <= _WEEKLY
            else ("month", moment.year, moment.month)
            if age <= _MONTHLY
            else ("year", moment.year)
        )
        if span not in spans:
            spans.add(span)
            kept.add(moment)
    return frozenset(kept)


def _opened_to_read(file: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)


def _free_name(place: Path) -> Path:
    stem = f"garage-{moments.now().strftime(_STAMP)}"
    path = place / f"{stem}.sqlite"
    count = 1
    while path.exists():
        count += 1
        path = place / f"{stem}-{count}.sqlite"
    return path


def _made(path: Path) -> datetime:
    match = _NAME.fullmatch(path.name)
    assert match
    return datetime.strptime(match[1], _STAMP).replace(tzinfo=UTC)
