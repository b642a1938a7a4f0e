"""A whole garage as a folder of text and originals, and a new garage from such a folder.

logbook.toml holds the entries, revisions.toml every saved revision, originals.toml what is known of the files
in `originals`; `documents` shows the documents as they stand. Paired devices and backups stay behind.
"""

import secrets
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tintop.errors import refuse
from tintop.store import devices, entry_rows, revisions
from tintop.store.database import DATABASE_NAME, Database
from tintop.store.document_names import SETTINGS_NAME, document_path, documents_on_disk
from tintop.store.documents.text import read_text
from tintop.store.durable import (
    UNFINISHED,
    disk_in_plain_words,
    make_folder,
    put_in_place,
    sync_file,
    sync_folder,
    write_whole,
)
from tintop.store.exchange.histories import (
    originals_from_text,
    originals_to_text,
    revisions_from_text,
    revisions_to_text,
)
from tintop.store.exchange.text import logbook_from_text, logbook_to_text
from tintop.store.garage_store import Store
from tintop.store.migrating import migrate
from tintop.store.originals import ORIGINALS_NAME, Original, Originals
from tintop.store.revisions import Revision, digest_of
from tintop.store.settings_document import settings_from

LOGBOOK, REVISIONS, ORIGINALS = "logbook.toml", "revisions.toml", "originals.toml"
DOCUMENTS = "documents"
LARGEST = 2_000_000_000  # bytes of one file of text


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """How much went out or came in."""

    entries: int
    documents: int
    revisions: int
    originals: int


def export_garage(store: Store, folder: Path) -> Carried:
    """Write a garage to a folder that is not there yet, or empty; the same garage gives the same bytes.

    Raises BadInput, with nothing written, if the folder holds something or an original is gone.
    """
    entries = store.entries()  # first: what they name was kept before them
    history = store.history()
    originals = store.originals()
    standing = _standing(history)
    with _built(folder) as part:
        write_whole(part / LOGBOOK, logbook_to_text(entries).encode())
        write_whole(part / REVISIONS, revisions_to_text(history).encode())
        write_whole(part / ORIGINALS, originals_to_text(originals).encode())
        for name, revision in standing.items():
            write_whole(document_path(part / DOCUMENTS, name), revision.text.encode())
        for original in originals:
            write_whole(part / ORIGINALS_NAME / original.digest, store.original_content(original.digest))
    return _carried(len(entries), history, originals)


def import_garage(source: Path, folder: Path) -> Carried:
    """Make a new garage of an exported folder: the same entries, revisions and originals.

    Raises BadInput, with nothing made, for whatever is missing, unreadable, or does not fit together.
    """
    if not source.is_dir():
        found = "a file" if source.exists() else "no such folder"
        raise refuse(str(source), found, "a folder written by tintop export")
    entries = logbook_from_text(_text(source / LOGBOOK), LOGBOOK)
    history = revisions_from_text(_text(source / REVISIONS), REVISIONS)
    originals = originals_from_text(_text(source / ORIGINALS), ORIGINALS)
    standing = _standing(history)
    if SETTINGS_NAME not in standing:
        raise refuse(
            REVISIONS, f"no revision of {SETTINGS_NAME}", "the title, currency and units of a garage"
        )
    settings_from(standing[SETTINGS_NAME].text)
    _refuse_other_documents(source / DOCUMENTS, standing)
    with _built(folder) as part:
        file = part / DATABASE_NAME
        file.touch(mode=0o600)
        database = Database(file, writing=True)
        try:
            migrate(database)
            with database.writing() as connection:
                devices.renew_secret(connection)
                entry_rows.import_entries(connection, entries)
                revisions.import_all(connection, history)
            kept = Originals(part, database)
            for original in originals:
                content = _original_content(source, original)
                kept.keep(original.name, original.media_type, content)
        finally:
            database.close()
        sync_file(file)
        for name, revision in standing.items():
            write_whole(document_path(part, name), revision.text.encode())
    return _carried(len(entries), history, originals)


@contextmanager
def _built(folder: Path) -> Iterator[Path]:
    """Build beside, and give the name at the end; nothing is left of what fails."""
    folder = folder.absolute()
    with disk_in_plain_words(folder):
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise refuse(str(folder), "something there already", "the name of a new folder, or an empty one")
        make_folder(folder.parent)
        part = folder.with_name(f".{folder.name}.{secrets.token_hex(4)}{UNFINISHED}")
        part.mkdir()
        try:
            yield part
            sync_folder(part)
            if folder.exists():
                folder.rmdir()
            put_in_place(part, folder)
        except BaseException:
            shutil.rmtree(part, ignore_errors=True)
            raise


def _standing(history: Sequence[Revision]) -> dict[str, Revision]:
    standing = {revision.name: revision for revision in history}
    return {name: standing[name] for name in sorted(standing)}


def _refuse_other_documents(folder: Path, standing: dict[str, Revision]) -> None:
    names = documents_on_disk(folder)[0] if folder.is_dir() else ()
    for name in (*standing, *(name for name in names if name not in standing)):
        path = document_path(folder, name)
        content = path.read_bytes() if path.is_file() else None
        if name not in standing or content is None or digest_of(content) != standing[name].digest:
            raise refuse(
                f"{DOCUMENTS}/{name}",
                "nothing" if content is None else "a text that is not its latest revision",
                f"the document as it stands last in {REVISIONS}",
                "Export it again; make changes in the garage once it is imported.",
            )


def _original_content(source: Path, original: Original) -> bytes:
    path = source / ORIGINALS_NAME / original.digest
    content = path.read_bytes() if path.is_file() else b""
    if digest_of(content) != original.digest:
        found = "a file that was changed or cut short" if content else "no file"
        raise refuse(f"{ORIGINALS_NAME}/{original.digest}", found, f"the original of {original.name!r}")
    return content


def _text(path: Path) -> str:
    return read_text(path, largest=LARGEST)


def _carried(entries: int, history: Sequence[Revision], originals: Sequence[Original]) -> Carried:
    return Carried(
        entries=entries,
        documents=len(_standing(history)),
        revisions=len(history),
        originals=len(originals),
    )
