"""The run sheet on paper: blank on one page for the pit wall, and nothing cut off when it is filled in."""

import io
import unicodedata

from playwright.sync_api import Page
from pypdf import PdfReader

from browser.conftest import PHONE, Served, Watching
from browser.test_following import SHEET

LAPS = tuple(f"1:{40 + lap // 10}.{lap % 10}5" for lap in range(77))


def _printed(page: Page) -> list[str]:
    """The text of each page as it is printed, with single spaces."""
    paper = PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True)))
    texts = (unicodedata.normalize("NFKC", sheet.extract_text()) for sheet in paper.pages)
    return [" ".join(text.split()) for text in texts]


def test_a_blank_sheet_is_one_page_with_every_part(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(looked_at.address + SHEET)
    (text,) = _printed(page)
    for part in ("Going out", "Coming in", "Hot pressures", "Tread temperatures", "Pads", "Weather", "Exit"):
        assert part in text, part
    assert "As fitted" in text
    for link in ("Save so far", "Qualifying", "Another", "Treads"):
        assert link not in text, link


def test_every_lap_and_word_is_printed_as_typed(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(looked_at.address + SHEET)
    words = " ".join(f"word{place}" for place in range(120))
    page.fill("#lap_times", "\n".join(LAPS))
    page.fill("#remark_words", words)
    text = " ".join(_printed(page))
    assert [lap for lap in LAPS if lap not in text] == []
    assert f"77. {LAPS[-1]}" in text
    assert [word for word in words.split() if word not in text] == []
