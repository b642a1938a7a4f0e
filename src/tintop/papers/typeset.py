"""Papers set as PDF by typst; content goes in as data and is never read as markup.

The fonts are those typst brings along and the DejaVu family that comes with matplotlib; fonts of the machine
are left alone, and the date of the document is the day given, so that the same content gives the same bytes
everywhere. Nothing is read from or written to the disk but the fonts and our own layouts.
"""

import json
import re
from dataclasses import asdict
from datetime import date, datetime, timezone
from functools import lru_cache
from importlib import resources
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from tintop.errors import TintopError
from tintop.papers.content import BuildBook, EventCard
from tintop.papers.pack_content import ScrutineerPack
from tintop.papers.run_paper import RunPaper
from tintop.papers.setup_paper import SetupPaper

_PRINTED_PAPER = ("#fcfbf7", "#ffffff")  # the paper of the page on a screen, and of the sheet printed
_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")


def set_build_book(book: BuildBook) -> bytes:
    """Set the build book: A4, its pages numbered.

    It is not tagged for screen readers, which would make it four times as large and half as slow again; the
    pages of the garage say the same, tagged.
    """
    return _set("build_book", asdict(book), book.day, is_tagged=False)


def set_event_card(card: EventCard) -> bytes:
    """Set the event card: one page of A4, in smaller type if it must be."""
    return _set("event_card", asdict(card), card.day, is_tagged=True)


def set_scrutineer_pack(pack: ScrutineerPack) -> bytes:
    """Set the pack for the scrutineer: A4, its pages numbered, legible in black and white; not tagged."""
    return _set("scrutineer_pack", asdict(pack), pack.day, is_tagged=False)


def set_setup_sheet(paper: SetupPaper) -> bytes:
    """Set the set-up sheet: one page of A4, in smaller type if it must be."""
    return _set("setup_sheet", asdict(paper), paper.day, is_tagged=True)


def set_run_sheet(paper: RunPaper) -> bytes:
    """Set the run sheet: one page of A4 to be filled in by hand."""
    return _set("run_sheet", asdict(paper), paper.day, is_tagged=True)


def _set(layout: str, content: dict[str, Any], day: date, *, is_tagged: bool) -> bytes:
    import typst

    found = typst.compile(
        (_layout("house") + _layout(layout)).encode(),
        font_paths=_fonts(),
        ignore_system_fonts=True,
        sys_inputs={"content": json.dumps(_ready(content), ensure_ascii=False)},
        pdf_tags=is_tagged,
        timestamp=datetime(day.year, day.month, day.day, 12, tzinfo=timezone.utc),  # noqa: UP017
    )
    if not isinstance(found, bytes):
        raise TintopError("The paper came out as something else than one file.")
    return found


def _ready(content: Any) -> Any:
    """Content as JSON takes it; drawings on white paper."""
    match content:
        case dict():
            return {name: _ready(value) for name, value in content.items()}
        case frozenset():
            return sorted(content)
        case list() | tuple():
            return [_ready(value) for value in content]
        case date():
            return f"{content.day} {content:%B %Y}"
        case str():
            clean = _NOT_IN_XML.sub("\ufffd", content)
            return clean.replace(*_PRINTED_PAPER) if clean.startswith("<svg") else clean
    return content


@lru_cache
def _layout(name: str) -> str:
    return resources.files("tintop").joinpath(f"data/papers/{name}.typ").read_text("utf-8")


@lru_cache
def _fonts() -> Any:
    import typst

    found = find_spec("matplotlib")
    assert found is not None and found.origin is not None
    folder = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"
    return typst.Fonts(include_system_fonts=False, font_paths=[str(folder)])
