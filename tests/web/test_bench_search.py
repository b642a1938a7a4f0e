"""The page of the best set-up: asked, searched in the background, shown, kept, stopped."""

import re
import time

import pytest

from short_benches import SHORT, write_short_circuit
from tintop.store.demo import demo_path

ASKED = {"setup": "dry", "circuit": SHORT, "adjust": "front camber"}
ADDRESS = "/bench/search?setup=dry&circuit=short&adjust=front+camber"


@pytest.fixture
def bench(garage):
    folder = garage.folder
    chassis = demo_path("chassis.toml")
    (folder / "chassis.toml").write_text(chassis.read_text("utf-8"), "utf-8")
    (folder / "setups").mkdir(exist_ok=True)
    for name in ("dry", "road"):
        text = (chassis.parent / "setups" / f"{name}.toml").read_text("utf-8")
        (folder / "setups" / f"{name}.toml").write_text(text, "utf-8")
    write_short_circuit(folder / "circuits" / f"{SHORT}.csv")
    garage.look_outside()
    return garage


def finished(garage):
    for _ in range(300):
        if not any(work.is_under_way for work in garage.workshop.works()):
            return garage.workshop.works()[-1]
        time.sleep(0.05)
    raise AssertionError("the search did not end")


def test_asked_searched_shown_and_kept(bench, page):
    empty = page.get(ADDRESS)
    assert empty.status_code == 200
    assert ">Search</button>" in empty.text
    ticked = re.findall(r'name="adjust" value="([^"]+)" checked', empty.text)
    assert ticked == ["front camber"]
    assert 'value="front toe"' not in empty.text  # a lap cannot judge it
    sent = page.post("/bench/search", data=ASKED)
    assert sent.status_code == 303
    assert sent.headers["location"] == ADDRESS
    assert finished(bench).state.value == "done"
    shown = page.get(ADDRESS)
    assert "Confirmed by whole laps" in shown.text
    assert "How flat it is" in shown.text
    assert "Legality not checked" in shown.text
    part = page.get(f"{ADDRESS}&part=answer")
    assert part.text.startswith("<section data-answer>")
    if ">Save as set-up</button>" in shown.text:
        kept = page.post("/bench/search/keep", data={**ASKED, "name": "Short try"})
        assert kept.headers["location"] == "/documents/setups/short-try.toml"
        assert "short-try" in page.get("/bench/search").text


def test_another_car_another_answer(bench, page):
    page.post("/bench/search", data=ASKED)
    finished(bench)
    assert "Confirmed by whole laps" in page.get(ADDRESS).text
    chassis = bench.folder / "chassis.toml"
    chassis.write_text(chassis.read_text("utf-8").replace('"0.78"', '"0.80"', 1), "utf-8")
    assert "Confirmed by whole laps" not in page.get(ADDRESS).text


def test_a_reader_looks_and_does_not_search(bench, reader):
    seen = reader.get(ADDRESS)
    assert seen.status_code == 200
    assert ">Search</button>" not in seen.text
    assert reader.post("/bench/search", data=ASKED).status_code == 403
    assert reader.post("/bench/search/keep", data={**ASKED, "name": "X"}).status_code == 403


@pytest.mark.parametrize(
    ("sent", "field"),
    [({"setup": "nope"}, "setup"), ({"circuit": "nope"}, "circuit"), ({"balance": "loose"}, "balance")],
)
def test_slips_come_back_at_their_field(bench, page, sent, field):
    found = page.get("/bench/search", params={"setup": "dry", "circuit": SHORT, **sent})
    assert found.status_code == 422
    problem = re.search(rf'id="{field}-problem" data-problem="{field}">([^<]+)<', found.text)
    assert problem and "expected" in problem.group(1)


def test_a_stopped_search_keeps_nothing(bench, page):
    bench.workshop.start("wait", "Something first", lambda progress: time.sleep(0.3))
    page.post("/bench/search", data=ASKED)
    work = bench.workshop.works()[-1]
    assert page.post(f"/works/{work.identifier}/stop", data={"back": "/bench/search"}).status_code == 303
    finished(bench)
    assert "Stopped. Nothing was kept." in page.get(ADDRESS).text
    assert sorted(bench.document_names("setups")) == ["setups/dry.toml", "setups/road.toml"]


def test_markup_in_what_is_asked_is_shown_as_text(bench, page):
    found = page.get("/bench/search", params={"balance": "<b>x</b>", "adjust": "<i>"})
    assert "<b>x</b>" not in found.text
    assert "&lt;b&gt;x&lt;/b&gt;" in found.text
