"""Markup in every text field of every form the pages show: kept as words, shown as words."""

import re
from dataclasses import dataclass
from html.parser import HTMLParser

from fastapi.testclient import TestClient
from own_book import name_the_book
from test_guard import routes

from tintop.logbook.entries import MeetingPlanned, PartAdded

MARKUP = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "'><svg onload=alert(1)>",
    "{{7*7}}{% raw %}",
    "javascript:alert(1)",
    "</textarea><b>bold</b>",
)
_RAW = re.compile(r"<script>alert|<img src=x|<svg onload|<b>bold|49\{", re.IGNORECASE)
_SENT = re.compile(r"""(?:href|src|action|formaction)\s*=\s*["']?\s*javascript:""", re.IGNORECASE)
_TEXT = {"", "text", "search", "date", "number", "time"}


@dataclass
class Form:
    """One form of a page: where it posts, and its fields with what stands in them."""

    action: str
    fields: dict[str, str]
    typed: list[str]


class Forms(HTMLParser):
    """Finds the forms of a page, and every attribute that would run something."""

    def __init__(self, address: str) -> None:
        super().__init__(convert_charrefs=True)
        self.address = address.partition("?")[0]
        self.found: list[Form] = []
        self.running: list[str] = []
        self._form: Form | None = None
        self._select = self._area = ""

    def handle_starttag(self, tag, attrs):
        given = {name: value or "" for name, value in attrs}
        self.running += [f"{tag} {name}" for name in given if name.startswith("on") or name == "style"]
        if tag in ("script", "iframe", "object", "embed", "base", "meta", "link", "style"):
            is_ours = given.get("src", given.get("href", "")).startswith("/")
            if tag not in ("meta", "link", "script") or (tag == "script" and not is_ours):
                self.running.append(tag)
        if tag == "form" and given.get("method", "get").lower() == "post":
            self._form = Form(given.get("action") or self.address, {}, [])
            self.found.append(self._form)
        if self._form is None or not given.get("name"):
            if self._form is not None and tag == "option" and self._select:
                self._form.fields.setdefault(self._select, given.get("value", ""))
                if "selected" in given:
                    self._form.fields[self._select] = given.get("value", "")
            return
        name = given["name"]
        if tag == "select":
            self._select = name
        elif tag == "textarea":
            self._form.fields[name] = ""
            self._form.typed.append(name)
        elif tag == "input" and given.get("type", "") in _TEXT:
            self._form.fields[name] = given.get("value", "")
            self._form.typed.append(name)
        elif tag == "input" and given.get("type") == "hidden":
            self._form.fields[name] = given.get("value", "")
        elif tag == "button" and given.get("value"):
            self._form.fields[name] = given["value"]

    def handle_endtag(self, tag):
        if tag == "form":
            self._form = None
        if tag == "select":
            self._select = ""


def look(client: TestClient, address: str) -> Forms:
    found = client.get(address)
    if found.status_code in (302, 303, 307):
        found = client.get(found.headers["location"])
    forms = Forms(str(found.url).replace("http://127.0.0.1:8080", ""))
    if "text/html" in found.headers.get("content-type", ""):
        check(found.text, address)
        forms.feed(found.text)
        assert forms.running == [], address
    return forms


def check(page: str, where: str) -> None:
    assert not _RAW.search(page), f"{where}: {_RAW.search(page)}"
    assert not _SENT.search(page), f"{where}: {_SENT.search(page)}"


def addresses(garage) -> list[str]:
    found = [path for path in routes(garage, "get") if path not in ("/live", "/service-worker.js")]
    found = [path for path in found if not path.startswith("/papers/") or path.count("/") == 1]
    found += [f"/answers/{name}" for name in ("ready", "legal", "lasting", "affordable")]
    found += ["/legal/walk?station=all"] + [f"/legal/fact/test.{name}" for name in ("top", "label", "plate")]
    found += ["/events/midsummer/run-sheet/new", "/documents/garage.toml", "/pair"]
    found += [f"/reading/{kind}" for kind in ("tread", "weights", "discs", "pads")]
    return found


GOOD = {
    "day": "2026-06-01",
    "cost_day": "2026-06-01",
    "set_day": "2026-06-01",
    "first_day": "2026-07-01",
    "last_day": "2026-07-01",
    "owed_by": "2026-07-01",
    "clock": "",
    "amount": "10",
    "list_price": "10",
    "laps": "12",
    "minutes": "20 min",
    "lap_length": "2.6 km",
}
_NUMBERS = re.compile(
    "pressure|tread|pad_|temp|peak|fuel|mass|price|cost|_paid|limit|length|new|least|minutes|number|lap|came"
    "|day|clock|value|distance|thickness|doubt|position|amount|x$|y$|z$"
)


def filled(form: Form, markup: str, *, everywhere: bool) -> dict[str, str]:
    """The form with markup in every text field, or only where words are meant, so that it is saved."""
    found = dict(form.fields)
    for name in form.typed:
        if everywhere:
            found[name] = markup
        elif name in GOOD:
            found[name] = GOOD[name]
        elif not found[name]:
            found[name] = "" if _NUMBERS.search(name) else markup
    return found


def test_markup_in_every_text_field_is_words(garage, page):
    name_the_book(garage)
    tried, saved, looked = set(), 0, addresses(garage)
    forms = {}
    for address in looked:
        for form in look(page, address).found:
            forms.setdefault((form.action, tuple(sorted(form.fields))), form)
    for place, form in enumerate(forms.values()):
        if form.action.endswith("/originals") or form.action == "/answers/predict":
            continue
        other = MARKUP[1 + place % (len(MARKUP) - 1)]
        for markup, everywhere in ((other, True), (MARKUP[0], False), (other, False)):
            typed = filled(form, markup, everywhere=everywhere)
            typed["key"] = f"{place} {everywhere} {MARKUP.index(markup)}"
            found = page.post(form.action, data=typed)
            assert found.status_code < 500, form.action
            check(found.text, form.action)
            saved += found.status_code == 303
            tried.update((form.action, name) for name in form.typed)
            if found.status_code == 303:
                look(page, found.headers["location"])
    assert len(tried) >= 60 and saved >= 12
    actions = {action for action, _name in tried}
    legal = {"/legal/proofs", "/legal/accident", "/cage/new", "/rule-books", "/rule-books/harrow/verify"}
    assert legal <= actions, legal - actions
    looked += [f"/car/parts/{part.part}" for _, part in garage.book.of(PartAdded)]
    looked += [f"/history?page={number}" for number in (1, 2, 3)]
    looked += [f"/events/{entry.matter.meeting}" for entry in garage.book.entries if _is_meeting(entry)]
    for markup in MARKUP:
        looked += [f"/history?text={markup}", f"/pair?code={markup}&then=/{markup}", f"/costs?event={markup}"]
        looked += [f"/understand?kind=money&text={markup}&name={markup}", f"/lap?event={markup}"]
        looked += [f"/documents/{markup}", f"/{markup}", f"/events/{markup}", f"/history?day={markup}"]
    for address in looked:
        look(page, address)
    assert "&lt;script&gt;" in page.get("/history").text + page.get("/history?page=2").text


def _is_meeting(entry) -> bool:
    return isinstance(entry.matter, MeetingPlanned)
