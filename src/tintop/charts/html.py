"""One page or one folder of charts: self-contained HTML for screen, phone and print."""

import contextlib
import os
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path

from tintop.charts.ink import FONT, INK, PAPER, PENCIL, RULE
from tintop.errors import refuse

_STYLE = f"""
:root {{ color-scheme: light dark; --paper: {PAPER}; --ink: {INK}; --pencil: {PENCIL}; --rule: {RULE}; }}
@media (prefers-color-scheme: dark) {{
  :root {{ --paper: #1b1a18; --ink: #f1eee6; --pencil: #bdb7a9; --rule: #4a463e; }}
}}
body {{ margin: 0 auto; padding: 1.2rem; max-width: 56rem; background: var(--paper); color: var(--ink);
  font: 1.05rem/1.5 {FONT}; }}
h1 {{ font-size: 1.9rem; line-height: 1.2; }}
h2 {{ font-size: 1.25rem; margin: 2.4rem 0 0.4rem; border-top: 2px solid var(--rule); padding-top: 0.8rem; }}
p {{ max-width: 42rem; }}
figure {{ margin: 0.8rem 0; overflow-x: auto; }}
figure svg {{ display: block; width: 100%; min-width: 30rem; height: auto; }}
footer {{ color: var(--pencil); border-top: 2px solid var(--rule); margin-top: 2.4rem; }}
@media print {{
  :root {{ --paper: #ffffff; --ink: #000000; --pencil: #333333; }}
  body {{ max-width: none; padding: 0; font-size: 10.5pt; }}
  figure {{ break-inside: avoid; overflow: visible; }}
  figure svg {{ min-width: 0; max-height: 22cm; }}
  h2 {{ break-after: avoid; }}
}}
""".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One part of a page: heading, plain words, and a chart as SVG text or none."""

    heading: str
    words: str
    svg: str = ""


def page(title: str, sections: Sequence[Section], cautions: Sequence[str] = ()) -> str:
    """Give one self-contained HTML document that fetches nothing, for screen, phone and print."""
    parts = []
    for section in sections:
        figure = f'<figure tabindex="0">\n{section.svg.strip()}\n</figure>\n' if section.svg else ""
        parts.append(
            f"<section>\n<h2>{escape(section.heading)}</h2>\n<p>{escape(section.words)}</p>\n{figure}</section>\n"
        )
    ending = "".join(f"<p>Caution: {escape(caution)}</p>\n" for caution in cautions)
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>\n{_STYLE}\n</style>\n</head>\n<body>\n"
        f"<h1>{escape(title)}</h1>\n{''.join(parts)}"
        + (f"<footer>\n{ending}</footer>\n" if ending else "")
        + "</body>\n</html>\n"
    )


def write_folder(files: Mapping[str, str], folder: Path) -> list[Path]:
    """Write texts by file name into a folder, made if it is missing; each file appears whole or not at all.

    Raises BadInput where the folder cannot be made or written.
    """
    written = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in files.items():
            target = folder / name
            _write_whole(target, content)
            written.append(target)
    except OSError as error:
        raise refuse(
            str(folder),
            f"a place that cannot be written ({(error.strerror or 'unknown reason').lower()})",
            "a folder, there or yet to be made, in which you may write",
            "Name another folder for the charts.",
        ) from None
    return written


def _write_whole(target: Path, content: str) -> None:
    handle, part = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(content)
        Path(part).chmod(0o644)
        Path(part).replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(part).unlink()
        raise
