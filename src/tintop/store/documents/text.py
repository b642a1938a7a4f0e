"""Reading a document's text safely, and the line on which each of its fields stands."""

import difflib
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tintop.errors import BadInput, Problem, refuse

LARGEST = 5_000_000  # bytes
_DEEPEST = 20  # parts of a dotted name; the parser's work grows with their square
_TEXTS = re.compile(r'''"""[\s\S]*?"""|\'\'\'[\s\S]*?\'\'\'|"(?:\\.|[^"\\\n])*"|'[^'\n]*'|#[^\n]*''')
LONGEST_NUMBER = 60  # characters; Python itself refuses to write whole numbers of more than 4,300 digits
_LONG_NUMBER = re.compile(rf"(?<![\w.\"'+-])[+-]?[0-9][0-9A-Fa-f_.xob]{{{LONGEST_NUMBER},}}+(?!\s*=)")
_DOTTED_RUN = re.compile(r"""[\w"' \t.-]+""")


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A parsed document: file name, its tables, and line numbers by dotted field path."""

    name: str
    tables: dict[str, Any]
    lines: dict[str, int]

    def where(self, path: str) -> str:
        """Name the file, the line if it stands in the text, and the field."""
        line = self.line_of(path)
        return f"{self.name} line {line}, {path}" if line else f"{self.name}, {path}"

    def line_of(self, path: str) -> int | None:
        """Give the line of a field, or of the nearest table or field that holds it."""
        while path:
            if path in self.lines:
                return self.lines[path]
            path = path.rpartition(".")[0]
        return None

    def problem(self, path: str, found: object, expected: str, cure: str = "") -> Problem:
        """Say what is wrong with a field of this document."""
        return Problem(where=self.where(path), found=str(found), expected=expected, cure=cure)


def read_document(path: Path) -> Document:
    """Read a TOML file of at most 5 MB.

    Raises BadInput for a file that is missing, a folder, empty, too large, not UTF-8 text or not TOML.
    """
    text = read_text(path)
    return Document(name=path.name, tables=toml_tables(text, path.name), lines=lines_of(text))


_EXAMPLE = 'car = "1085 kg"'
_CURLY = re.compile(r"[“”„‘’]")
_OTHER_DAY = re.compile(
    r"=\s*([0-9]{1,2}[/.][0-9]{1,2}[/.][0-9]{2,4}|[0-9]{4}[/.][0-9]{1,2}[/.][0-9]{1,2})\s*(?:#|$)"
)


def toml_tables(text: str, name: str, example: str = _EXAMPLE) -> dict[str, Any]:
    """Parse TOML text; raises BadInput with the line if it is not TOML, `name` being the file's.

    `example` is a line such as the document has.
    """
    bare = _TEXTS.sub(lambda found: '"' + "\n" * found[0].count("\n"), text)
    if any(run.count(".") > _DEEPEST for run in _DOTTED_RUN.findall(bare)):
        raise _too_deep(name)
    if long := _LONG_NUMBER.search(bare):
        raise _too_long(f"{name} line {bare.count(chr(10), 0, long.start()) + 1}", len(long[0]))
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"line (\d+)", str(error))
        where = f"{name} line {line[1]}" if line else f"{name}, at its end"
        if line and (plain := _not_as_typed(text.split("\n")[int(line[1]) - 1], where)):
            raise plain from None
        reason = re.sub(r" \(at .*\)$", "", str(error)).lower()
        raise refuse(
            where,
            f"text that is not TOML ({reason})",
            f"lines like: {example}",
            "Look for a missing quote, bracket or equals sign, a key written twice, or a file cut short.",
        ) from None
    except RecursionError:
        raise _too_deep(name) from None
    except ValueError:  # of the numbers in it, whose length the parser does not look at
        raise _too_long(name, len(text)) from None


def _not_as_typed(line: str, where: str) -> BadInput | None:
    """The sentence for a line with quotes of a word processor, or a day in another order."""
    without_texts = _TEXTS.sub('"', line)
    if _CURLY.search(without_texts):
        expected = 'straight quotes, such as title = "Noise"'
        cure = "A word processor turned them: type them anew in a plain text editor."
        return refuse(where, f"curly quotes in {line.strip()[:60]!r}", expected, cure)
    if day := _OTHER_DAY.search(without_texts):
        expected = "a day as year-month-day without quotes, such as 2026-12-31"
        return refuse(where, f"the day {day[1]}", expected)
    return None


def _too_long(where: str, length: int) -> BadInput:
    return refuse(
        where,
        f"a number of {length:,} characters",
        f"a number of {LONGEST_NUMBER} characters at most",
        "Look for a key that was held down, or a text without its quotes.",
    )


def _too_deep(name: str) -> BadInput:
    return refuse(name, "tables nested too deeply", "a few tables of fields")


def read_text(path: Path, *, largest: int = LARGEST) -> str:
    """Read a file as UTF-8 text without its byte order mark; raises BadInput as `read_document` does."""
    try:
        if path.is_dir():
            raise refuse(str(path), "a folder", "a TOML file", "Name the file inside it.")
        size = path.stat().st_size
        if size > largest:
            raise refuse(str(path), f"{size / 1e6:.1f} MB", f"at most {largest / 1e6:.0f} MB of text")
        with path.open("rb") as file:
            content = file.read(largest + 1)
    except FileNotFoundError:
        raise _missing(path) from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise refuse(str(path), f"a file that cannot be read ({reason})", "a readable TOML file") from None
    if len(content) > largest:
        raise refuse(str(path), f"more than {largest / 1e6:.0f} MB", "a TOML file")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise refuse(path.name, "text in UTF-16", "text in UTF-8", "Save it again with the encoding UTF-8.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise refuse(
            f"{path.name} line {line}",
            f"a byte that is not UTF-8 text (0x{content[error.start]:02x})",
            "text in UTF-8",
            "Save it again with the encoding UTF-8; if it is no text at all, it is the wrong file.",
        ) from None
    if not text.strip():
        raise refuse(path.name, "an empty file", "a TOML document", "tintop demo --write FOLDER writes one.")
    return text


def _missing(path: Path) -> BadInput:
    names = []
    if path.parent.is_dir():
        names = [entry.name for entry in path.parent.iterdir() if entry.is_file()]
    near = difflib.get_close_matches(path.name, sorted(names), n=1, cutoff=0.6)
    cure = f"Did you mean {path.parent / near[0]}?" if near else ""
    return refuse(str(path), "no such file", "a TOML file", cure)


_HEADER = re.compile(r"\s*(\[\[?)\s*([^\[\]#\s][^\[\]#]*)\]\]?\s*(#.*)?$")
_KEY = re.compile(r"""\s*((?:"[^"]*"|'[^']*'|[\w-]+)(?:\s*\.\s*(?:"[^"]*"|'[^']*'|[\w-]+))*)\s*=""")
_INLINE_KEY = re.compile(r"""[{,]\s*([\w-]+)\s*=""")


def lines_of(text: str) -> dict[str, int]:
    """Give the first line of each table and key of TOML text by dotted path; array tables count from 1."""
    lines: dict[str, int] = {}
    counts: dict[str, int] = {}
    table = ""
    inside: str | None = None  # the quotes of a multi-line text that is still open
    for number, line in enumerate(text.split("\n"), 1):
        if inside is not None:
            if inside in line:
                inside = None
            continue
        if header := _HEADER.match(line):
            table = _within(_dotted(header[2]), counts)
            if header[1] == "[[":
                counts[table] = counts.get(table, 0) + 1
                lines.setdefault(table, number)
                table = f"{table}.{counts[table]}"
            lines.setdefault(table, number)
        elif key := _KEY.match(line):
            path = f"{table}.{_dotted(key[1])}" if table else _dotted(key[1])
            lines.setdefault(path, number)
            rest = line[key.end() :]
            if rest.lstrip().startswith("{"):
                for inner in _INLINE_KEY.finditer(rest):
                    lines.setdefault(f"{path}.{inner[1]}", number)
        for quotes in ('"""', "'''"):
            if line.count(quotes) % 2:
                inside = quotes
    return lines


def _within(table: str, counts: dict[str, int]) -> str:
    """Give the path of a table within the latest entries of the array tables that hold it."""
    path = ""
    if not counts or table.count(".") > _DEEPEST:
        return table
    for step in table.split("."):
        path = f"{path}.{counts[path]}" if path in counts else path
        path = f"{path}.{step}" if path else step
    return path


def _dotted(name: str) -> str:
    return ".".join(part.strip().strip("\"'") for part in name.split("."))
