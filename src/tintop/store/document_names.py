"""Names of the garage's documents, and the one way from a name to a file."""

import re
from pathlib import Path

from tintop.errors import refuse

SETTINGS_NAME = "garage.toml"
SUFFIXES = (".toml", ".csv", ".geojson", ".gpx")
ASIDE = "before-restore-"
_PART = r"[a-z0-9][a-z0-9_-]*"
_NAME = re.compile(rf"(?:{_PART}/)?{_PART}(?:\.toml|\.csv|\.geojson|\.gpx)")
_LONGEST = 120
_NOT_DOCUMENTS = {"originals", "backup"}
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?=[./]|$)")  # not file names on some systems


def is_document_name(name: str) -> bool:
    """Whether a name is one a document may have, such as `car.toml` or `circuits/larkmoor.csv`."""
    if len(name) > _LONGEST or not _NAME.fullmatch(name):
        return False
    folder = name.rpartition("/")[0]
    if folder in _NOT_DOCUMENTS or folder.startswith(ASIDE):
        return False
    return not any(_DEVICES.match(part) for part in name.split("/"))


def check_document_name(name: object) -> str:
    """Give the name back; raise BadInput unless a document may have it."""
    if not isinstance(name, str) or not is_document_name(name):
        shown = repr(name)
        raise refuse(
            "document name",
            shown if len(shown) <= 80 else f"{shown[:80]}…",
            "small letters a to z, digits, - and _, in one folder at most, ending in " + ", ".join(SUFFIXES),
            "Such as car.toml or circuits/larkmoor.csv.",
        )
    return name


def document_path(folder: Path, name: str) -> Path:
    """Where a document lies in the garage.

    Raises BadInput for any other name, and for a link that leads elsewhere.
    """
    path = folder.joinpath(*check_document_name(name).split("/"))
    for step in (path.parent, path):
        if step != folder and step.is_symlink():
            raise refuse(str(step), "a link to another place", "a folder or file of the garage's own")
    if path.is_dir() or (path.parent.exists() and not path.parent.is_dir()):
        raise refuse(str(path), "a folder where a file belongs, or the other way round", "a file in a folder")
    return path


def documents_on_disk(folder: Path) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of the documents lying in the garage, and plain words on files that only look like some."""
    names: list[str] = []
    strange: list[str] = []
    for path in (*_visible(folder), *(file for inside in _visible(folder) for file in _inside(inside))):
        if path.suffix.lower() not in SUFFIXES or path.is_dir():
            continue
        name = path.relative_to(folder).as_posix()
        if path.is_symlink() or path.parent.is_symlink():
            strange.append(f"{name} is a link to another place; it is left alone.")
        elif not is_document_name(name):
            strange.append(_left_alone(name))
        elif path.is_file():
            names.append(name)
    return tuple(sorted(names)), tuple(sorted(strange))


def _visible(folder: Path) -> list[Path]:
    return sorted(path for path in folder.iterdir() if not path.name.startswith("."))


def _inside(folder: Path) -> list[Path]:
    if not folder.is_dir() or folder.name in _NOT_DOCUMENTS or folder.name.startswith(ASIDE):
        return []
    return _visible(folder)


def _left_alone(name: str) -> str:
    if re.search(r"conflict|\(\d+\)", name, re.IGNORECASE):
        return (
            f"{name} looks like a second copy that a synchronised folder made of a document changed in two "
            "places; it is left alone. Compare it with the document, take over what you want, then remove it."
        )
    return (
        f"{name} is not taken in: a document's name has small letters, digits, - and _ only. "
        "Rename it if it belongs to the garage."
    )
