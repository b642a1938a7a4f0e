"""Markup typed everywhere, looked at in a real browser: no script of it runs, and no site frames the page."""

import re
import threading
from collections.abc import Iterator
from datetime import date
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import pytest
from playwright.sync_api import expect

from browser.conftest import Served, Watching
from tintop.logbook.entries import (
    Area,
    CostKind,
    CostPaid,
    Draft,
    JobOpened,
    Matter,
    MeetingClosed,
    PartAdded,
    PartFitted,
    Remark,
    SupportReceived,
)

RUNS = "<script>window.taken=1</script><img src=x onerror=window.taken=1><svg onload=window.taken=1>"
OUT = f"\"'>{RUNS}"
LOOKED_AT = (
    "/",
    "/car",
    "/car/parts/odd",
    "/events/larkmoor",
    "/ready",
    "/costs",
    "/history",
    "/devices",
    "/papers",
    "/answers/ready",
    f"/pair?code={RUNS[:20]}&then=/{RUNS}",
    f"/history?text={RUNS}",
)


def _matters() -> list[Matter]:
    return [
        PartAdded(part="odd", name=OUT, family=OUT, area=Area.ENGINE_BAY, supplier=OUT, maker_number=OUT),
        PartFitted(part="odd"),
        Remark(text=OUT, about="odd"),
        JobOpened(job="odd", title=OUT, meeting="larkmoor", part="odd", stops_running=True),
        CostPaid(cost_kind=CostKind.OTHER, cents=100, what=OUT, supplier=OUT, meeting="larkmoor"),
        SupportReceived(support="odd", supporter=OUT, what=OUT, list_price_cents=100, owed=OUT),
        MeetingClosed(meeting="larkmoor", result=OUT),
    ]


def test_no_script_that_was_typed_runs(served: Served, watch: Watching) -> None:
    served.garage.record(
        [
            Draft(key=f"odd {place}", day=date(2026, 6, 8), who=OUT, note=OUT, matter=matter)
            for place, matter in enumerate(_matters())
        ]
    )
    served.garage.pair("<img src=x onerror=window.taken=1>", "crew")
    page = watch().page()
    for path in LOOKED_AT:
        answer = page.goto(served.address + path, wait_until="load")
        assert answer is not None and answer.status == 200, path
        if path == "/history":
            expect(page.locator("main")).to_contain_text("<script>window.taken=1</script>")
        assert page.evaluate("window.taken") is None, path
        assert page.locator("img[src=x], main script").count() == 0, path


def test_what_is_said_about_a_typed_text_runs_nothing(served: Served, watch: Watching) -> None:
    page = watch().page()
    page.goto(served.address + "/costs", wait_until="load")
    field = page.locator("[data-understand]").first
    field.evaluate("field => { field.closest('details')?.setAttribute('open', ''); }")
    field.fill(RUNS)
    page.wait_for_timeout(500)
    assert page.evaluate("window.taken") is None


def test_the_policy_stops_a_script_even_where_markup_got_through(served: Served, watch: Watching) -> None:
    watched = watch()
    page = watched.page()
    page.goto(served.address + "/car", wait_until="load")
    page.evaluate("words => { document.querySelector('main').innerHTML = words; }", RUNS)
    page.evaluate(
        """words => { const one = document.createElement("script"); one.textContent = words;
        document.body.append(one); }""",
        "window.taken = 1",
    )
    page.wait_for_timeout(200)
    assert page.evaluate("window.taken") is None
    assert any(re.search("Content.Security.Policy", words) for words in watched.complaints)


EVIL = """<!doctype html><title>evil</title><iframe name="inside" src="HERE/costs"></iframe>
<form id="post" method="post" action="HERE/costs" target="inside">
<input name="what" value="Fuel"><input name="amount" value="10"></form>
<img src="HERE/icon.svg" id="image">
<script>
window.read = [];
for (const path of ["/costs", "/live", "/history"])
  fetch("HERE" + path, {credentials: "include"}).then(() => read.push(path), () => read.push(""));
document.getElementById("post").submit();
</script>"""


@pytest.fixture
def evil(served: Served) -> Iterator[str]:
    """Another program's page on the same machine: the same site to the browser, another origin."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(EVIL.replace("HERE", served.address).encode())

        def log_message(self, *_given: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


def test_a_page_of_another_origin_can_neither_frame_nor_post_nor_read(
    served: Served, watch: Watching, evil: str
) -> None:
    before = served.garage.book.last_number
    page = watch().page()
    page.goto(evil, wait_until="load")
    page.wait_for_function("window.read.length === 3")
    page.wait_for_timeout(300)
    assert page.evaluate("window.read") == ["", "", ""]
    assert page.evaluate("document.getElementById('image').naturalWidth") == 0
    assert served.garage.book.last_number == before
    assert "Entry fee" not in "".join(frame.content() for frame in page.frames)


def test_a_revoked_phone_is_sent_to_pairing_by_its_open_page(served: Served, watch: Watching) -> None:
    page = watch(served.cookie("Kim", "crew")).page()
    page.goto(served.phone_address() + "/costs", wait_until="load")
    page.wait_for_timeout(300)
    (device,) = served.garage.store.devices()
    served.garage.revoke(device.identifier)
    page.wait_for_url("**/pair**", timeout=8000)
    expect(page.locator("h1")).to_have_text("Pair this phone")
