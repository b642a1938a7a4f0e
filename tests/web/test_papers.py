import inspect
import io
from datetime import date

import pytest
from openpyxl import load_workbook
from own_book import name_the_book
from pypdf import PdfReader

from tintop.logbook.entries import Draft, PaperAdded
from tintop.web.pages import papers as page_of_papers


@pytest.fixture
def kept(garage):
    matters = (
        PaperAdded(
            digest="a" * 64, name="label <b>.png", media_type="image/png", size=7000, about="front-pads-1"
        ),
        PaperAdded(
            digest="b" * 64, name="receipt.pdf", media_type="application/pdf", size=9000, about="spring"
        ),
    )
    drafts = [
        Draft(key=f"p{place}", day=date(2026, 6, 1), who="Robin", matter=matter)
        for place, matter in enumerate(matters)
    ]
    garage.record(drafts)
    return garage


def words(answer) -> str:
    assert answer.status_code == 200 and answer.content.startswith(b"%PDF")
    assert answer.headers["content-type"] == "application/pdf"
    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages)


def test_the_page_leads_to_every_paper_and_original(kept, page) -> None:
    said = page.get("/papers").text
    for address in (
        "/papers/event-card.pdf",
        "/papers/build-book.pdf",
        "/papers/build-book-public.pdf",
        "/papers/logbook.xlsx",
        f"/papers/originals/{'a' * 64}",
        f"/papers/originals/{'b' * 64}",
        "/car/parts/front-pads-1",
        "/events/spring",
    ):
        assert f'href="{address}"' in said
    assert "label &lt;b&gt;.png" in said and "<b>" not in said


def test_a_reader_is_shown_no_way_to_prices(kept, reader) -> None:
    said = reader.get("/papers").text
    assert "/papers/build-book.pdf" not in said and "/papers/logbook.xlsx" not in said
    assert f"/papers/originals/{'b' * 64}" not in said and "receipt.pdf" in said


def test_prices_are_for_owner_and_crew(page, crew, reader) -> None:
    assert "£142.50" in words(page.get("/papers/build-book.pdf"))
    assert "£142.50" in words(crew.get("/papers/build-book.pdf"))
    assert reader.get("/papers/build-book.pdf").status_code == 403
    for visitor in (page, reader):
        public = words(visitor.get("/papers/build-book-public.pdf"))
        assert "£" not in public and "142.50" not in public and "Front pads, endurance" in public


def test_the_card_is_of_the_next_event_or_the_one_named_and_money_is_not_for_readers(page, reader) -> None:
    assert "Midsummer Two Hours" in words(page.get("/papers/event-card.pdf"))
    assert "Spring Two Hours" in words(page.get("/papers/event-card.pdf?event=spring"))
    assert "£" in words(page.get("/papers/event-card.pdf"))
    assert "£" not in words(reader.get("/papers/event-card.pdf"))


@pytest.mark.parametrize("name", ["nope", "../garage.toml", "%00", "x" * 5000])
def test_an_event_that_is_none_is_refused_with_a_sentence(page, name) -> None:
    answer = page.get("/papers/event-card.pdf", params={"event": name})
    assert answer.status_code == 422
    assert "expected the short name of an event" in answer.text


def test_the_spreadsheet_is_for_the_laptop_alone(garage, page, crew, reader) -> None:
    book = load_workbook(io.BytesIO(page.get("/papers/logbook.xlsx").content), read_only=True)
    assert len(book.sheetnames) > 5
    assert crew.get("/papers/logbook.xlsx").status_code == 403
    assert reader.get("/papers/logbook.xlsx").status_code == 403


def test_without_an_event_the_page_says_so(garage, page) -> None:
    for entry in garage.book.entries:
        if type(entry.matter).__name__ == "MeetingPlanned":
            garage.withdraw(entry.number, "Robin")
    assert "No event is planned" in page.get("/papers").text
    answer = page.get("/papers/event-card.pdf")
    assert answer.status_code == 422 and "no event planned" in answer.text


def test_papers_are_set_off_the_event_loop() -> None:
    for route in page_of_papers.router.routes:
        assert not inspect.iscoroutinefunction(route.endpoint)


def test_the_pack_needs_rule_books_and_then_is_offered(garage, page, reader) -> None:
    said = page.get("/papers").text
    assert "scrutineer-pack.pdf" not in said and "No rule book is named for Midsummer Two Hours" in said
    answer = page.get("/papers/scrutineer-pack.pdf")
    assert answer.status_code == 422 and "no rule book named" in answer.text
    name_the_book(garage)
    said = page.get("/papers").text
    assert 'href="/papers/scrutineer-pack.pdf"' in said
    assert 'href="/papers/scrutineer-pack.pdf?prices=yes"' in said
    assert "prices=yes" not in reader.get("/papers").text
    assert "/papers/scrutineer-pack.pdf?event=" in page.get("/legal").text


def test_the_pack_of_an_event_holds_no_prices_for_a_reader(garage, page, crew, reader) -> None:
    name_the_book(garage)
    for visitor in (page, crew, reader):
        assert "Copy to hand over, without prices" in words(visitor.get("/papers/scrutineer-pack.pdf"))
    for visitor in (page, crew):
        found = visitor.get("/papers/scrutineer-pack.pdf?prices=yes")
        assert "not to be handed over" in words(found)
        assert "scrutineer-pack-with-prices.pdf" in found.headers["content-disposition"]
    assert reader.get("/papers/scrutineer-pack.pdf?prices=yes").status_code == 403
    assert page.get("/papers/scrutineer-pack.pdf", params={"event": "nope"}).status_code == 422
