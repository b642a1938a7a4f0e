"""Two phones and the laptop on one garage: what one writes the others see, and nothing typed is lost."""

import time

from playwright.sync_api import Page, expect

from browser.conftest import PHONE, WIDE, Served, Watching

SHEET = "/events/larkmoor/run-sheet/larkmoor-practice"


def _phones(served: Served, watch: Watching) -> tuple[Page, Page]:
    first = watch(served.cookie("Jo, pit wall", "crew"), viewport=PHONE).page()
    second = watch(served.cookie("Kim, garage", "crew"), viewport=PHONE).page()
    return first, second


def _write_drive(page: Page, laps: str) -> None:
    page.fill("#minutes", "20 min")
    page.fill("#laps", laps)
    page.locator("main form.sheet button[type=submit]").first.click()


def test_a_change_is_seen_on_the_other_devices_within_a_second(served: Served, watch: Watching) -> None:
    laptop = watch(viewport=WIDE).page()
    laptop.goto(served.address + "/events/larkmoor")
    reader = watch(served.cookie("Sam", "reader"), viewport=PHONE).page()
    reader.goto(served.phone_address() + "/history")
    phone, _second = _phones(served, watch)
    phone.goto(served.phone_address() + SHEET)
    laptop.wait_for_timeout(500)  # both live streams are open
    before = served.garage.book.last_number
    _write_drive(phone, "12")
    while served.garage.book.last_number == before:
        laptop.wait_for_timeout(5)
    written = time.monotonic()
    expect(laptop.locator("main")).to_contain_text("12 laps", timeout=1000)
    expect(reader.locator("main")).to_contain_text("12 laps", timeout=1000)
    assert time.monotonic() - written < 1.5


def test_two_who_change_the_same_number_both_see_it(served: Served, watch: Watching) -> None:
    first, second = _phones(served, watch)
    for page in (first, second):
        page.goto(served.phone_address() + SHEET)
    _write_drive(first, "12")
    first.wait_for_url("**saved=**")
    _write_drive(second, "13")
    problem = second.locator("main .problem").first
    expect(problem).to_be_visible()
    expect(second.locator("main")).to_contain_text("12")
    assert second.input_value("#laps") == "13"
    runs = [run for _entry, run in served.garage.book.of(_session_run()) if run.session.endswith("practice")]
    assert [run.laps for run in runs if run.meeting == "larkmoor"] == [12]
    first.goto(served.phone_address() + SHEET)
    assert first.input_value("#laps") in ("12", "12 laps")


def _session_run() -> type:
    from tintop.logbook.entries import SessionRun

    return SessionRun


def test_typed_text_survives_a_reload(served: Served, watch: Watching) -> None:
    phone, _second = _phones(served, watch)
    phone.goto(served.phone_address() + SHEET)
    phone.fill("#remark_words", "Pushes on at the long left")
    phone.fill("#pressure_hot_FL", "32,5")
    phone.reload()
    assert phone.input_value("#remark_words") == "Pushes on at the long left"
    assert phone.input_value("#pressure_hot_FL") == "32,5"


def test_what_is_sent_while_the_laptop_is_away_arrives_once_after_its_restart(
    served: Served, watch: Watching
) -> None:
    phone, _second = _phones(served, watch)
    phone.goto(served.phone_address() + SHEET)
    laptop = watch(viewport=WIDE).page()
    laptop.goto(served.address + "/events/larkmoor")
    phone.wait_for_timeout(300)
    served.stop()
    expect(phone.locator("#connection")).to_contain_text("cannot be reached", timeout=5000)
    _write_drive(phone, "14")
    expect(phone.locator("#connection")).to_contain_text("Not sent yet", timeout=3000)
    served.start()
    phone.wait_for_url("**saved=**", timeout=15000)
    runs = [run for _entry, run in served.garage.book.of(_session_run()) if run.meeting == "larkmoor"]
    assert [run.laps for run in runs] == [14]
    expect(laptop.locator("main")).to_contain_text("14 laps", timeout=15000)


def test_what_could_not_be_sent_is_said_where_the_thumb_is_and_so_is_that_it_was_sent(
    served: Served, watch: Watching
) -> None:
    phone, _second = _phones(served, watch)
    phone.goto(served.phone_address() + SHEET)
    phone.wait_for_timeout(300)
    served.stop()
    phone.fill("#remark_words", "Pedal long")
    button = phone.get_by_role("button", name="Save the sheet")
    button.click()
    expect(phone.locator("#connection")).to_contain_text("Not sent yet", timeout=3000)
    expect(phone.locator("#connection")).to_be_in_viewport(ratio=1)
    beside = phone.locator(".sending", has_text="Not sent yet")
    expect(beside).to_be_in_viewport()
    words, thumb = beside.bounding_box(), button.bounding_box()
    assert words and thumb and 0 <= words["y"] - thumb["y"] - thumb["height"] < 60
    phone.wait_for_timeout(2500)  # the live stream tries again and fails again
    expect(phone.locator("#connection")).to_contain_text("Not sent yet")
    served.start()
    phone.wait_for_url("**saved=**", timeout=15000)
    expect(phone.locator("#connection")).to_contain_text("was sent and is saved")
    expect(phone.locator("#connection")).to_be_in_viewport(ratio=1)


def test_one_tap_writes_several_values_to_their_fields_and_leaves_what_was_typed(
    served: Served, watch: Watching
) -> None:
    phone, _second = _phones(served, watch)
    phone.goto(served.phone_address() + SHEET)
    phone.fill("#pressure_hot_RR", "29")
    phone.fill("#pressure_hot_FL", "32/30")
    phone.get_by_role("button", name="front 32 psi, rear 30 psi").click()
    hot = [phone.input_value(f"#pressure_hot_{corner}") for corner in ("FL", "FR", "RL", "RR")]
    assert hot == ["32 psi", "32 psi", "30 psi", "29"]


def test_a_revoked_phone_is_turned_away(served: Served, watch: Watching) -> None:
    phone, _second = _phones(served, watch)
    phone.goto(served.phone_address() + "/events/larkmoor")
    device = next(one for one in served.garage.store.devices() if one.name == "Jo, pit wall")
    served.garage.store.revoke_device(device.identifier)
    phone.goto(served.phone_address() + "/events/larkmoor")
    assert phone.url.split("?")[0].endswith("/pair")


def test_pairing_by_the_code_on_the_laptops_screen(served: Served, watch: Watching) -> None:
    laptop = watch(viewport=WIDE).page()
    laptop.goto(served.address + "/devices")
    laptop.get_by_role("button", name="Pair a phone as reader").click()
    code = laptop.locator(".pairing .large").inner_text()
    phone = watch(viewport=PHONE).page()
    phone.goto(served.phone_address() + "/events")
    assert phone.url.split("?")[0].endswith("/pair")
    phone.fill("#code", code)
    phone.fill("#name", "Sam, grandstand")
    phone.get_by_role("button", name="Pair").click()
    phone.wait_for_url("**/events")
    expect(laptop.locator("#devices")).to_contain_text("Sam, grandstand", timeout=3000)


def test_what_is_unfolded_stays_so_while_another_records(served: Served, watch: Watching) -> None:
    laptop = watch(viewport=WIDE).page()
    laptop.goto(served.address + "/legal")
    first = laptop.locator("details.finding").first
    first.locator("summary").click()
    name = first.get_attribute("id")
    laptop.wait_for_timeout(400)  # the live stream is open
    phone, _second = _phones(served, watch)
    phone.goto(served.phone_address() + "/legal/fact/harness.straps")
    before = served.garage.book.last_number
    phone.locator("#harness-straps input[name=value]").fill("6")
    phone.locator("#harness-straps button.main").click()
    phone.wait_for_url("**saved=**")
    assert served.garage.book.last_number > before
    expect(laptop.locator(f"#{name}")).to_have_attribute("open", "")
    laptop.wait_for_timeout(1200)  # the change has come
    expect(laptop.locator(f"#{name}")).to_have_attribute("open", "")


def test_a_link_to_a_clause_unfolds_it(looked_at: Served, watch: Watching) -> None:
    page = watch(viewport=WIDE).page()
    page.goto(looked_at.address + "/legal")
    passed = page.locator("details.passes details.finding").first.get_attribute("id")
    page.goto(looked_at.address + f"/legal?text=#{passed}")
    expect(page.locator(f"#{passed}")).to_have_attribute("open", "")
    expect(page.locator(f"#{passed} .unfolded")).to_be_visible()
