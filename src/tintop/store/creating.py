"""Making a garage: its database first, wholly, and then its name."""

from pathlib import Path

from tintop.errors import BadInput, Problem, refuse
from tintop.settings import Settings
from tintop.store import devices, revisions
from tintop.store.backups import list_backups
from tintop.store.database import DATABASE_NAME, Database
from tintop.store.document_names import SETTINGS_NAME, document_path, documents_on_disk
from tintop.store.durable import (
    disk_in_plain_words,
    make_folder,
    put_in_place,
    sync_file,
    unfinished_beside,
    write_whole,
)
from tintop.store.kept_documents import read_document
from tintop.store.lock import WriterLock
from tintop.store.migrating import migrate
from tintop.store.moments import now, written
from tintop.store.settings_document import settings_text


def create_garage(folder: Path, settings: Settings) -> WriterLock:
    """Make a garage in a folder, made if missing; documents lying there become first revisions.

    Gives the lock, held. Raises BadInput, with nothing made but perhaps the folder, if a garage or its
    backups are there.
    """
    text = settings_text(settings)
    file = folder / DATABASE_NAME
    with disk_in_plain_words(folder):
        if folder.exists() and not folder.is_dir():
            raise refuse(str(folder), "a file", "a folder, or nothing of that name")
        make_folder(folder.absolute())
    lock = WriterLock(folder)
    try:
        _make(folder, file, text)
    except BaseException:
        lock.release()
        raise
    return lock


def _make(folder: Path, file: Path, text: str) -> None:
    if file.exists() or list_backups(folder):
        cure = "Open it, name another folder" + (
            "." if file.exists() else f', or bring it back with: tintop restore "{folder}".'
        )
        raise refuse(str(folder), "a garage", "a folder without one", cure)
    with disk_in_plain_words(folder):
        unfinished = unfinished_beside(file)
        try:
            unfinished.touch(mode=0o600)
            _fill(folder, unfinished, text)
            sync_file(unfinished)
            put_in_place(unfinished, file)
        except BaseException:
            unfinished.unlink(missing_ok=True)
            raise
        write_whole(folder / SETTINGS_NAME, text.encode("utf-8"))


def _fill(folder: Path, unfinished: Path, settings: str) -> None:
    texts: dict[str, str] = {}
    problems: list[Problem] = []
    for name in documents_on_disk(folder)[0]:
        try:
            texts[name] = read_document(document_path(folder, name))
        except BadInput as error:
            problems += error.problems
    if problems:
        raise BadInput(*problems)
    database = Database(unfinished, writing=True)
    try:
        migrate(database)
        with database.writing() as connection:
            devices.renew_secret(connection)
            moment = written(now())
            for name, text in texts.items():
                revisions.add(
                    connection,
                    name,
                    text,
                    saved_at=moment,
                    who="",
                    why="the file was found in the folder",
                    is_outside=True,
                )
            if texts.get(SETTINGS_NAME) != settings:
                over = texts.get(SETTINGS_NAME)
                made = revisions.add(
                    connection,
                    SETTINGS_NAME,
                    settings,
                    saved_at=moment,
                    who="",
                    why="the garage was made",
                    is_outside=False,
                )
                before = revisions.digest_of(over) if over is not None else None
                revisions.mark_unwritten(connection, SETTINGS_NAME, made.digest, before)
    finally:
        database.close()
