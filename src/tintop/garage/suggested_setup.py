"""A suggested set-up written as one of its own: its name looked at first, its text read back."""

import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from tintop.car.setup import Setup
from tintop.errors import BadInput, refuse
from tintop.garage.keeper import SETUPS, Garage
from tintop.questions.best_setup import BestSetup
from tintop.store.document_names import is_document_name
from tintop.store.documents.setup_reader import setup_from
from tintop.store.documents.text import Document, lines_of, toml_tables
from tintop.store.documents.writing_setups import write_setup
from tintop.store.durable import disk_in_plain_words, make_folder, write_whole

NOT_NAMES = ("compare",)  # addresses of the page that are none of a set-up
_LONGEST = 60
_WHERE = "name of the set-up"


def file_of(name: str) -> str:
    """The document of a set-up of this name; BadInput for a name that can be none."""
    stem = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
    if not name.isprintable() or not stem or len(name) > _LONGEST:
        expected = f"a short name of one line with letters or digits, at most {_LONGEST}"
        raise refuse(_WHERE, ascii(name[:_LONGEST]), expected)
    document = f"{SETUPS}/{stem}.toml"
    if not is_document_name(document):
        raise refuse(_WHERE, repr(name), "a name that every disk can write")
    if stem in NOT_NAMES:
        raise refuse(_WHERE, repr(name), "another name: that one is an address of the page")
    return document


def check_free(folder: Path, name: str) -> None:
    """Raise BadInput for the name of a set-up that there is already, or that is none."""
    if (folder / file_of(name)).exists():
        raise _taken(name)


def save_in_garage(garage: Garage, found: BestSetup, name: str, circuit: str, who: str) -> str:
    """Write the suggestion as a new document, and give its name.

    Raises BadInput where there is one of that name, or nothing was found to change.
    """
    document = file_of(name)
    if document in garage.document_names():
        raise _taken(name)
    text = _text(found, name, circuit, garage.settings.units)
    garage.save_document(document, text, based_on=None, who=who, why=f"suggested for {found.circuit}")
    return document


def save_in_folder(folder: Path, units: Mapping[str, str], found: BestSetup, name: str, circuit: str) -> str:
    """As save_in_garage, into a plain folder or the folder of a garage."""
    if (folder / "garage.sqlite").exists():
        garage = Garage.open(folder)
        try:
            return save_in_garage(garage, found, name, circuit, garage.settings.owner)
        finally:
            garage.close()
    check_free(folder, name)
    document = folder / file_of(name)
    text = _text(found, name, circuit, units)
    with disk_in_plain_words(document):
        make_folder(document.parent)
        write_whole(document, text.encode())
    return str(document)


def _as_setup(found: BestSetup, name: str, circuit: str) -> Setup:
    note = f"Suggested from {found.before.name}; {found.answer.sentence}"
    return replace(found.setup, name=name.strip(), circuit=circuit, note=note)


def _text(found: BestSetup, name: str, circuit: str, units: Mapping[str, str]) -> str:
    """The document, read back; BadInput where nothing is to be changed, or it does not read as it was."""
    if not found.has_changes:
        raise refuse(
            "set-up to save", "nothing worth turning", "a change that was found", "Nothing was written."
        )
    text = write_setup(_as_setup(found, name, circuit), found.chassis, units)
    setup_from(Document(name=name, tables=toml_tables(text, name), lines=lines_of(text)), found.chassis)
    return text


def _taken(name: str) -> BadInput:
    return refuse(_WHERE, repr(name), "a name that no set-up has yet")
