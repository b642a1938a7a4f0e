"""Read a circuit from a file, whatever its format."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from tintop.circuit.build import build_circuit
from tintop.circuit.circuit import Circuit
from tintop.circuit.raw import RawCircuit
from tintop.errors import BadInput, Problem, refuse
from tintop.store.circuit_formats import csv_lines, geojson, gpx

LARGEST_FILE = 50_000_000  # [bytes]


def read_circuit(
    path: Path,
    *,
    columns: Mapping[str, str] | None = None,
    step: float = 1.0,
    reverse: bool = False,
    start: float | None = None,
) -> Circuit:
    """Read a circuit from CSV, GeoJSON or GPX: the format is found from the content.

    `columns` maps house names to the columns of a CSV (see csv_lines.read); `step` [m] is the mesh wanted,
    `reverse` drives against the file's order, `start` [m] moves the start line along it. Raises BadInput with
    the file and the true reason.
    """
    raw = read_raw(path, columns=columns)
    try:
        return build_circuit(raw, step=step, reverse=reverse, start=start)
    except BadInput as error:
        raise BadInput(*(_in_file(problem, path, raw.name) for problem in error.problems)) from None


def read_raw(path: Path, *, columns: Mapping[str, str] | None = None) -> RawCircuit:
    """Read what a file holds, in its own coordinates, before anything is done to it."""
    content = _content(path)
    where = path.name
    if content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        raw = gpx.read(content, where)
    else:
        text = _text(content, where)
        first = text.lstrip()[:1]
        if first == "<":
            raw = gpx.read(content, where)
        elif first in ("{", "["):
            raw = geojson.read(text, where)
        else:
            raw = csv_lines.read(text, where, columns)
    return replace(raw, name=raw.name or path.stem.replace("_", " "), source=raw.source or path.name)


def _content(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise refuse(str(path), "a folder", "a circuit file (CSV, GeoJSON or GPX)")
        size = path.stat().st_size
        if size > LARGEST_FILE:
            raise refuse(path.name, f"a file of {size / 1e6:.0f} MB", f"at most {LARGEST_FILE / 1e6:.0f} MB")
        content = path.read_bytes()
    except (OSError, ValueError) as error:
        reason = "no such file" if isinstance(error, FileNotFoundError) else "a file that cannot be read"
        raise refuse(str(path), reason, "a circuit file (CSV, GeoJSON or GPX)") from None
    if not content.strip():
        raise refuse(path.name, "an empty file", "a circuit file (CSV, GeoJSON or GPX)")
    return content


def _text(content: bytes, where: str) -> str:
    try:
        is_wide = content[:2] in (b"\xff\xfe", b"\xfe\xff")
        text = content.decode("utf-16" if is_wide else "utf-8-sig")
    except UnicodeDecodeError:
        raise refuse(where, "bytes that are not text", "a text file in UTF-8 (CSV, GeoJSON or GPX)") from None
    if "\x00" in text:
        raise refuse(where, "bytes that are not text", "a text file in UTF-8 (CSV, GeoJSON or GPX)")
    return text


def _in_file(problem: Problem, path: Path, name: str) -> Problem:
    where = path.name if problem.where == name else f"{path.name}, {problem.where}"
    return replace(problem, where=where)
