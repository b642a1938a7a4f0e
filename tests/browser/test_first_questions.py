"""The first questions on the phone: a tap out of reach waits and is sent; a slip is asked about first."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from playwright.sync_api import expect

from browser.conftest import PHONE, TODAY, Served, Watching
from inspections import book_text, clause_text, fact_text
from tintop.garage.keeper import Garage
from tintop.logbook.entries import Draft, MeetingPlanned
from tintop.logbook.proof_entries import ProofRecorded
from tintop.settings import Settings
from tintop.store.starting import start_garage

BOOK = book_text(
    fact_text("own.is_closed", "yes or no", ask="Roof is closed"),
    fact_text(
        "own.height", "number", 'quantity = "length"\nunit = "mm"\nleast = "1 m"\nmost = "2 m"', ask="Height"
    ),
    clause_text("closed", 'applies_if = "own.is_closed"\nholds = "own.is_closed"'),
    clause_text("high", 'applies_if = "own.height > 1400 mm"\nholds = "own.is_closed"'),
)


@pytest.fixture
def begun(tmp_path: Path) -> Iterator[Served]:
    folder = tmp_path / "garage"
    garage = Garage(start_garage(folder, Settings(title="Shed car")), today=lambda: TODAY)
    garage.save_document("rule_books/club.toml", BOOK, based_on=None, who="Robin", why="new")
    day = TODAY + timedelta(days=11)
    meeting = MeetingPlanned(meeting="first", name="First", first_day=day, last_day=day, rule_books=("club",))
    garage.record([Draft(key="first", day=TODAY, who="Robin", matter=meeting)])
    garage.close()
    found = Served(folder)
    yield found
    found.stop()


def recorded(served: Served) -> dict[str, str]:
    return {proof.fact: proof.written for _entry, proof in served.garage.book.of(ProofRecorded)}


def test_one_tap_under_the_thumb_records_it(begun: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(begun.address + "/legal/begin", wait_until="load")
    expect(page.locator("#begin-counts")).to_contain_text("0 of 2 clauses apply")
    tap = page.locator("#own-is_closed .taps button", has_text="Yes")
    box = tap.bounding_box()
    assert box is not None and box["height"] >= 48 and box["x"] + box["width"] <= PHONE["width"]
    tap.click()
    expect(page.locator("#own-is_closed .outbox-words")).to_contain_text("Saved: yes")
    expect(page.locator("#begin-counts")).to_contain_text("1 of 2 clauses apply")
    assert recorded(begun) == {"own.is_closed": "yes"}


def test_a_tap_out_of_reach_waits_and_is_sent_once(begun: Served, watch: Watching) -> None:
    watched = watch(viewport=PHONE)
    page = watched.page()
    page.goto(begun.address + "/legal/begin", wait_until="load")
    watched.context.set_offline(True)
    page.locator("#own-is_closed .taps button", has_text="No").click()
    expect(page.locator("#outbox")).to_contain_text("Roof is closed: waiting to be sent")
    assert recorded(begun) == {}
    watched.context.set_offline(False)
    expect(page.locator("#outbox")).to_be_hidden(timeout=15_000)
    assert recorded(begun) == {"own.is_closed": "no"}


def test_a_slip_is_asked_and_sent_again_when_it_is_right(begun: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(begun.address + "/legal/begin", wait_until="load")
    form = page.locator("#own-height form")
    expect(form.locator(".sure")).to_be_hidden()
    form.locator("[name=value]").fill("14500")
    form.locator("button.main").click()
    expect(page.locator("#outbox")).to_contain_text("Height: asked. 14500 mm? Usual is")
    expect(form.locator(".sure")).to_be_visible()
    assert recorded(begun) == {}
    page.locator("#outbox button", has_text="It is right: send it").click()
    expect(page.locator("#outbox")).to_be_hidden()
    assert recorded(begun) == {"own.height": "14500 mm"}


def test_a_slip_is_mended_in_its_field(begun: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(begun.address + "/legal/begin", wait_until="load")
    form = page.locator("#own-height form")
    form.locator("[name=value]").fill("14500")
    form.locator("button.main").click()
    expect(form.locator(".sure")).to_be_visible()
    form.locator("[name=value]").fill("1450")
    form.locator("button.main").click()
    expect(form.locator(".outbox-words")).to_contain_text("Saved: 1450 mm")
    expect(page.locator("#outbox")).to_be_hidden()
    expect(form.locator(".sure")).to_be_hidden()
    assert recorded(begun) == {"own.height": "1450 mm"}
