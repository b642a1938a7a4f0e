"""What is looked at before a garage is opened, and the plain words for what is found."""

import os
import re
from pathlib import Path

from tintop.errors import refuse
from tintop.store.backups import list_backups
from tintop.store.database import DATABASE_NAME, Database, damaged, database_in_plain_words
from tintop.store.document_names import SETTINGS_NAME
from tintop.store.durable import not_writable

_OURS = {DATABASE_NAME, f"{DATABASE_NAME}-journal"}


def check_folder(folder: Path, *, writing: bool) -> None:
    """Raise BadInput unless a folder holds a garage that can be opened."""
    if not folder.is_dir():
        found = "a file" if folder.exists() else "no such folder"
        raise refuse(str(folder), found, f"the folder of a garage, with {DATABASE_NAME} in it")
    file = folder / DATABASE_NAME
    if not file.exists():
        if (folder / SETTINGS_NAME).exists() and list_backups(folder):
            raise damaged(file, f"that {DATABASE_NAME} is missing")
        raise refuse(
            str(folder), "no garage", f"a folder with {DATABASE_NAME} in it", "Look in which folder it is."
        )
    if not file.is_file() or file.stat().st_size == 0:
        raise damaged(file, "an empty file" if file.is_file() else "something that is not a file")
    if not os.access(file, os.R_OK):
        raise refuse(str(file), "that reading is not allowed", "a file that may be read")
    if writing and not (os.access(folder, os.W_OK) and os.access(file, os.W_OK)):
        raise not_writable(folder)


def check_database(database: Database) -> None:
    """Raise BadInput if the database is damaged; indexes are compared with their tables only in a backup."""
    with database_in_plain_words(database.file), database.reading() as connection:
        found = str(connection.exec_driver_sql("PRAGMA quick_check(1)").scalar())
        if found != "ok":
            raise damaged(database.file, f"damage ({found})")
        if connection.exec_driver_sql("PRAGMA foreign_key_check").first():
            raise damaged(database.file, "rows that name others which are not there")


def second_copies(folder: Path) -> tuple[str, ...]:
    """Plain words on other copies of the database that a synchronised folder left beside it."""
    stem, suffix = DATABASE_NAME.split(".")
    found = [
        path.name
        for path in sorted(folder.iterdir())
        if path.name not in _OURS
        and not path.name.startswith(".")
        and re.search(rf"{stem}.*\.{suffix}", path.name, re.IGNORECASE)
    ]
    return tuple(
        f"{name} lies beside {DATABASE_NAME}: a synchronised folder makes such a second copy when the garage "
        f"was changed in two places. Only {DATABASE_NAME} is used. Move the copy to a folder of its own, as "
        f"{DATABASE_NAME}, to open it and look at what it has; keep both until you know."
        for name in found
    )
