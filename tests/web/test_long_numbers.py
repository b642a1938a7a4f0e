"""A number of thousands of digits in a document: refused with its line on every page, and nothing breaks."""

import pytest
from own_book import BOOK, name_the_book

LONG = {"decimal": "9" * 5_000, "hexadecimal": "0x" + "f" * 6_000, "binary": "0b" + "1" * 20_000}
TEXTS = {
    "car.toml": "driven_axle = {}\n",
    "cage.toml": "[template]\nwidth = {}\n",
    "rule_books/harrow.toml": BOOK.replace('edition = "2026"', "edition = {}"),
    "events/midsummer.toml": 'name = "x"\nlaps = {}\n',
}
PAGES = ("/", "/legal", "/rule-books", "/documents", "/car", "/events", "/cage")


@pytest.mark.parametrize("number", LONG.values(), ids=LONG)
@pytest.mark.parametrize("name", TEXTS)
def test_edited_outside_while_it_is_served(garage, page, name, number):
    name_the_book(garage)
    path = garage.folder / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(TEXTS[name].replace("{}", number), "utf-8")
    for address in PAGES:
        assert page.get(address).status_code == 200, address
    shown = page.get(f"/documents/{name}")
    assert shown.status_code == 200


@pytest.mark.parametrize("name", [name for name in TEXTS if name != "cage.toml"])
def test_typed_on_the_page(garage, page, name):
    name_the_book(garage)
    text = TEXTS[name].replace("{}", LONG["decimal"])
    seen = garage.document(name).digest
    answer = page.post(f"/documents/{name}", data={"text": text, "seen": seen, "why": ""})
    assert answer.status_code == 422
    assert "a number of 5,000 characters" in answer.text
