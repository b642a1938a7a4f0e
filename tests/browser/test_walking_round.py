"""The walk-round on a phone: entries and photographs wait while the laptop is away, and arrive once."""

import gzip
import io
import re
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from browser.conftest import PHONE, Served, Watching
from tintop.logbook.entries import Draft, Entry, MeetingPlanned, PaperAdded
from tintop.logbook.proof_entries import ProofRecorded
from tintop.store.revisions import digest_of

BOOK = """[book]
id = "paddock"
title = "Paddock book"
edition = "2026"
jurisdiction = "Harrow Down Touring Club"
valid_from = 2026-01-01
cautions = ["A working aid, never the regulations."]

[[fact]]
name = "paddock.height"
ask = "Height of the door numbers"
kind = "number"
quantity = "length"
unit = "mm"
station = "outside"

[[fact]]
name = "paddock.eye"
ask = "Towing eye at the front"
kind = "yes or no"
station = "outside"

[[fact]]
name = "paddock.anchor"
ask = "Shoulder strap anchor"
kind = "point"
station = "cabin"

[[fact]]
name = "paddock.label"
ask = "Year on the belt label"
kind = "marked date"
station = "cabin"

[[clause]]
id = "all"
group = "body"
title = "All of it"
requirement = "It is on record."
reference = "1"
severity = "stops you racing"
known = "own"
shown = ["paddock.height", "paddock.eye", "paddock.anchor", "paddock.label"]
"""
WALK = "/legal/walk?event=larkmoor&station=all"


@pytest.fixture
def phone(served: Served, watch: Watching) -> Page:
    served.garage.save_document("rule_books/paddock.toml", BOOK, based_on=None, who="", why="")
    for entry, plan in tuple(served.garage.book.of(MeetingPlanned)):
        if plan.meeting == "larkmoor":
            under = replace(plan, rule_books=("paddock",))
            day = served.garage.today()
            served.garage.record([Draft(key="under", day=day, who="", matter=under, corrects=entry.number)])
    page = watch(served.cookie("Jo, paddock", "crew"), viewport=PHONE, has_touch=True).page()
    page.goto(served.phone_address() + WALK)
    page.wait_for_timeout(300)  # the live stream is open
    return page


def _photograph(folder: Path, name: str = "number.jpg") -> Path:
    found = io.BytesIO()
    Image.effect_noise((320, 240), 60).convert("RGB").save(found, "JPEG")
    file = folder / name
    file.write_bytes(found.getvalue())
    return file


def _card(page: Page, name: str):
    card = page.locator(f"details.card#{name}")
    card.evaluate("card => card.parentElement.closest('details')?.setAttribute('open', '')")
    if not card.evaluate("card => card.open"):
        card.locator("summary").first.click()
    return card


def _save(card) -> None:
    card.locator("button.main").click()
    expect(card.locator(".outbox-words")).not_to_have_text("")


def _entries(served: Served) -> list[tuple[Entry, ProofRecorded]]:
    book = served.garage.book
    return [(entry, proof) for entry, proof in book.of(ProofRecorded) if proof.fact.startswith("paddock.")]


def _proofs(served: Served) -> list[ProofRecorded]:
    return [proof for _entry, proof in _entries(served)]


def test_entry_and_photograph_made_out_of_reach_survive_a_reload_and_arrive_once(
    served: Served, phone: Page, tmp_path: Path
) -> None:
    photograph = _photograph(tmp_path)
    served.stop()
    expect(phone.locator("#connection")).to_contain_text("cannot be reached", timeout=5000)
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("240")
    card.locator("input[name=photo]").set_input_files(photograph)
    _save(card)
    expect(phone.locator("#outbox")).to_contain_text(
        "Height of the door numbers, 1 photograph: waiting to be sent"
    )
    expect(phone.locator("#connection")).to_contain_text("Waiting to be sent: 1 entry with 1 photograph")
    expect(card.locator(".waits")).to_be_visible()
    context = phone.context
    phone.close()
    served.start()
    phone = context.new_page()
    phone.goto(served.phone_address() + "/ready")
    expect(phone.locator("#connection")).not_to_contain_text("Waiting to be sent", timeout=15000)
    for _more in range(2):
        phone.goto(served.phone_address() + WALK)
        phone.wait_for_timeout(400)
    (proof,) = _proofs(served)
    assert proof.values == (pytest.approx(0.24),)
    assert proof.papers == (digest_of(photograph.read_bytes()),)
    assert [paper.digest for _entry, paper in served.garage.book.of(PaperAdded)].count(proof.papers[0]) == 1
    assert served.garage.store.original_content(proof.papers[0]) == photograph.read_bytes()
    expect(phone.locator("#outbox")).to_be_hidden()
    expect(phone.locator("#state-paddock-height")).to_contain_text("240")


def test_several_wait_in_their_order_and_all_arrive_when_the_laptop_is_back(
    served: Served, phone: Page
) -> None:
    served.stop()
    expect(phone.locator("#connection")).to_contain_text("cannot be reached", timeout=5000)
    card = _card(phone, "paddock-eye")
    card.get_by_label("Yes").check()
    _save(card)
    card = _card(phone, "paddock-anchor")
    for axis, value in (("x", "1200"), ("y", "350"), ("z", "900")):
        card.locator(f"input[name={axis}]").fill(value)
    card.locator("[data-turn=paddock-anchor-x]").click()
    _save(card)
    card = _card(phone, "paddock-label")
    card.get_by_role("button", name="Missing or cannot be read").click()
    expect(phone.locator("#outbox li")).to_have_count(3)
    served.start()
    expect(phone.locator("#outbox")).to_be_hidden(timeout=20000)
    found = {proof.fact: proof for proof in _proofs(served)}
    assert found["paddock.eye"].values == (1.0,)
    assert found["paddock.anchor"].values == pytest.approx((-1.2, 0.35, 0.9))
    assert found["paddock.label"].marked_to == "unreadable"
    assert len(_proofs(served)) == 3


def test_a_saved_card_stays_open_with_what_is_found_until_one_goes_on(served: Served, phone: Page) -> None:
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("240")
    expect(card.locator(".understood")).to_have_text(re.compile("240"))
    _save(card)
    expect(phone.locator("#paddock-height")).to_have_attribute("open", "")
    expect(card.locator(".outbox-words")).to_contain_text("Saved: 240 mm")
    expect(card.locator(".outbox-words")).to_contain_text("Open for another reason: All of it")
    expect(phone.locator("#state-paddock-height")).to_contain_text("240", timeout=5000)
    card.get_by_role("button", name="Next: Towing eye at the front").click()
    expect(phone.locator("#paddock-height")).not_to_have_attribute("open", "")
    expect(phone.locator("#paddock-eye")).to_have_attribute("open", "")


@pytest.mark.parametrize(
    ("status", "kind", "body", "words"),
    [
        (422, "application/json", '{"problems": {"value": "Found tall."}}', "Found tall."),
        (422, "application/json", "{}", "Refused without a word (422)."),
        (409, "text/html", "<main><p>Saved by another.</p></main>", "Saved by another."),
        (413, "text/plain", "Found more than 12 MB.", "Found more than 12 MB."),
        (200, "text/html", "<h1>Welcome to the paddock network</h1>", "waiting to be sent"),
    ],
)
def test_nothing_is_thrown_away_that_the_laptop_has_not_taken(
    served: Served, phone: Page, tmp_path: Path, status: int, kind: str, body: str, words: str
) -> None:
    def answer(route):
        route.fulfill(status=status, content_type=kind, body=body)

    phone.route("**/legal/proofs", answer)
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("240")
    card.locator("input[name=photo]").set_input_files(_photograph(tmp_path))
    _save(card)
    expect(phone.locator("#outbox li")).to_contain_text(words)
    phone.unroute("**/legal/proofs", answer)
    phone.reload()
    if status != 200:
        expect(phone.locator("#outbox li")).to_contain_text(words)
        assert _proofs(served) == []
        phone.get_by_role("button", name="Send it again").click()
    expect(phone.locator("#state-paddock-height")).to_contain_text("240", timeout=15000)
    expect(phone.locator("#outbox")).to_be_hidden()
    (proof,) = _proofs(served)
    assert len(proof.papers) == 1


def test_a_wrong_file_is_refused_before_it_is_sent(served: Served, phone: Page, tmp_path: Path) -> None:
    wrong = {
        "zip.jpg": (b"PK\x03\x04" + bytes(100), "neither a photograph"),
        "apple.jpg": (b"\x00\x00\x00\x18ftypheic" + bytes(100), "HEIC"),
        "huge.jpg": (b"\xff\xd8\xff" + bytes(13_000_000), "MB at most"),
        "short.jpg": (_photograph(tmp_path).read_bytes()[:40], "cannot be opened"),
    }
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("240")
    for name, (content, words) in wrong.items():
        file = tmp_path / name
        file.write_bytes(content)
        card.locator("input[name=photo]").set_input_files(file)
        _save(card)
        expect(card.locator(".outbox-words")).to_contain_text(words)
    assert _proofs(served) == []
    expect(phone.locator("#outbox")).to_be_hidden()
    assert card.locator("input[name=value]").input_value() == "240"


def test_what_the_laptop_refuses_stays_on_the_phone_and_says_why(served: Served, phone: Page) -> None:
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("tall")
    _save(card)
    expect(phone.locator("#outbox li")).to_contain_text("refused")
    assert _proofs(served) == []
    phone.reload()
    expect(phone.locator("#outbox li")).to_contain_text("refused")
    phone.get_by_role("button", name="Throw it away").click()
    expect(phone.locator("#outbox")).to_be_hidden()


def test_what_was_refused_is_mended_and_sent_again_with_its_photograph(
    served: Served, phone: Page, tmp_path: Path
) -> None:
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("tall")
    card.locator("input[name=photo]").set_input_files(_photograph(tmp_path))
    _save(card)
    expect(phone.locator("#outbox li")).to_contain_text("refused")
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("240")
    _save(card)
    expect(phone.locator("#outbox")).to_be_hidden()
    (proof,) = _proofs(served)
    assert len(proof.papers) == 1


def test_a_photograph_chosen_and_not_saved_outlives_a_reload_and_is_sent_once(
    served: Served, phone: Page, tmp_path: Path
) -> None:
    photograph = _photograph(tmp_path)
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("240")
    card.locator("input[name=photo]").set_input_files(photograph)
    expect(card.locator(".shot-words")).to_have_text("1 chosen, kept on this device until you save")
    phone.reload()
    card = _card(phone, "paddock-height")
    expect(card.locator(".shot-words")).to_contain_text("1 chosen before")
    _save(card)
    expect(card.locator(".outbox-words")).to_contain_text("Saved", timeout=20000)
    expect(phone.locator("#outbox")).to_be_hidden()
    (proof,) = _proofs(served)
    assert proof.papers == (digest_of(photograph.read_bytes()),)
    phone.reload()
    card = _card(phone, "paddock-height")
    expect(card.locator("input[name=value]")).to_be_attached()  # its form has followed
    phone.wait_for_timeout(300)
    assert card.locator("input[name=photo]").evaluate("field => field.files.length") == 0


def test_what_is_recorded_can_be_recorded_anew_out_of_reach(served: Served, phone: Page) -> None:
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("240")
    _save(card)
    expect(phone.locator("#outbox")).to_be_hidden()
    phone.reload()
    expect(phone.locator("#rest-words")).to_contain_text("works without the laptop")
    expect(phone.locator(".recorded > summary")).to_have_text("Recorded: 1")
    served.stop()
    expect(phone.locator("#connection")).to_contain_text("cannot be reached", timeout=5000)
    card = _card(phone, "paddock-height")
    card.locator("input[name=value]").fill("250")
    _save(card)
    expect(phone.locator("#outbox li")).to_have_count(1)
    served.start()
    expect(phone.locator("#outbox")).to_be_hidden(timeout=20000)
    assert [proof.values for proof in _proofs(served)] == [pytest.approx((0.24,)), pytest.approx((0.25,))]


def test_one_station_at_a_time_and_a_link_to_a_card_opens_it_there(served: Served, phone: Page) -> None:
    phone.goto(served.phone_address() + "/legal/walk?event=larkmoor&station=cabin")
    assert phone.locator("details.card").count() == 2
    phone.locator(".to-do a", has_text="Height of the door numbers").click()
    expect(phone.locator("#paddock-height")).to_have_attribute("open", "")
    assert phone.locator("details.card").count() == 2
    expect(phone.locator(".stations [aria-current]")).to_contain_text("Outside")


def test_a_station_with_all_recorded_is_short_and_light(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=PHONE).page()
    page.goto(looked_at.address + "/legal/walk", wait_until="load")
    links = page.locator(".stations a").all()
    for address in [link.get_attribute("href") for link in links][:-1]:
        answer = page.goto(looked_at.address + str(address), wait_until="load")
        assert answer is not None and len(gzip.compress(answer.body(), 5)) < 100_000, address
        if page.locator(".open-card").count() == 0:
            assert page.evaluate("document.documentElement.scrollHeight") < 6 * PHONE["height"], address


def test_who_writes_is_remembered_on_the_phone(served: Served, phone: Page) -> None:
    phone.fill("#walk-who", "Kim")
    phone.reload()
    assert phone.input_value("#walk-who") == "Kim"
    card = _card(phone, "paddock-eye")
    card.get_by_label("No", exact=True).check()
    _save(card)
    expect(phone.locator("#state-paddock-eye")).to_have_text(re.compile(r"^\s*no\b"), timeout=5000)
    assert [entry.who for entry, _proof in _entries(served)] == ["Kim"]


def test_every_thing_to_tap_is_large_enough_for_a_thumb(served: Served, phone: Page) -> None:
    for name in ("paddock-height", "paddock-eye", "paddock-anchor", "paddock-label"):
        card = _card(phone, name)
        for one in card.locator(
            "button:visible, summary:visible, .big-choice label:visible, .shot:visible"
        ).all():
            box = one.bounding_box()
            assert box is not None and box["height"] >= 44 and box["x"] + box["width"] <= 390, (
                one.inner_text()
            )
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_facts_own_page_reads_back_what_is_typed(served: Served, phone: Page) -> None:
    phone.goto(served.phone_address() + "/legal/fact/paddock.height?event=larkmoor")
    phone.locator("#paddock-height input[name=value]").fill("9.5")
    phone.locator("#paddock-height select[name=unit]").select_option("in")
    expect(phone.locator("#paddock-height-understood")).to_contain_text("241.3 mm")
    phone.locator("#paddock-height button.main").click()
    phone.wait_for_url("**saved=**")
    assert _proofs(served)[0].values == (pytest.approx(0.2413),)
