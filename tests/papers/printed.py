"""What can be read back from a paper by an independent library."""

import io
import re
from datetime import date
from functools import lru_cache

from pypdf import PdfReader

TODAY = date(2026, 6, 15)
A4 = (595.28, 841.89)  # points; ISO 216, 210 mm by 297 mm


@lru_cache(maxsize=16)
def pages(pdf: bytes) -> tuple[str, ...]:
    """The words of every page, white space made single."""
    return tuple(squeezed(page.extract_text()) for page in PdfReader(io.BytesIO(pdf)).pages)


def said(pdf: bytes) -> str:
    """All words of a paper without any white space, for what may be broken over lines."""
    return "".join(re.sub(r"\s+", "", page) for page in pages(pdf))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()


def bare(text: str) -> str:
    return re.sub(r"\s+", "", text)


def is_a4(pdf: bytes) -> bool:
    sizes = [page.mediabox for page in PdfReader(io.BytesIO(pdf)).pages]
    return all(
        abs(float(size.width) - A4[0]) < 0.5 and abs(float(size.height) - A4[1]) < 0.5 for size in sizes
    )


def furthest_right(pdf: bytes) -> float:
    """Where the rightmost piece of text begins, over all pages [pt]."""
    found = [0.0]

    def look(text, _cm, tm, _font, _size) -> None:
        if text.strip():
            found.append(tm[4])

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=look)
    return max(found)
