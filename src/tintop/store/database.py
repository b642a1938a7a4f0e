"""garage.sqlite: connections that sync fully, one writer, and plain words for what SQLite refuses.

Rollback journal, so that the closed garage is one file: a write-ahead log's three files do not survive a
synchronised folder. `synchronous` is EXTRA, which is FULL and also syncs the folder after the journal is
removed (SQLite documentation, PRAGMA synchronous).
"""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import QueuePool

from tintop.errors import refuse
from tintop.store.durable import no_room, not_writable

DATABASE_NAME = "garage.sqlite"
_PATIENCE = 15_000  # [ms] that one program waits for another to finish its transaction


class Database:
    """One SQLite file; threads read at the same time and write one after another."""

    def __init__(self, file: Path, *, writing: bool) -> None:
        self.file = file
        self.is_writing = writing
        self._turn = threading.RLock()
        self._engine = _engine(file, writing=writing)
        self._identity = _identity(file)

    @property
    def engine(self) -> Engine:
        """The engine underneath."""
        return self._engine

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection in a transaction that sees one state of the database.

        Raises BadInput for whatever SQLite cannot do.
        """
        self._check_still_there()
        with database_in_plain_words(self.file), self._engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection in a transaction that is written wholly or not at all.

        Raises BadInput if the garage was opened for reading only, or for whatever SQLite cannot do.
        """
        if not self.is_writing:
            raise refuse(str(self.file.parent), "that it was opened for reading", "opened for writing")
        self._check_still_there()
        with (
            self._turn,
            database_in_plain_words(self.file),
            self._engine.connect().execution_options(is_writing=True) as connection,
            connection.begin(),
        ):
            yield connection

    @contextmanager
    def turn(self) -> Iterator[None]:
        """Keep other threads from writing while several transactions and files change together."""
        with self._turn:
            yield

    def _check_still_there(self) -> None:
        if _identity(self.file) != self._identity:
            raise replaced(self.file)

    def close(self) -> None:
        """Close every connection."""
        self._engine.dispose()


def _engine(file: Path, *, writing: bool) -> Engine:
    address = f"{file.absolute().as_uri()}?mode=rw"

    def connect() -> sqlite3.Connection:
        connection = sqlite3.connect(
            address, uri=True, timeout=_PATIENCE / 1000, check_same_thread=False, isolation_level=None
        )
        for pragma in ("synchronous=EXTRA", "foreign_keys=ON", "fullfsync=ON", "journal_mode=DELETE"):
            if writing or not pragma.startswith("journal_mode"):
                connection.execute(f"PRAGMA {pragma}").close()
        if not writing:
            connection.execute("PRAGMA query_only=ON").close()
        return connection

    engine = create_engine("sqlite://", creator=connect, pool_size=5, max_overflow=40, poolclass=QueuePool)
    event.listen(engine, "begin", _begin)
    return engine


def _identity(file: Path) -> tuple[int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def replaced(file: Path) -> Exception:
    """Say that the file is no longer the one that was opened."""
    return refuse(
        str(file),
        "that it was replaced, moved or deleted from outside while it was open",
        "the file that was opened",
        "Nothing was written. A synchronised folder does this when the garage is used in two places: close "
        "tintop, look for a second copy beside it, and open the garage again.",
    )


def _begin(connection: Connection) -> None:
    is_writing = connection.get_execution_options().get("is_writing", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if is_writing else "BEGIN")


@contextmanager
def database_in_plain_words(file: Path) -> Iterator[None]:
    """Turn what SQLite refuses into BadInput."""
    try:
        yield
    except DBAPIError as error:
        raise _plain(file, error.orig) from error
    except sqlite3.Error as error:
        raise _plain(file, error) from error


def damaged(file: Path, found: str) -> Exception:
    """Say that the database is damaged, and the way back."""
    return refuse(
        str(file),
        found,
        "a whole database",
        f'Go back to the last good backup with: tintop restore "{file.parent}". '
        "The file as it is now is set aside, not deleted.",
    )


def _plain(file: Path, error: BaseException | None) -> Exception:
    code = getattr(error, "sqlite_errorcode", 0)
    name = getattr(error, "sqlite_errorname", "")
    kind = code & 0xFF
    if kind == sqlite3.SQLITE_FULL or name in ("SQLITE_IOERR_WRITE", "SQLITE_IOERR_TRUNCATE"):
        return no_room(file)
    if name == "SQLITE_READONLY_DBMOVED":
        return replaced(file)
    if kind in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM):
        return not_writable(file)
    if kind in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return damaged(file, f"damage ({error})")
    if kind in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return refuse(
            str(file),
            "another program holding the database",
            "that it is free within 15 seconds",
            "Nothing was written: close the other program, then do it again.",
        )
    if kind == sqlite3.SQLITE_CANTOPEN:
        return refuse(str(file), "that it cannot be opened", "a database that may be read and written")
    if kind == sqlite3.SQLITE_IOERR:
        return refuse(
            str(file), f"that the disk fails ({name})", "a working disk", "Copy the garage to another disk."
        )
    return refuse(str(file), f"that the database refuses ({error})", "a change it accepts")
