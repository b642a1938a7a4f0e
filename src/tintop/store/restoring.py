"""Going back to a backup: verified first, what stands now set aside and never deleted."""

import shutil
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from tintop.errors import BadInput, refuse
from tintop.store import devices, moments, revisions
from tintop.store.backups import list_backups, verify
from tintop.store.database import DATABASE_NAME, Database
from tintop.store.document_names import ASIDE, document_path, documents_on_disk
from tintop.store.durable import (
    disk_in_plain_words,
    make_folder,
    put_in_place,
    sync_file,
    sync_folder,
    unfinished_beside,
    write_whole,
)
from tintop.store.lock import WriterLock
from tintop.store.migrating import migrate, version_of
from tintop.store.migrations import LATEST


def restore_garage(folder: Path, backup: Path | None, lock: WriterLock) -> tuple[str, ...]:
    """Put a backup in the place of the database and its documents in the place of those in the folder.

    Everything is set aside before anything is replaced. `lock` is held by the caller. Gives plain words on
    what was done; raises BadInput, with nothing replaced, if no backup is whole.
    """
    assert lock.is_held
    file = folder / DATABASE_NAME
    with disk_in_plain_words(folder):
        chosen, said = _whole_backup(folder, backup)
        unfinished = unfinished_beside(file)
        try:
            shutil.copyfile(chosen, unfinished)
            unfinished.chmod(0o600)
            texts = _prepare(folder, unfinished)
            sync_file(unfinished)
            paths = {name: document_path(folder, name) for name in texts}
            aside = _set_documents_aside(folder)
            _set_database_aside(file, aside)
            put_in_place(unfinished, file)
        except BaseException:
            unfinished.unlink(missing_ok=True)
            raise
        for name, path in paths.items():
            write_whole(path, texts[name].encode("utf-8"))
        for name in set(documents_on_disk(folder)[0]) - set(texts):
            (folder / name).unlink()
    return (
        *said,
        f"The garage is as it was in {chosen.name}. What stood before is set aside in {aside.name}.",
        "Phones and other devices must be paired anew.",
    )


def _whole_backup(folder: Path, backup: Path | None) -> tuple[Path, list[str]]:
    if backup is not None:
        if not backup.is_file():
            raise refuse(str(backup), "no such file", "a backup; see them with: tintop restore --list")
        verify(backup)
        return backup, []
    said: list[str] = []
    for one in list_backups(folder):
        try:
            verify(one.path)
        except BadInput:
            said.append(f"{one.path.name} is damaged; the one before it was taken.")
            continue
        return one.path, said
    found = "damaged backups only" if said else "no backup"
    raise refuse(
        str(folder), found, "a whole backup in its folder backup", "Name one that lies elsewhere with --from."
    )


def _prepare(folder: Path, unfinished: Path) -> dict[str, str]:
    """Bring the copy to the present version, shut the devices out, and note the files it is to write."""
    database = Database(unfinished, writing=True)
    try:
        with database.reading() as connection:
            is_older = version_of(connection, database) != LATEST
        if is_older:
            migrate(database)
        with database.writing() as connection:
            devices.revoke(connection)
            devices.renew_secret(connection)
            texts: dict[str, str] = {}
            for name, digest in revisions.latest_digests(connection).items():
                texts[name] = revisions.with_digest(connection, digest).text
                path = document_path(folder, name)
                over = revisions.digest_of(path.read_bytes()) if path.exists() else None
                revisions.mark_unwritten(connection, name, digest, over)
        return texts
    finally:
        database.close()


def _set_documents_aside(folder: Path) -> Path:
    stem = f"{ASIDE}{moments.now().strftime('%Y%m%dt%H%M%Sz')}"
    aside, count = folder / stem, 1
    while aside.exists():
        count += 1
        aside = folder / f"{stem}-{count}"
    make_folder(aside)
    for name in documents_on_disk(folder)[0]:
        copy = aside / name
        make_folder(copy.parent)
        shutil.copy2(folder / name, copy)
        sync_file(copy)
        sync_folder(copy.parent)
    return aside


def _set_database_aside(file: Path, aside: Path) -> None:
    journal = file.with_name(f"{file.name}-journal")
    with (
        suppress(sqlite3.Error),
        closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=rw", uri=True)) as present,
    ):
        present.execute("SELECT count(*) FROM sqlite_master").fetchone()  # finishes what a crash cut off
    if file.exists():
        try:
            (aside / file.name).hardlink_to(file)  # so that at no moment there is no database
        except OSError:
            file.replace(aside / file.name)
    if journal.exists():
        journal.replace(aside / journal.name)
    sync_folder(aside)
    sync_folder(file.parent)
