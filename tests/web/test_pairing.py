"""Phones: paired once with a code, turned away once revoked, whatever they send."""

import shutil
import threading
from urllib.parse import quote

import pytest
from test_guard import PHONE, visitor

from tintop.garage.keeper import Garage
from tintop.store.garage_store import Store
from tintop.web.pages.shell import local_address
from tintop.web.security import COOKIE, Role, sign


@pytest.fixture
def phone(garage):
    return visitor(garage)


def code_for(client, role: Role = Role.CREW) -> str:
    return client.app.state.pairing.new_code(role).code


def pair(client, code: str, name: str = "Kim", **more: str):
    return client.post("/pair", data={"code": code, "name": name, **more})


def test_a_phone_is_paired_with_the_code_the_laptop_shows(garage, page):
    phone = visitor(garage)
    phone.app.state.pairing = page.app.state.pairing
    assert page.post("/devices/codes", data={"role": "crew"}).headers["location"] == "/devices"
    code = page.app.state.pairing.latest().code
    assert f"{code[:4]} {code[4:]}" in page.get("/devices").text
    found = pair(phone, code, "Kim, pit wall", then="/ready")
    assert (found.status_code, found.headers["location"]) == (303, "/ready")
    kept = found.headers["set-cookie"].lower()
    assert "httponly" in kept and "samesite=strict" in kept and "max-age=2592000" in kept
    assert phone.get("/ready").status_code == 200
    assert [(each.name, each.role) for each in garage.store.devices()] == [("Kim, pit wall", "crew")]
    assert "Kim, pit wall" in page.get("/devices").text
    assert code not in page.get("/devices").text.replace(" ", "")


def test_a_code_cannot_be_used_again(garage, phone):
    code = code_for(phone)
    assert pair(phone, code).status_code == 303
    other = visitor(garage, address="192.168.4.67")
    other.app.state.pairing = phone.app.state.pairing
    found = pair(other, code, "Eve")
    assert found.status_code == 422 and "not in force" in found.text and "set-cookie" not in found.headers
    assert len(garage.store.devices()) == 1


def test_two_phones_at_once_get_one_pairing(garage, phone):
    code, found = code_for(phone), []
    phones = [visitor(garage, address=f"192.168.4.{each}") for each in range(4)]
    for each in phones:
        each.app.state.pairing = phone.app.state.pairing
    threads = [threading.Thread(target=lambda c=c: found.append(pair(c, code).status_code)) for c in phones]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert sorted(found) == [303, 422, 422, 422]
    assert len(garage.store.devices()) == 1


def test_guessing_codes_is_stopped_whatever_address_is_claimed(garage, phone):
    code = code_for(phone)
    for place in range(5):
        assert "not in force" in pair(phone, f"GUESS{place}").text
    for header in ("X-Forwarded-For", "Forwarded", "X-Real-IP"):
        found = phone.post("/pair", data={"code": code, "name": "Eve"}, headers={header: "10.9.8.7"})
        assert found.status_code == 422 and "too many wrong codes" in found.text
    assert not garage.store.devices()


def test_a_code_in_an_address_pairs_nobody_by_itself(garage, phone):
    code = code_for(phone)
    found = phone.get(f"/pair?code={code}&name=Kim")
    assert found.status_code == 200 and f'value="{code}"' in found.text
    assert "set-cookie" not in found.headers and not garage.store.devices()
    assert phone.app.state.pairing.latest().code == code


@pytest.mark.parametrize(
    "name", ["", "   ", "a" * 41, "bell\x07", "nul\x00", "turned \u202e round", "two\u200bnames", "\ufeff"]
)
def test_a_name_that_hides_something_is_refused_and_the_code_stays_good(garage, phone, name):
    code = code_for(phone)
    found = pair(phone, code, name)
    assert found.status_code == 422 and not garage.store.devices()
    assert pair(phone, code, "Kim").status_code == 303


def test_a_name_of_markup_is_words(garage, phone, page):
    assert pair(phone, code_for(phone), "<img src=x onerror=alert(1)>").status_code == 303
    for found in (page.get("/devices").text, phone.get("/").text):
        assert "<img src=x" not in found and "&lt;img src=x" in found


@pytest.mark.parametrize("role", ["owner", "", "OWNER", "crew ", "crew\n"])
def test_no_code_makes_an_owner(page, role):
    assert page.post("/devices/codes", data={"role": role}).status_code == 422
    assert page.app.state.pairing.latest() is None


AWAY = (
    "//evil.example",
    "///evil.example",
    "/\\evil.example",
    "\\\\evil.example",
    "http://evil.example",
    "https:evil.example",
    "javascript:alert(1)",
    "/\t/evil.example",
    "/\n/evil.example",
    "\t//evil.example",
    " //evil.example",
    "/ok\r\nSet-Cookie: a=b",
    "/ok\x00",
    "/ok\u2028x",
    "",
)


@pytest.mark.parametrize("then", AWAY)
def test_pairing_sends_nobody_elsewhere(phone, then):
    assert local_address(then) == "/"
    found = pair(phone, code_for(phone), then=then)
    assert (found.status_code, found.headers["location"]) == (303, "/")
    assert "a=b" not in found.headers["set-cookie"]
    assert 'name="then" value="/"' in phone.get(f"/pair?then={quote(then)}").text


@pytest.mark.parametrize("back", AWAY)
def test_undoing_and_stopping_send_nobody_elsewhere(page, back):
    found = page.post("/history/1/withdraw", data={"key": "k", "back": back})
    assert found.status_code == 303 and found.headers["location"].startswith("/?saved=")
    assert page.post("/works/1/stop", data={"back": back}).headers["location"] == "/"


def test_a_revoked_phone_is_a_stranger_at_once(garage, page, crew):
    assert crew.get("/car").status_code == 200
    (device,) = garage.store.devices()
    assert page.post(f"/devices/{device.identifier}/revoke").status_code == 303
    before = garage.book.last_number
    assert crew.get("/car").status_code == 303
    assert crew.get("/live", headers={"Accept": "*/*"}).status_code == 401
    assert crew.post("/costs", data={"what": "Fuel", "amount": "10"}).status_code == 401
    assert garage.book.last_number == before
    assert "revoked" in page.get("/devices").text


def test_a_page_kept_by_the_phone_is_asked_for_anew(crew):
    for path in ("/costs", "/car", "/documents/car.toml"):
        assert crew.get(path).headers["cache-control"] == "no-cache", path


def test_an_expired_cookie_opens_nothing(garage, crew, monkeypatch):
    import itsdangerous

    assert crew.get("/car").status_code == 200
    later = itsdangerous.timed.time.time() + 30 * 24 * 3600 + 5
    monkeypatch.setattr(itsdangerous.timed.time, "time", lambda: later)
    assert crew.get("/car").status_code == 303


def test_after_a_restore_every_phone_must_be_paired_anew(garage, crew, tmp_path):
    cookie, identifier = crew.cookies[COOKIE], garage.store.devices()[0].identifier
    garage.store.back_up()
    folder = tmp_path / "restored"
    shutil.copytree(garage.folder, folder, ignore=shutil.ignore_patterns("*.lock", ".*"))
    restored = Garage(Store.restore(folder), today=garage.today)
    try:
        old = visitor(restored)
        old.cookies.set(COOKIE, cookie)
        assert old.get("/car").status_code == 303
        old.cookies.set(COOKIE, sign(identifier, restored.secret))
        assert old.get("/car").status_code == 303
    finally:
        restored.close()


def test_revoking_what_was_never_paired_says_so(page):
    found = page.post("/devices/nobody/revoke")
    assert found.status_code == 422 and "nobody" in found.text


def test_the_picture_of_the_code_is_the_address_to_open(garage, page):
    page.app.state.address = PHONE
    page.post("/devices/codes", data={"role": "reader"})
    found = page.get("/devices").text
    assert "<svg" in found and "<script" not in found.split("<main")[1]
