"""Money is for the owner and the crew: no page, answer or paper shows a reader any."""

import io
import re
from html import unescape

from fastapi.testclient import TestClient
from test_guard import routes

from tintop.logbook.entries import CostPaid, JobOpened, MeetingPlanned, PartAdded, SupportReceived


def sums(garage) -> dict[str, str]:
    """Every sum of the logbook as a page might write it, and what it is."""
    found = {}
    for kind, name in (
        (PartAdded, "price_cents"),
        (CostPaid, "cents"),
        (SupportReceived, "list_price_cents"),
        (SupportReceived, "paid_cents"),
    ):
        for _entry, matter in garage.book.of(kind):
            cents = getattr(matter, name)
            if cents:
                for words in (f"{cents / 100:.2f}", f"£{cents // 100}"):
                    found[words] = f"{name} of {matter}"
    return found


def test_no_page_shows_a_reader_any_money(garage, reader, page):
    known = sums(garage)
    addresses = [path for path in routes(garage, "get") if path != "/live"]
    addresses += [f"/answers/{name}" for name in ("ready", "affordable", "legal", "lasting")]
    addresses += [f"/events/{plan.meeting}" for _, plan in garage.book.of(MeetingPlanned)]
    addresses += [f"/car/parts/{part.part}" for _, part in garage.book.of(PartAdded)]
    addresses += [f"/history?number={number}" for number in range(1, garage.book.last_number + 1)]
    addresses += [f"/?saved={number}" for number in range(1, garage.book.last_number + 1)]
    addresses += ["/history?text=entry+fee", "/history?kind=cost", "/history?kind=support received"]
    for address in addresses:
        found = reader.get(address)
        if not found.headers.get("content-type", "").startswith(("text/", "application/json")):
            continue
        shown = unescape(found.text)
        for words, what in known.items():
            assert words not in shown, f"{what} at {address}"
    costs = unescape(page.get("/costs").text)
    assert sum(words in costs for words in known) >= 3  # what is looked for is how pages write it


def test_what_is_ready_to_order_has_a_price_for_the_owner_alone(garage, page, crew, reader):
    garage.withdraw(next(entry.number for entry, _ in garage.book.of(JobOpened)), "Robin")
    for address in ("/", "/answers/ready", "/ready"):
        for who in (page, crew):
            assert re.search(r"£(62|142)", who.get(address).text), address
        found = reader.get(address).text
        assert re.search("order .* now and fit|order it", found, re.IGNORECASE), address
        assert "£" not in found, address


def test_a_reader_sees_no_answer_about_money(reader, page):
    assert "Money is not shown to readers." in reader.get("/answers/affordable").text
    assert "Money is not shown to readers." in reader.get("/").text
    assert reader.get("/costs").status_code == 403
    assert "£" not in reader.get("/answers/affordable").text


def test_papers_with_prices_are_not_given_to_a_reader(garage, page, crew, reader):
    assert reader.get("/papers/build-book.pdf").status_code == 403
    for who in (crew, reader):
        assert who.get("/papers/logbook.xlsx").status_code == 403
    assert page.get("/papers/logbook.xlsx").status_code == 200


def test_the_event_card_of_a_reader_names_no_sum(garage, crew, reader):
    from pypdf import PdfReader

    garage.withdraw(next(entry.number for entry, _ in garage.book.of(JobOpened)), "Robin")

    def words(client: TestClient) -> str:
        content = client.get("/papers/event-card.pdf").content
        return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages)

    assert "£" in words(crew)
    assert "£" not in words(reader)
