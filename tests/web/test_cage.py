"""The cage on the page: what is not proven said first, started from measures, loads entered, nothing lost."""

import re
from html import unescape

import pytest
from predicted import client_of, new_garage

from cages import DEMO
from tintop.questions.will_the_cage_hold import CAUTIONS
from tintop.web.cage_forms import LOAD, MEASURES

MEASURED = {
    "name": "Shed <cage>",
    "car_mass": "1040",
    "driver_side": "right",
    "yield_strength": "350",
    "cabin_width": "1240",
    "cabin_height": "1145",
    "cabin_length": "1.42 m",
    "stay_length": "840",
    "hoop_tube": "45 x 2.5 mm",
    "other_tube": "38 x 2.5 mm",
    "diagonals": "2",
    "roof_diagonals": "1",
    "door_bars": "cross",
    "windscreen_bar": "yes",
    "harness_bar": "yes",
    "bolted_door_bars": "yes",
    "feet": "bolted",
}
LATERAL = {
    "name": "lateral",
    "case": "lateral",
    "force": "30",
    "direction": "left",
    "permitted_deflection": "50",
    "source": "the book in hand, 8.2",
    "nodes": ["hoop shoulder right", "hoop top right"],
}


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """A garage that holds the demo's cage; tests only look."""
    garage = new_garage(tmp_path_factory.mktemp("cage"), is_planned=False)
    garage.save_document("cage.toml", DEMO.read_text("utf-8"), based_on=None, who="Sam", why="")
    return garage


@pytest.fixture(scope="module")
def look(shown):
    return _writing(shown)


def _writing(garage):
    client = client_of(garage)
    client.headers["Origin"] = "http://127.0.0.1"
    return client


@pytest.fixture
def empty(tmp_path):
    return new_garage(tmp_path, is_planned=False)


@pytest.fixture
def owner(empty):
    found = _writing(empty)
    found.follow_redirects = False
    return found


def words(page) -> str:
    text = unescape(re.sub(r"<[^>]*>", " ", page.text)).replace("\u202f", " ").replace("\u2212", "-")
    return re.sub(r"\s+", " ", text)


def test_verdict_gaps_and_cautions_come_before_any_figure(look) -> None:
    page = look.get("/cage")
    assert page.status_code == 200
    said = words(page)
    order = ["Not proven", "no homologation", "no lateral load", "Carried, times", "Feet", "Bolted joints"]
    places = [said.lower().index(each.lower()) for each in order]
    assert places == sorted(places)
    assert all(caution in said for caution in CAUTIONS)
    assert page.text.count("<svg") == 4 and 'href="/documents/cage.toml"' in page.text
    assert "verdict-not-proven" in page.text and "verdict-yes" not in page.text


def test_every_load_tube_and_foot_is_in_a_table(look) -> None:
    page = look.get("/cage")
    for name in ("roof plate, left", "single-seater roll structure", "front leg right", "stay foot left"):
        assert name in words(page)
    assert page.text.count('<span class="range">for comparison only') == 2


def test_the_page_speaks_its_own_words_and_links_to_what_is_recorded(look) -> None:
    page = look.get("/cage")
    assert "[[loads]]" not in page.text
    assert 'href="#enter-load">Enter a load of your regulations</a>' in page.text
    assert page.text.count('id="enter-load"') == 1
    for link in ("/legal", "/legal/fact/cage.stay_top", "/legal/fact/cage.main_hoop_tube"):
        assert f'href="{link}"' in page.text
    assert "Stay left, from vertical 48.1°" in words(page)
    assert "No roof diagonal" not in words(page)
    assert "read as quoted by others" in words(page)


def test_a_roof_without_a_diagonal_is_said_on_the_page(owner) -> None:
    owner.post("/cage/new", data={**MEASURED, "roof_diagonals": "0", "document": "cage.toml"})
    assert "No roof diagonal is drawn" in words(owner.get("/cage"))


def test_the_load_chosen_is_drawn_and_another_is_nowhere(look) -> None:
    page = look.get("/cage", params={"document": "cage.toml", "load": "roof plate, right"})
    assert '<h2 id="picture">Roof plate, right</h2>' in page.text
    assert look.get("/cage", params={"load": "no such load"}).status_code == 404
    for name in ("car.toml", "cages/none.toml", "../cage.toml"):
        assert look.get("/cage", params={"document": name}).status_code == 404


def test_nothing_a_strict_browser_would_refuse_and_ids_once(look) -> None:
    for path in ("/cage", "/cage/new"):
        page = look.get(path).text
        assert " style=" not in page and "<style" not in page
        assert not re.search(r"\son[a-z]+=", page)
        ids = re.findall(r'\sid="([^"]+)"', page)
        assert len(ids) == len(set(ids))


def test_without_a_cage_the_page_says_how_to_start(owner) -> None:
    page = owner.get("/cage")
    assert page.status_code == 200
    assert "no cage is in this garage yet" in words(page) and 'href="/cage/new"' in page.text


def test_a_cage_is_started_from_measures_changed_and_loaded(owner, empty) -> None:
    assert 'value="cage.toml"' in owner.get("/cage/new").text
    made = owner.post("/cage/new", data={**MEASURED, "document": "cage.toml"})
    assert made.status_code == 303 and made.headers["location"].startswith("/cage?document=cage.toml")
    page = owner.get(made.headers["location"])
    said = words(page)
    assert "Saved in cage.toml" in said and "Shed <cage>" in said and "<cage>" not in page.text
    assert "not from a certificate" in said and "bolted joint, free to bend" in said
    first = empty.document("cage.toml")
    assert 'cabin_width = "1240 mm"' in first.text and 'cabin_length = "1.42 m"' in first.text

    changed = {**MEASURED, "cabin_width": "1300", "document": "cage.toml", "seen": first.digest}
    assert owner.post("/cage/measures", data=changed).status_code == 303
    second = empty.document("cage.toml")
    assert 'cabin_width = "1300 mm"' in second.text

    stale = owner.post("/cage/measures", data={**changed, "cabin_width": "1350"})
    assert stale.status_code == 422 and "changed meanwhile" in words(stale)
    assert "1350" in stale.text and empty.document("cage.toml").digest == second.digest

    loaded = {**LATERAL, "document": "cage.toml", "seen": second.digest}
    sent = owner.post("/cage/loads", data=loaded)
    assert sent.status_code == 303
    page = owner.get(sent.headers["location"])
    assert '<h2 id="picture">Lateral</h2>' in page.text
    assert "entered by you" in words(page) and "no lateral load was entered" not in words(page)
    assert len(empty.store.revisions("cage.toml")) == 3


def test_a_second_cage_stands_beside_the_first_and_overwrites_none(owner, empty) -> None:
    owner.post("/cage/new", data={**MEASURED, "document": "cage.toml"})
    before = empty.store.digests()
    again = owner.post("/cage/new", data={**MEASURED, "document": "cage.toml"})
    assert again.status_code == 422 and "already" in words(again)
    for name in ("car.toml", "cages/Big.toml", "cages/../x.toml", "", "cages/x.csv"):
        refused = owner.post("/cage/new", data={**MEASURED, "document": name})
        assert refused.status_code == 422 and 'id="new-document-problem"' in refused.text, name
    assert empty.store.digests() == before
    other = {**MEASURED, "name": "Other", "document": "cages/other.toml"}
    assert owner.post("/cage/new", data=other).status_code == 303
    page = owner.get("/cage")
    assert "cages/other.toml" in page.text and "Shed" in page.text


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("car_mass", ""),
        ("car_mass", "12 mm"),
        ("yield_strength", "a lot"),
        ("cabin_width", "12 m"),
        ("hoop_tube", "45"),
        ("other_tube", "38 x 25 mm"),
        ("stay_length", "<b>"),
        ("diagonals", "7"),
        ("feet", "glued"),
    ],
)
def test_a_bad_measure_is_answered_beside_it_and_all_that_was_typed_stays(shown, look, field, text) -> None:
    before = shown.store.digests()
    page = look.post("/cage/new", data={**MEASURED, field: text, "document": "cages/new.toml"})
    assert page.status_code == 422
    assert f'id="new-{field}-problem">Found ' in page.text
    assert "1.42 m" in page.text and "Everything you typed is still here" in page.text
    assert "<b>" not in page.text
    assert shown.store.digests() == before


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"force": ""}, "force"),
        ({"force": "30 mm"}, "force"),
        ({"permitted_deflection": "-5 mm"}, "permitted_deflection"),
        ({"source": ""}, "source"),
        ({"direction": "sideways"}, "direction"),
        ({"nodes": []}, "nodes"),
        ({"nodes": ["no such node"]}, "nodes"),
    ],
)
def test_a_bad_load_is_answered_beside_it_and_ticks_stay(shown, look, change, field) -> None:
    revision = shown.document("cage.toml")
    sent = {**LATERAL, **change, "document": "cage.toml", "seen": revision.digest}
    page = look.post("/cage/loads", data=sent)
    assert page.status_code == 422
    assert f'{"nodes" if field == "nodes" else f"load-{field}"}-problem">Found ' in page.text
    assert '<details id="own-load" open>' in page.text
    if field != "nodes":
        assert 'value="hoop top right" checked' in page.text
    assert shown.document("cage.toml").digest == revision.digest


def test_a_cage_drawn_by_hand_has_no_measures_to_change(shown, look) -> None:
    assert 'id="measures"' not in look.get("/cage").text
    revision = shown.document("cage.toml")
    page = look.post("/cage/measures", data={**MEASURED, "document": "cage.toml", "seen": revision.digest})
    assert page.status_code == 422
    assert shown.document("cage.toml").digest == revision.digest


def test_a_document_that_does_not_read_is_refused_and_one_edited_outside_is_said(owner, empty) -> None:
    text = DEMO.read_text("utf-8")
    bad = text.replace('driver_side = "right"', 'driver_side = "middle"')
    refused = owner.post("/documents/new", data={"name": "cage.toml", "text": bad, "why": ""})
    assert refused.status_code == 422 and "driver_side" in words(refused)
    refused = owner.post("/documents/new", data={"name": "cages/x.toml", "text": bad, "why": ""})
    assert refused.status_code == 422 and "cage.toml" not in empty.document_names()
    (empty.folder / "cage.toml").write_text(bad, encoding="utf-8")
    page = owner.get("/cage")
    assert page.status_code == 200
    assert "does not read" in words(page) and re.search(r"cage\.toml line \d+, driver_side", words(page))
    assert 'href="/documents/cage.toml"' in page.text


def test_only_the_owner_writes(shown) -> None:
    device = shown.store.add_device("Kim's phone", "crew")
    from tintop.web.security import COOKIE, sign

    phone = client_of(shown, "192.168.4.20")
    phone.cookies.set(COOKIE, sign(device.identifier, shown.secret))
    page = phone.get("/cage")
    assert page.status_code == 200 and "<form" not in re.sub(r"(?s)<header.*?</header>", "", page.text)
    for path in ("/cage/new", "/cage/measures", "/cage/loads"):
        sent = phone.post(
            path, data={**MEASURED, "document": "cage.toml"}, headers={"Origin": "http://laptop"}
        )
        assert sent.status_code == 403, path


def test_every_blank_has_its_label(look) -> None:
    page = look.get("/cage/new").text
    for blank in MEASURES:
        assert f'<label for="new-{blank.name}">' in page
    page = look.get("/cage").text
    for blank in LOAD:
        assert f'<label for="load-{blank.name}">' in page
