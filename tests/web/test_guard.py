"""The door: who comes in, and what is turned away before a page is asked."""

import asyncio
import re

import pytest
from fastapi.testclient import TestClient
from own_book import name_the_book

from tintop.web import guard as door
from tintop.web.app import make_app
from tintop.web.security import COOKIE, HEADERS, Role, sign

PHONE = "http://shed.local:8046"
NAMES = frozenset({"shed.local"})


def visitor(garage, *, address: str = "192.168.4.66", base: str = PHONE, **headers: str) -> TestClient:
    return TestClient(
        make_app(garage, host_names=NAMES),
        base_url=base,
        client=(address, 50000),
        headers={"Accept": "text/html", "Origin": base, **headers},
        follow_redirects=False,
    )


@pytest.fixture
def stranger(garage):
    """Somebody on the same network whose device was never paired."""
    return visitor(garage)


NAMED = {"answers": "quick", "legal": "test.drivers"}
OWNERS = ("/devices", "/documents", "/cage", "/rule-books")


def routes(garage, method: str) -> list[str]:
    """The addresses of a method, as the application itself describes them, with something in every gap."""
    found = []
    for path, operations in make_app(garage).openapi()["paths"].items():
        if method in operations:
            for gap, filled in (
                ("{meeting}", "midsummer"),
                ("{session}", "midsummer-race"),
                ("{part}", "front-pads-1"),
                ("{number}", "1"),
                ("{identifier}", "1"),
                ("{name}", NAMED.get(path.split("/")[1], "car.toml")),
                ("{address}", "bolt-group" if path.startswith("/calculators") else "pads"),
                ("{id}", "harrow"),
                ("{size}", "192"),
                ("{digest}", "0" * 64),
            ):
                path = path.replace(gap, filled)
            found.append(re.sub(r"{[^}]*}", "x", path))
    assert len(found) > 10
    return found


def test_a_stranger_is_sent_to_pairing_and_told_nothing(garage, stranger):
    for path in routes(garage, "get"):
        found = stranger.get(path)
        if path in door._OPEN_PATHS:
            continue
        assert (found.status_code, found.headers["location"]) == (303, f"/pair?then={path}"), path
        plain = stranger.get(path, headers={"Accept": "*/*"})
        assert (plain.status_code, plain.text) == (401, "This device is not paired with the laptop.")


def test_a_stranger_cannot_tell_what_is_there_from_what_is_not(stranger):
    for path in (
        "/events/midsummer",
        "/events/nothing",
        "/history?saved=1",
        "/documents/car.toml",
        "/x/../car",
    ):
        found = stranger.get(path, headers={"Accept": "*/*"})
        assert (found.status_code, found.text) == (401, "This device is not paired with the laptop.")


@pytest.mark.parametrize("path", ["/pair", "/pair?saved=14", "/pair?code=<b>", "/manifest.webmanifest"])
def test_what_a_stranger_may_see_says_nothing_of_the_garage(garage, stranger, path):
    found = stranger.get(path)
    assert found.status_code == 200
    for word in ("Lantern", "Robin", "Midsummer", "Entry fee", "320"):
        assert word not in found.text
    assert f'data-changes="{garage.changes}"' not in found.text
    assert visitor(garage).get("/pairing").status_code == 303  # a name that only begins like an open one


def test_a_stranger_may_post_nowhere_but_to_pairing(garage, stranger):
    before = garage.book.last_number
    for path in routes(garage, "post"):
        if path != "/pair":
            assert stranger.post(path, data={"key": "k"}).status_code == 401, path
    assert garage.book.last_number == before


def test_a_reader_is_turned_away_from_every_post_by_the_door(garage, reader):
    before, documents = garage.book.last_number, garage.store.digests()
    for path in routes(garage, "post"):
        if path != "/pair":
            found = reader.post(path, data={"key": "k"})
            assert (found.status_code, found.text) == (
                403,
                "This device was paired as a reader: it may look, not write.",
            ), path
    assert (garage.book.last_number, garage.store.digests()) == (before, documents)
    assert not garage.workshop.works()


def test_crew_may_write_entries_but_neither_documents_nor_devices(garage, crew):
    before = garage.store.digests()
    device = garage.store.devices()[0].identifier
    owners = [path for path in routes(garage, "post") if path.startswith(OWNERS)]
    assert {"/cage/new", "/cage/measures", "/cage/loads", "/rule-books", "/rule-books/harrow/copy"} <= {
        *owners
    }
    assert len(owners) >= 10
    for path in (*owners, f"/devices/{device}/revoke"):
        found = crew.post(path, data={"role": "crew", "text": "", "name": "x.toml", "seen": ""})
        assert found.status_code == 403, path
    assert garage.store.digests() == before
    assert garage.device(device) is not None
    for path in ("/devices", "/documents/new"):
        assert crew.get(path).status_code == 403


@pytest.mark.parametrize(
    ("path", "typed", "as_crew"),
    [
        ("/legal/proofs", {"fact": "test.opens", "value": "yes"}, 303),
        ("/legal/accident", {"what": "Kerb", "force": "hard"}, 303),
        ("/cage/new", {"name": "Main", "template": "six point"}, 403),
        ("/cage/measures", {"document": "cage.toml"}, 403),
        ("/cage/loads", {"document": "cage.toml"}, 403),
        ("/rule-books", {"title": "Ours"}, 403),
        ("/rule-books/harrow/copy", {}, 403),
        ("/rule-books/harrow/verify", {"clause": "number-height", "who": "Kim"}, 403),
    ],
)
def test_who_may_post_what_of_the_legal_part(garage, page, crew, reader, stranger, path, typed, as_crew):
    name_the_book(garage)
    assert path in routes(garage, "post")
    before, documents = garage.book.last_number, garage.store.digests()
    for client, status in ((stranger, 401), (reader, 403)):
        assert client.post(path, data={"key": "k", **typed}).status_code == status
    assert (garage.book.last_number, garage.store.digests()) == (before, documents)
    assert crew.post(path, data={"key": "k", **typed}).status_code == as_crew
    assert garage.store.digests() == documents
    assert garage.book.last_number == before + (as_crew == 303)
    assert page.post(path, data={"key": "k2", **typed}).status_code in (303, 404, 422)


@pytest.mark.parametrize("path", ["/legal/fact/test.drivers", "/legal/walk?station=all", "/legal/accident"])
def test_who_sees_a_form_of_the_legal_part(garage, page, crew, reader, stranger, path):
    name_the_book(garage)
    assert 'action="/legal/' in page.get(path).text and 'action="/legal/' in crew.get(path).text
    looked = reader.get(path)
    assert looked.status_code == 200 and "<form" not in looked.text
    assert stranger.get(path).status_code == 303


def test_no_get_changes_anything(garage, page):
    numbers, documents = garage.book.last_number, garage.store.digests()
    devices, originals = garage.store.devices(), garage.store.originals()
    for path in routes(garage, "get"):
        if path != "/live":
            page.get(f"{path}?saved=14&act=off&key=k&bring_back=x&text=x&number=1")
    assert (garage.book.last_number, garage.store.digests()) == (numbers, documents)
    assert (garage.store.devices(), garage.store.originals()) == (devices, originals)
    assert not garage.workshop.works()


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "0.0.0.0:8080", "[::1", "@", ""])
def test_a_foreign_name_leads_nowhere(page, host):
    for found in (page.get("/", headers={"Host": host}), page.post("/costs", headers={"Host": host})):
        assert found.status_code == 421
        assert found.text == "This address does not name the laptop that serves the page."


def test_another_site_gets_nothing_in_the_owners_browser(garage, page):
    asking = {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "image"}
    for path in ("/", "/lap/what-if.json", "/live", "/papers/originals/x", "/icon.svg"):
        assert page.get(path, headers=asking).status_code == 403, path
    framed = {**asking, "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}
    assert page.get("/", headers=framed).status_code == 403
    followed = {**asking, "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}
    assert page.get("/", headers=followed).status_code == 200


@pytest.mark.parametrize(
    "forged",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "https://127.0.0.1:8080"},
        {"Origin": "http://["},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"},
    ],
)
def test_a_form_of_another_site_does_nothing(garage, page, forged):
    before = garage.book.last_number
    found = page.post("/costs", data={"what": "Fuel", "amount": "10"}, headers=forged)
    assert (found.status_code, garage.book.last_number) == (403, before)
    assert "nothing was done" in found.text


def test_a_form_without_any_origin_does_nothing(garage, page):
    del page.headers["Origin"]
    assert page.post("/costs", data={"what": "Fuel", "amount": "10"}).status_code == 403
    ours = {"Sec-Fetch-Site": "same-origin"}
    assert page.post("/costs", data={"what": "Fuel", "amount": "10"}, headers=ours).status_code == 303


@pytest.mark.parametrize(
    "name", ["Host", "Origin", "Cookie", "Content-Length", "Content-Type", "Sec-Fetch-Site"]
)
def test_a_header_told_twice_is_refused(page, name):
    value = {"Host": "127.0.0.1:8080", "Content-Length": "0"}.get(name, "x")
    found = page.post("/costs", headers=[(name, "first"), (name, value)])
    assert (found.status_code, found.text) == (
        400,
        f"Found the header {name.lower()} twice; expected it once.",
    )


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "BREW"])
def test_no_other_method_is_used(page, method):
    found = page.request(method, "/costs")
    assert (found.status_code, found.text) == (405, "Found a method that is not used here.")


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (b'{"what": "Fuel", "amount": "10"}', "application/json"),
        (b"what=Fuel&amount=10", "text/plain"),
        (b"what=Fuel&amount=10", ""),
        (b"<what>Fuel</what>", "application/xml"),
        (b"--x\r\n", "multipart/form-data"),
        (b"--x\r\n", "multipart/form-data; boundary=x; charset=unicode_escape"),
    ],
)
def test_only_a_form_is_read(garage, page, body, kind):
    before = garage.book.last_number
    found = page.post("/costs", content=body, headers={"Content-Type": kind})
    assert (found.status_code, garage.book.last_number) == (415, before)
    assert found.text == "Found something else than a form; expected one sent by tintop's own page."


def test_a_packed_body_is_not_unpacked(page):
    form = {"Content-Type": "application/x-www-form-urlencoded", "Content-Encoding": "gzip"}
    assert page.post("/costs", content=b"\x1f\x8b\x08", headers=form).status_code == 415


FORM = {"Content-Type": "application/x-www-form-urlencoded"}


@pytest.mark.parametrize(
    ("path", "most"),
    [
        ("/costs", door.LARGEST_FORM),
        ("/pair", door.LARGEST_PAIRING),
        ("/papers/originals", door.LARGEST_UPLOAD),
        ("/papers/%6friginals", door.LARGEST_UPLOAD),
        ("/legal/proofs", door.LARGEST_UPLOAD),
        ("/papers/originals/", door.LARGEST_FORM),
    ],
)
def test_a_body_is_bounded_whether_its_length_is_told_or_not(page, path, most):
    told = page.post(path, content=b"a" * (most + 1), headers=FORM)
    untold = page.post(path, content=iter([b"a" * most, b"a"]), headers=FORM)
    size = "12 MB" if most == door.LARGEST_UPLOAD else f"{most // 1000} kB"
    for found in (told, untold):
        assert (found.status_code, found.text) == (
            413,
            f"Found more than {size}; expected less. Nothing was kept.",
        )
    assert page.post(path, content=b"a" * most, headers=FORM).status_code != 413


@pytest.mark.parametrize("length", ["-1", "1e3", "0x10", "+5", "5, 5", "9" * 5000, "²", "5.0", ""])
def test_a_length_that_is_none_is_refused(page, length):
    found = page.post("/costs", content=b"a=b", headers=[*FORM.items(), ("Content-Length", length.encode())])
    assert found.status_code == 413


def run(app, messages, scope=None):
    """Answer a request whose body arrives as an attacker pleases; gives what was sent."""
    sent: list[dict] = []
    scope = {
        "type": "http",
        "method": "POST",
        "path": "/costs",
        "client": ("127.0.0.1", 1),
        "headers": [
            (b"host", b"127.0.0.1"),
            (b"origin", b"http://127.0.0.1"),
            (b"content-type", b"application/x-www-form-urlencoded"),
        ],
        **(scope or {}),
    }

    async def send(message):
        sent.append(message)

    asyncio.run(door.Guard(app, scope.pop("garage"), NAMES)(scope, messages(), send))
    return sent


async def never(scope, receive, send):
    raise AssertionError("a page was asked")


def test_a_body_that_comes_drop_by_drop_is_not_waited_for(garage, monkeypatch):
    monkeypatch.setattr(door, "FORM_SECONDS", 0.05)

    def slow():
        drops = iter(range(50))

        async def receive():
            await asyncio.sleep(0.02)
            return {"type": "http.request", "body": b"a", "more_body": next(drops) < 49}

        return receive

    sent = run(never, slow, {"garage": garage})
    assert sent[0]["status"] == 408


def test_half_a_form_writes_nothing(garage):
    def broken_off():
        parts = [
            {"type": "http.request", "body": b"what=Fuel&amount=10", "more_body": True},
            {"type": "http.disconnect"},
        ]

        async def receive():
            return parts.pop(0)

        return receive

    assert run(never, broken_off, {"garage": garage}) == []


def test_a_page_that_fails_says_so_plainly_and_keeps_the_headers(garage):
    async def failing(scope, receive, send):
        raise ZeroDivisionError("/home/robin/secret")

    sent: list[dict] = []

    async def send(message):
        sent.append(message)

    async def receive():
        return {"type": "http.request"}

    scope = {
        "type": "http",
        "method": "GET",
        "path": "/",
        "client": ("127.0.0.1", 1),
        "headers": [(b"host", b"127.0.0.1")],
    }
    with pytest.raises(ZeroDivisionError):  # so that the terminal says what happened
        asyncio.run(door.Guard(failing, garage)(scope, receive, send))
    assert sent[0]["status"] == 500
    assert b"what was saved before is safe" in sent[1]["body"]
    assert b"robin" not in sent[1]["body"]
    told = {name.decode().lower(): value.decode() for name, value in sent[0]["headers"]}
    assert told["content-security-policy"] == HEADERS["Content-Security-Policy"]


def test_every_answer_carries_the_headers(garage, page, stranger):
    answers = [
        page.get("/"),
        page.get("/nothing"),
        page.get("/icon.svg"),
        page.get("/lap/readings.json"),
        page.get(f"{page.app.state.static_address}/live.js"),
        page.post("/costs", headers={"Origin": "null"}),
        page.post("/costs", data={}),
        page.put("/"),
        stranger.get("/"),
        stranger.get("/pair"),
        page.get("/", headers={"Host": "evil.example"}),
    ]
    for found in answers:
        for name, value in HEADERS.items():
            assert found.headers[name] == value, found.url
    assert page.get("/").headers["cache-control"] == "no-cache"
    assert stranger.get("/pair").headers["cache-control"] == "no-store"


FORGED = (
    "",
    "x",
    "owner",
    "W10.x.y",
    "..",
    "a" * 4000,
    "\xff\xfe",
    '"quoted"',
    "null",
)


@pytest.mark.parametrize("cookie", FORGED)
def test_a_forged_cookie_opens_nothing(stranger, cookie):
    header = {"Cookie": f"{COOKIE}={cookie}".encode("latin-1"), "Accept": "*/*"}
    assert stranger.get("/car", headers=header).status_code == 401


def test_a_cookie_signed_for_an_unknown_device_opens_nothing(garage, stranger):
    for name in ("", "x", "' OR 1=1 --"):
        header = {"Cookie": f"{COOKIE}={sign(name, garage.secret)}", "Accept": "*/*"}
        assert stranger.get("/car", headers=header).status_code == 401


def test_a_cookie_works_beside_the_odd_cookies_of_other_programs(garage, crew):
    good = crew.cookies[COOKIE]
    crew.cookies.clear()
    header = {"Cookie": f"odd one; other={{json: 1}}; {COOKIE}={good}; last"}
    assert crew.get("/car", headers=header).status_code == 200


def test_saying_to_be_the_laptop_does_not_make_one(garage):
    for header in ("X-Forwarded-For", "X-Real-IP", "Forwarded", "X-Client-IP", "X-Forwarded-Host"):
        client = visitor(garage, **{header: "127.0.0.1"})
        assert client.get("/car").status_code == 303
    assert visitor(garage, base="http://127.0.0.1:8046").get("/car").status_code == 303


def test_the_laptop_itself_under_its_name_on_the_network_is_no_owner(garage):
    assert visitor(garage, address="127.0.0.1").get("/devices").status_code == 303


def test_only_the_roles_that_are_meant_may_write():
    assert [role for role in Role if role.may_write] == [Role.OWNER, Role.CREW]
