"""Documents on the page: edited, refused with file and line, two edits at once shown, revisions compared."""

import html
import re

import pytest
from fastapi.testclient import TestClient
from test_car import MARKUP, words

from tintop.web.app import make_app


def text_of(garage, name: str = "car.toml") -> str:
    return garage.document(name).text


def digest_of(garage, name: str = "car.toml") -> str:
    return garage.document(name).digest


def heavier(text: str, mass: str = "1041 kg") -> str:
    assert "1038 kg" in text
    return text.replace("1038 kg", mass, 1)


def save(page, garage, text: str, *, seen: str | None = None, why: str = "", name: str = "car.toml"):
    return page.post(
        f"/documents/{name}",
        data={"text": text.replace("\n", "\r\n"), "seen": seen or digest_of(garage, name), "why": why},
    )


def test_the_list_names_every_document_with_its_last_revision(garage, page):
    said = words(page.get("/documents").text)
    for name in garage.document_names():
        assert f"{name} {garage.document(name).number} " in said


def test_a_saved_document_is_a_revision_with_who_and_why_and_reads_as_it_was_typed(garage, page):
    text = heavier(text_of(garage))
    answer = save(page, garage, text, why="corner scales again")
    assert answer.status_code == 303
    stands = garage.document("car.toml")
    assert stands.text == text, "line ends are those of the document"
    assert (stands.number, stands.who, stands.why) == (2, "Robin", "corner scales again")
    assert (garage.folder / "car.toml").read_text("utf-8") == text
    said = words(page.get(answer.headers["location"]).text)
    assert "Saved as revision 2" in said
    assert "2 " in said and "saved here Robin" in said and "corner scales again" in said


def test_saving_what_stands_makes_no_revision(garage, page):
    assert save(page, garage, text_of(garage)).status_code == 303
    assert len(garage.store.revisions("car.toml")) == 1


def test_line_ends_of_another_system_are_kept(garage, page):
    windows = text_of(garage).replace("\n", "\r\n")
    (garage.folder / "car.toml").write_bytes(windows.encode())
    assert digest_of(garage) == garage.store.digests()["car.toml"]
    save(page, garage, heavier(text_of(garage).replace("\r\n", "\n")))
    assert text_of(garage) == heavier(windows)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (("1038 kg", "1038 kq"), "unknown unit 'kq'; expected a mass in kg"),
        (("[masses]", "[masses"), "found text that is not TOML"),
        (("wheelbase =", "whelbase ="), "Did you mean wheelbase?"),
        (("1038 kg", "10380 kg"), "expected"),
    ],
)
def test_a_document_that_cannot_be_read_is_refused_with_file_and_line_and_stays_typed(
    garage, page, change, sentence
):
    text = text_of(garage).replace(*change, 1)
    line = text[: text.index(change[1])].count("\n") + 1
    answer = save(page, garage, text, why="new scales")
    assert answer.status_code == 422
    said = words(answer.text)
    assert f"car.toml line {line}" in said
    assert sentence in said
    assert words(text) in said
    assert 'value="new scales"' in answer.text
    assert f'name="seen" value="{digest_of(garage)}"' in answer.text
    assert len(garage.store.revisions("car.toml")) == 1


def test_a_circuit_is_checked_as_a_circuit(garage, page):
    name = "circuits/larkmoor.csv"
    lines = text_of(garage, name).splitlines()
    broken = "\n".join([*lines[:20], "far,away", *lines[21:]]) + "\n"
    answer = save(page, garage, broken, name=name)
    assert answer.status_code == 422
    assert "larkmoor.csv, line 21: found 2 values; expected 6" in words(answer.text)


def test_two_edits_at_once_show_both_texts_and_what_differs_and_lose_nothing(garage, page):
    base = digest_of(garage)
    original = text_of(garage)
    theirs, mine = heavier(original, "1041 kg"), heavier(original, "1044 kg").replace("84 kg", "86 kg", 1)
    assert save(page, garage, theirs, seen=base, why="theirs").status_code == 303
    answer = save(page, garage, mine, seen=base, why="mine")
    assert answer.status_code == 409
    said = words(answer.text)
    assert "Nothing was saved: car.toml was changed meanwhile, revision 2" in said
    assert words(mine) in said
    assert words(theirs) in said
    assert "<del>1</del>" in answer.text, "104[1→4] kg"
    assert "<ins>4</ins>" in answer.text
    assert f'name="seen" value="{digest_of(garage)}"' in answer.text
    assert text_of(garage) == theirs
    assert save(page, garage, mine, why="mine").status_code == 303
    assert [each.text for each in garage.store.revisions("car.toml")] == [mine, theirs, original]


def test_a_change_made_outside_is_taken_in_told_and_never_overwritten(garage, page):
    base, outside = digest_of(garage), heavier(text_of(garage), "1039 kg")
    changes = garage.changes
    (garage.folder / "car.toml").write_text(outside, "utf-8")
    shown = words(page.get("/documents/car.toml").text)
    assert "This document was edited outside tintop; its text was taken in as revision 2" in shown
    assert garage.changes > changes, "other pages hear of it"
    answer = save(page, garage, heavier(outside.replace("1039 kg", "1038 kg"), "1050 kg"), seen=base)
    assert answer.status_code == 409
    assert (garage.folder / "car.toml").read_text("utf-8") == outside


def test_any_two_revisions_are_compared_and_an_earlier_one_is_shown_and_brought_back(garage, page):
    first = garage.document("car.toml")
    save(page, garage, heavier(first.text))
    second = garage.document("car.toml")
    compared = page.get("/documents/car.toml", params={"one": first.digest, "other": second.digest})
    assert "Revision 1 against revision 2" in words(compared.text)
    assert "<del>38</del>" in compared.text
    assert "<ins>41</ins>" in compared.text
    same = page.get("/documents/car.toml", params={"one": first.digest, "other": first.digest})
    assert "the same, letter for letter" in words(same.text)
    earlier = words(page.get("/documents/car.toml", params={"digest": first.digest}).text)
    assert "Revision 1, as it stood" in earlier
    back = page.post("/documents/car.toml", data={"bring_back": first.digest, "seen": second.digest})
    assert back.status_code == 303
    stands = garage.document("car.toml")
    assert (stands.number, stands.text, stands.why) == (3, first.text, "revision 1 brought back")


def test_a_new_document_is_saved_once_and_never_over_another(garage, page):
    circuit = text_of(garage, "circuits/larkmoor.csv")
    typed = {"name": "circuits/harrow.csv", "text": circuit, "why": "new"}
    assert page.post("/documents/new", data=typed).status_code == 303
    assert text_of(garage, "circuits/harrow.csv") == circuit
    over = page.post("/documents/new", data={**typed, "text": circuit.replace("0", "1", 1)})
    assert over.status_code == 422
    assert text_of(garage, "circuits/harrow.csv") == circuit
    for name in ("../car.toml", "/etc/passwd", "a\\b.toml", "circuits/", "originals/x.csv", "CAR.toml", ""):
        answer = page.post("/documents/new", data={**typed, "name": name})
        assert answer.status_code == 422
        assert "nothing" in words(answer.text).casefold()


def test_a_chassis_and_a_set_up_are_offered_to_fill_in_and_not_kept_until_they_read(garage, page):
    listed = page.get("/documents").text
    assert 'href="/documents/new?name=chassis.toml"' in listed
    for name, field in (("setups/soft.toml", "final_drive"), ("chassis.toml", "front.motion_ratio")):
        shown = page.get("/documents/new", params={"name": name}).text
        text = html.unescape(re.search(r"<textarea[^>]*>\n(.*?)</textarea>", shown, re.DOTALL)[1])
        assert 'value="' + name in shown and "unknown" in text
        refused = page.post("/documents/new", data={"name": name, "text": text, "why": ""})
        assert refused.status_code == 422 and field in refused.text
        assert 'ride_height = "unknown"' in html.unescape(refused.text), "what was typed stays"
        assert name not in garage.document_names()
        if name == "chassis.toml":
            filled = re.sub(r'motion_ratio = "unknown"', 'motion_ratio = "0.9"', text)
            filled = filled.replace('ride_height = "unknown"', 'ride_height = "140 mm"')
            filled = filled.replace('rate = "unknown"', 'rate = "60 N/mm"')
            assert page.post("/documents/new", data={"name": name, "text": filled}).status_code == 303


def test_no_other_file_is_reached(page):
    for address in (
        "/documents/nothing.toml",
        "/documents/../garage.sqlite",
        "/documents/%2e%2e/garage.sqlite",
        "/documents/garage.sqlite",
        "/documents/originals/abc",
        "/documents/car.toml?digest=abc",
        "/documents/car.toml?one=abc&other=def",
    ):
        assert page.get(address).status_code == 404


def test_markup_is_shown_as_typed(garage, page):
    answer = save(page, garage, f"# {MARKUP}</textarea>{MARKUP}\n" + text_of(garage), why=MARKUP)
    assert answer.status_code == 303
    refused = save(page, garage, f"{MARKUP}</textarea>\n", why=MARKUP)
    assert refused.status_code == 422
    first = garage.store.revisions("car.toml")[-1].digest
    for shown in (
        refused,
        page.get("/documents/car.toml"),
        page.get("/documents"),
        page.get("/documents/car.toml", params={"one": first, "other": digest_of(garage)}),
        page.post("/documents/new", data={"name": MARKUP, "text": f"</textarea>{MARKUP}", "why": MARKUP}),
    ):
        assert "<script>alert" not in shown.text
        assert "&lt;script&gt;alert(1)" in shown.text


def test_only_the_owner_edits(garage, crew, reader):
    for phone in (crew, reader):
        shown = phone.get("/documents/car.toml")
        assert shown.status_code == 200
        assert "1038 kg" in shown.text
        assert "<textarea" not in shown.text
        assert "Bring back" not in shown.text
        assert save(phone, garage, heavier(text_of(garage))).status_code == 403
        assert phone.post("/documents/new", data={"name": "a.toml", "text": ""}).status_code == 403
        assert phone.get("/documents/new").status_code == 403
    assert len(garage.store.revisions("car.toml")) == 1


def test_a_post_from_another_site_saves_nothing(garage):
    client = TestClient(
        make_app(garage), base_url="http://127.0.0.1:8080", client=("127.0.0.1", 1), follow_redirects=False
    )
    typed = {"text": heavier(text_of(garage)), "seen": digest_of(garage)}
    assert client.post("/documents/car.toml", data=typed).status_code == 403
    foreign = {"Origin": "http://elsewhere.example"}
    assert client.post("/documents/car.toml", data=typed, headers=foreign).status_code == 403
    assert len(garage.store.revisions("car.toml")) == 1
