"""The garage as a folder: opened, read, written to, kept safe. The rest of the store is behind this."""

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

from tintop.errors import BadInput, refuse
from tintop.logbook.entries import Draft, Entry
from tintop.settings import Settings
from tintop.store import backups, devices, entry_rows, restoring, revisions
from tintop.store.backups import Backup
from tintop.store.creating import create_garage
from tintop.store.database import DATABASE_NAME, Database
from tintop.store.devices import Device, Role
from tintop.store.document_names import SETTINGS_NAME, check_document_name
from tintop.store.durable import clear_unfinished
from tintop.store.integrity import check_database, check_folder, second_copies
from tintop.store.kept_documents import KeptDocuments
from tintop.store.lock import WriterLock
from tintop.store.migrating import migrate, version_of
from tintop.store.migrations import LATEST
from tintop.store.moments import now, written
from tintop.store.originals import Original, Originals
from tintop.store.revisions import Revision
from tintop.store.settings_document import settings_from, settings_text

__all__ = ["Backup", "Device", "Original", "Revision", "Role", "Store"]


class Store:
    """One garage, opened; made by `create`, `open` or `restore`, and closed by `close` or `with`.

    Threads may share it. Every method raises BadInput, in a plain sentence, for what cannot be done.
    """

    def __init__(self, folder: Path, database: Database, lock: WriterLock | None) -> None:
        self.folder = folder
        self._database = database
        self._lock = lock
        self._documents = KeptDocuments(folder, database)
        self._originals = Originals(folder, database)
        self._found_on_opening: tuple[str, ...] = ()
        self._found_last: tuple[str, ...] = ()
        self._settings: tuple[str | None, Settings] | None = None

    @classmethod
    def create(cls, folder: Path | str, settings: Settings) -> "Store":
        """Make a garage in a folder and open it for writing; documents lying there become first revisions.

        Raises BadInput if a garage is there already, or the folder cannot be written.
        """
        folder = Path(folder)
        return cls._opened(folder, create_garage(folder, settings))

    @classmethod
    def open(cls, folder: Path | str, *, writing: bool = True) -> "Store":
        """Open a garage; for writing by one program at a time, for reading beside it.

        Raises BadInput if there is no garage, it is damaged, a newer tintop's, or open for writing already.
        """
        folder = Path(folder)
        check_folder(folder, writing=writing)
        return cls._opened(folder, WriterLock(folder) if writing else None)

    @classmethod
    def restore(cls, folder: Path | str, backup: Path | str | None = None) -> "Store":
        """Go back to a backup, the newest whole one unless named, and open the garage for writing.

        What stands now is set aside in `before-restore-…`, never deleted; every device must be paired anew.
        Raises BadInput, with nothing changed, if no backup is whole or the garage is open for writing.
        """
        folder = Path(folder)
        if not folder.is_dir():
            raise refuse(str(folder), "no such folder", "the folder of a garage")
        if backup is None and not backups.list_backups(folder):
            raise refuse(
                str(folder), "no backup", "a folder backup with some in it", "Name one elsewhere with --from."
            )
        lock = WriterLock(folder)
        try:
            said = restoring.restore_garage(folder, Path(backup) if backup is not None else None, lock)
        except BaseException:
            lock.release()
            raise
        store = cls._opened(folder, lock)
        store._found_on_opening = (*said, *store._found_on_opening)
        return store

    @classmethod
    def _opened(cls, folder: Path, lock: WriterLock | None) -> "Store":
        database = Database(folder / DATABASE_NAME, writing=lock is not None)
        try:
            check_database(database)
            store = cls(folder, database, lock)
            store._begin()
        except BaseException:
            database.close()
            if lock:
                lock.release()
            raise
        return store

    def _begin(self) -> None:
        said: list[str] = []
        with self._database.reading() as connection:
            is_older = version_of(connection, self._database) != LATEST
        if is_older and not self._lock:
            raise refuse(
                str(self.folder),
                "tables of an older version",
                "the present ones",
                "Open it for writing once.",
            )
        if self._lock:
            self._tidy()
            if is_older:
                made = backups.make_backup(self.folder, self._database)
                migrate(self._database)
                said.append(f"The tables were brought to the present version; before that: {made.path.name}.")
            if self._lock.left_open_on:
                said.append(
                    f"This garage was left open on {self._lock.left_open_on} since "
                    f"{self._lock.left_open_since}. If it is still open there, close it there and let the "
                    "folder synchronise before you write here: two writers make two copies."
                )
        said += second_copies(self.folder)
        self.take_in_outside_edits()
        said += self._found_last
        said += [
            f"The original of {one.name!r} is missing or cut short in the folder of originals."
            for one in self._originals.missing()
        ]
        if self._lock:
            try:
                self.back_up_if_due()
            except BadInput as error:
                said.append(f"No backup could be made: {error}")
        if backups.is_due(self.folder, after=backups.OLD_AFTER):
            said.append("The last backup is more than a week old, or there is none.")
        self._found_on_opening = tuple(said)

    def _tidy(self) -> None:
        for folder in (self.folder, *(path for path in self.folder.iterdir() if path.is_dir())):
            if not folder.is_symlink() and folder.name != backups.BACKUP_NAME:
                clear_unfinished(folder)

    @property
    def settings(self) -> Settings:
        """Title, owner, currency and units, from the newest garage.toml that can be read."""
        digest = self.digests().get(SETTINGS_NAME)
        if self._settings is None or self._settings[0] != digest:
            self._settings = digest, self._read_settings()
        return self._settings[1]

    def _read_settings(self) -> Settings:
        for revision in self.revisions(SETTINGS_NAME):
            with suppress(BadInput):
                return settings_from(revision.text)
        raise refuse(SETTINGS_NAME, "no readable revision", "title, owner, currency and units")

    def save_settings(self, settings: Settings, *, based_on: str, who: str, why: str) -> Revision:
        """Save title, owner, currency and units as a revision of garage.toml."""
        return self.save_document(SETTINGS_NAME, settings_text(settings), based_on=based_on, who=who, why=why)

    @property
    def document_notices(self) -> tuple[str, ...]:
        """Plain messages of the last look at the documents alone."""
        return self._found_last

    @property
    def is_writing(self) -> bool:
        """Whether it was opened for writing."""
        return self._lock is not None

    @property
    def notices(self) -> tuple[str, ...]:
        """Plain messages: what was found on opening, and at the last look at the documents."""
        return tuple(dict.fromkeys((*self._found_on_opening, *self._found_last)))

    def entries(self, *, after: int = 0) -> tuple[Entry, ...]:
        """Every entry of the logbook with a number above `after`, in order."""
        with self._database.reading() as connection:
            return entry_rows.read_entries(connection, after=after)

    def last_entry(self) -> int:
        """The number of the last entry, 0 in an empty logbook."""
        with self._database.reading() as connection:
            return entry_rows.last_number(connection)

    def append(self, drafts: Iterable[Draft]) -> tuple[Entry, ...]:
        """Write entries, all or none; a draft whose key was written before gives that entry back.

        Raises BadInput for a draft that cannot be kept; Conflict (its `stands` is the entry that stands) if
        the key was used for something else, or another entry corrects the same one.
        """
        with self._database.writing() as connection:
            return entry_rows.append_drafts(connection, tuple(drafts), written(now()))

    def import_entries(self, entries: Iterable[Entry]) -> int:
        """Write whole entries, numbers and times of writing kept, into an empty logbook; give how many."""
        with self._database.writing() as connection:
            return entry_rows.import_entries(connection, entries)

    def document_names(self) -> tuple[str, ...]:
        """The names of all documents, in order."""
        return tuple(sorted(self.digests()))

    def digests(self) -> dict[str, str]:
        """The digest of the latest revision of each document by name."""
        with self._database.reading() as connection:
            saved = revisions.latest_digests(connection)
        return saved | {name: one.digest for name, one in self._documents.lying.items()}

    def document(self, name: str) -> Revision:
        """The latest revision of a document; opened for reading, the text that lies in the folder."""
        self._documents.refuse_broken(name)
        return self.revisions(name, most=1)[0]

    def revisions(self, name: str, *, most: int | None = None) -> tuple[Revision, ...]:
        """The revisions of a document, newest first; at least one."""
        check_document_name(name)
        lying = self._documents.lying.get(name)
        with self._database.reading() as connection:
            found = ((lying,) if lying else ()) + revisions.all_of(connection, name, most=most)
        if not found:
            raise refuse(name, "no such document", "one of " + ", ".join(self.document_names()))
        return found[:most]

    def history(self) -> tuple[Revision, ...]:
        """Every revision of every document, in the order of saving."""
        with self._database.reading() as connection:
            return revisions.every(connection) + tuple(self._documents.lying.values())

    def revision(self, digest: str) -> Revision:
        """The newest revision with a digest."""
        for lying in self._documents.lying.values():
            if lying.digest == digest:
                return lying
        with self._database.reading() as connection:
            return revisions.with_digest(connection, digest)

    def save_document(self, name: str, text: str, *, based_on: str | None, who: str, why: str) -> Revision:
        """Save a document over the revision whose digest is `based_on`; None for a new document.

        Raises Conflict (its `stands` is the latest revision) if it changed meanwhile, here or outside.
        """
        check = settings_from if name == SETTINGS_NAME else None
        return self._documents.save(name, text, based_on=based_on, who=who, why=why, check=check)

    def take_in_outside_edits(self) -> tuple[Revision, ...]:
        """Look at the documents in the folder and take in what was edited outside; cheap when nothing was."""
        taken, said = self._documents.take_in()
        try:
            settings_from(self.document(SETTINGS_NAME).text)
        except BadInput as error:
            said = (*said, f"{error} Until then the last garage.toml that could be read holds.")
        self._found_last = said
        return taken

    def keep_original(self, name: str, media_type: str, content: bytes) -> Original:
        """Keep a photograph, log or paper by the digest of its content."""
        return self._originals.keep(name, media_type, content)

    def original(self, digest: str) -> Original:
        """What is known of an original."""
        return self._originals.find(digest)

    def originals(self) -> tuple[Original, ...]:
        """What is known of every original, by digest."""
        return self._originals.every()

    def original_content(self, digest: str) -> bytes:
        """The content of an original, checked against its digest."""
        return self._originals.content(digest)

    def add_device(self, name: str, role: Role) -> Device:
        """Pair a device."""
        with self._database.writing() as connection:
            return devices.add(connection, name, role)

    def devices(self) -> tuple[Device, ...]:
        """Every device ever paired, in the order of pairing; those shut out carry `revoked_at`."""
        with self._database.reading() as connection:
            return devices.all_of(connection)

    def device(self, identifier: str) -> Device:
        """One device."""
        with self._database.reading() as connection:
            return devices.find(connection, identifier)

    def revoke_device(self, identifier: str) -> Device:
        """Shut a device out."""
        with self._database.writing() as connection:
            devices.find(connection, identifier)
            devices.revoke(connection, identifier)
            return devices.find(connection, identifier)

    def seen_device(self, identifier: str) -> Device:
        """Note that a device was here, at most once a minute."""
        found = self.device(identifier)
        if not devices.is_due(found):
            return found
        with self._database.writing() as connection:
            devices.see(connection, identifier)
            return devices.find(connection, identifier)

    def secret(self) -> str:
        """The random secret that sessions are signed with; another after a restore."""
        with self._database.reading() as connection:
            return devices.read_secret(connection)

    def back_up(self) -> Path:
        """Make a verified backup now, thin the old ones, and give where it is."""
        made = backups.make_backup(self.folder, self._database)
        backups.thin(self.folder)
        return made.path

    def back_up_if_due(self) -> Path | None:
        """Make a backup if the newest is more than a day old."""
        return self.back_up() if backups.is_due(self.folder) else None

    def backups(self) -> tuple[Backup, ...]:
        """The backups, newest first."""
        return backups.list_backups(self.folder)

    def close(self) -> None:
        """Close the garage; the next writer may open it."""
        self._database.close()
        if self._lock:
            self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
