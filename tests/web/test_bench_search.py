"""The page of the best set-up: asked, searched in the background, shown, kept, stopped."""

import re
import time

import pytest

from short_benches import SHORT, write_short_circuit
from tintop.logbook.entries import Draft, Remark
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


def test_an_entry_that_changes_nothing_of_it_loses_nothing(bench, page):
    page.post("/bench/search", data=ASKED)
    finished(bench)
    bench.record([Draft(key="fuel", day=bench.today(), who="o", matter=Remark(text="Rain at noon."))])
    assert "Confirmed by whole laps" in page.get(ADDRESS).text


def test_what_is_no_longer_so_is_not_kept_and_says_why_with_its_name(bench, page):
    page.post("/bench/search", data=ASKED)
    finished(bench)
    dry = bench.folder / "setups" / "dry.toml"
    dry.write_text(dry.read_text("utf-8").replace("51 L", "45 L"), "utf-8")
    kept = page.post("/bench/search/keep", data={**ASKED, "name": "Short try"})
    assert kept.status_code == 422
    assert "Search again; the name is kept." in kept.text
    assert '<input type="hidden" name="name" value="Short try">' in kept.text
    again = page.post("/bench/search", data={**ASKED, "name": "Short try"})
    assert "name=Short+try" in again.headers["location"]
    finished(bench)
    assert "setups/short-try.toml" not in bench.document_names()


def test_two_searches_at_most_are_under_way_or_waiting_and_the_same_is_one(bench, page):
    bench.workshop.start("wait", "Something first", lambda progress: time.sleep(0.3))
    ticked = ("front camber", "rear cold pressure")
    for adjust in (ticked, ticked[::-1], (*ticked, *ticked)):
        assert page.post("/bench/search", data={**ASKED, "adjust": adjust}).status_code == 303
    assert len(bench.workshop.works()) == 2
    assert page.post("/bench/search", data=ASKED).status_code == 303
    for low in range(1, 6):
        refused = page.post("/bench/search", data={**ASKED, "balance": str(low)})
        assert refused.status_code == 422
        assert "2 searches under way or waiting" in refused.text
    assert len(bench.workshop.works()) == 3
    for work in bench.workshop.works():
        bench.workshop.stop(work.identifier)
    finished(bench)


@pytest.mark.parametrize("name", ["compare", "CON", "a\nb", "x" * 61])
def test_a_name_that_can_be_none_comes_back_with_a_sentence(bench, page, name):
    page.post("/bench/search", data=ASKED)
    finished(bench)
    kept = page.post("/bench/search/keep", data={**ASKED, "name": name})
    assert kept.status_code == 422 and "name of the set-up" in kept.text
    assert sorted(bench.document_names("setups")) == ["setups/dry.toml", "setups/road.toml"]
