"""Parts on the page: added, fitted, failed, corrected; what two people write at once is shown to both."""

import re
from datetime import date

import pytest
from test_car import MARKUP, mass, put, words

from tintop.known import Origin
from tintop.logbook.build import build_on, part_history
from tintop.logbook.counters import counts_on
from tintop.logbook.entries import (
    Area,
    Basis,
    Corner,
    Counter,
    Fate,
    LifeLimit,
    Measure,
    PartAdded,
    PartFailed,
    PartFitted,
    PartInspected,
    Reading,
    SetupChanged,
)
from tintop.web.formats import age, hours, left
from tintop.web.part_form import typed_part

BEARING = {
    "key": "bearing",
    "name": "Wheel bearing, left",
    "family": "wheel bearings",
    "area": "front left corner",
    "corner": "FL",
    "mass": "0,92",
    "mass_doubt": "10 g",
    "mass_note": "kitchen scales",
    "x": "0",
    "y": "660",
    "z": "0.298 m",
    "price": "46,50",
    "list_price": "£58",
    "supplier": "Fell Lane",
    "maker_number": "FLB-9",
    "made": "2026-01-15",
    "limit_1": "10",
    "limit_1_counter": "running time",
    "limit_1_basis": "maker",
    "limit_1_action": "inspect",
    "limit_1_source": "bulletin 4",
    "limit_2": "6000 km",
    "limit_2_counter": "distance",
    "before_running": "1,5 h",
    "day": "2026-05-02",
    "is_fitted": "yes",
}


def parts(garage) -> dict[str, PartAdded]:
    return {part.part: part for _, part in garage.book.of(PartAdded)}


def number_of(garage, kind: type, part: str) -> int:
    return next(entry.number for entry, matter in garage.book.of(kind) if matter.part == part)


def test_a_part_is_added_as_it_was_typed_and_fitted_the_same_day(garage, page):
    answer = page.post("/car/parts/new", data=BEARING)
    assert answer.status_code == 303
    part = parts(garage)["wheel-bearing-left"]
    assert part.mass is not None
    assert (part.mass.value, part.mass.uncertainty, part.mass.origin) == (0.92, 0.01, Origin.MEASURED)
    assert part.position == pytest.approx((0.0, 0.66, 0.298))
    assert (part.price_cents, part.list_price_cents) == (4650, 5800)
    assert part.made == date(2026, 1, 15)
    assert part.limits == (
        LifeLimit(
            counter=Counter.RUNNING, limit=36000.0, basis=Basis.MAKER, action="inspect", source="bulletin 4"
        ),
        LifeLimit(counter=Counter.DISTANCE, limit=6e6, basis=Basis.COMMON_PRACTICE),
    )
    assert part.counted_before == {"running time": 5400.0}
    today = build_on(garage.book, garage.today()).by_name["wheel-bearing-left"]
    assert today.is_fitted
    assert today.since == date(2026, 5, 2)
    said = words(page.get(answer.headers["location"]).text)
    assert "Saved: part: Wheel bearing, left" in said
    assert "On the car since Sat 2 May 2026" in said
    assert "£46.50" in said


def test_the_same_form_sent_twice_writes_once(garage, page):
    before = len(garage.book.entries)
    first, second = (page.post("/car/parts/new", data=BEARING) for _ in range(2))
    assert first.headers["location"] == second.headers["location"]
    assert len(garage.book.entries) == before + 2
    off = {"key": "off", "act": "off", "off_fate": "kept"}
    first, second = (page.post("/car/parts/wheel-bearing-left", data=off) for _ in range(2))
    assert first.status_code == second.status_code == 303
    assert len(garage.book.entries) == before + 3


def test_two_parts_of_one_name_get_names_of_their_own(garage, page):
    for key in ("one", "two"):
        page.post("/car/parts/new", data={"key": key, "name": "New", "family": "things"})
    assert {"new-2", "new-3"} <= set(parts(garage)), "and none hides the page where parts are added"


def test_bad_input_is_refused_beside_its_field_and_everything_typed_stays(garage, page):
    for field, typed, sentence in (
        ("name", "", "this is needed"),
        ("name", "x" * 121, "expected at most 120"),
        ("family", "bell\x07", "control or invisible character"),
        ("area", "the moon", "expected one of the list"),
        ("corner", "XX", "expected one of the list"),
        ("mass", "heavy", "expected"),
        ("mass", "-3 kg", "expected"),
        ("mass", "9999 kg", "expected"),
        ("mass_known", "assumed", "expected one of the list"),
        ("x", "80 m", "expected a length on a car"),
        ("y", "", "expected all three of x, y and z"),
        ("z", "3 psi", "which is a pressure"),
        ("price", "cheap", "expected a sum"),
        ("price", "-5", "below zero"),
        ("made", "31 Feb 2026", "expected a date"),
        ("limit_1", "soon", "expected"),
        ("limit_1", "0", "above zero"),
        ("limit_1", "1e30", "above zero"),
        ("limit_1_counter", "moons", "expected one of the list"),
        ("before_running", "-2", "above zero"),
        ("day", "someday", "expected a date"),
    ):
        before = len(garage.book.entries)
        answer = page.post("/car/parts/new", data={**BEARING, field: typed})
        assert answer.status_code == 422
        assert sentence in words(answer.text)
        assert 'aria-invalid="true"' in answer.text
        for kept in ("bulletin 4", "FLB-9", "0,92" if field != "mass" else "FLB-9", "6000 km"):
            assert f'value="{kept}"' in answer.text
        assert 'name="key" value="bearing"' in answer.text
        assert len(garage.book.entries) == before, "nothing half-written"


def test_a_mass_without_a_doubt_gets_the_one_the_page_tells(garage, page):
    assert "left empty: 2 % weighed" in page.get("/car/parts/new").text
    page.post("/car/parts/new", data={"key": "k", "name": "Fan", "family": "fans", "mass": "2 kg"})
    found = parts(garage)["fan"].mass
    assert found is not None
    assert found.uncertainty == pytest.approx(0.04)


def test_the_history_and_counts_of_a_part_are_those_of_the_folds(garage, page):
    put(
        garage,
        Reading(
            measure=Measure.PAD_THICKNESS, value=0.0082, corner="FL", place="inner pad", part="front-pads-1"
        ),
        key="read",
        day=date(2026, 4, 19),
    )
    put(garage, PartInspected(part="front-pads-1", found="even wear"), key="looked", day=date(2026, 4, 20))
    said = words(page.get("/car/parts/front-pads-1").text)
    count = counts_on(garage.book, garage.today())["front-pads-1"]
    assert f"Run {hours(count.running)} Laps 69 Distance 179 km Heat cycles 1" in said
    assert "4 h 00 min, replace" in said
    assert f"{hours(count.running)} {hours(14400.0 - count.running)}" in said
    for event in part_history(garage.book, "front-pads-1"):
        assert event.what in said
    assert f"19 Apr 26 {hours(7200.0)} pad thickness FL inner pad 8.2 mm" in said


def test_a_part_is_fitted_taken_off_inspected_and_fails(crew, garage, page):
    page.post(
        "/car/parts/new", data={"key": "n", "name": "Pads two", "family": "front pads", "area": "front axle"}
    )
    fit = {
        "key": "f",
        "act": "fit",
        "fit_replaces": "front-pads-1",
        "fit_day": "2026-06-10",
        "fit_clock": "9:30",
    }
    assert crew.post("/car/parts/pads-two", data=fit).status_code == 303
    build = build_on(garage.book, garage.today())
    assert build.by_name["pads-two"].is_fitted
    assert not build.by_name["front-pads-1"].is_fitted
    entry = next(entry for entry, matter in garage.book.of(PartFitted) if matter.part == "pads-two")
    assert (entry.clock, entry.who) == ("09:30", "Kim's phone")
    fails = {
        "key": "x",
        "act": "failed",
        "failed_what": "lining left the plate",
        "failed_session": "spring-race",
    }
    assert page.post("/car/parts/pads-two", data=fails).status_code == 303
    assert "lining left the plate" in words(page.get("/car").text)
    assert page.post("/car/parts/pads-two", data={"key": "i", "act": "inspected"}).status_code == 422
    assert build_on(garage.book, garage.today()).by_name["pads-two"].failed
    told = {"key": "i2", "act": "inspected", "inspected_found": "lining bonded again"}
    assert page.post("/car/parts/pads-two", data=told).status_code == 303
    assert not build_on(garage.book, garage.today()).by_name["pads-two"].failed
    off = {"key": "o", "act": "off", "off_fate": "scrapped", "off_reason": "cracked"}
    assert page.post("/car/parts/pads-two", data=off).status_code == 303
    found = build_on(garage.book, garage.today()).by_name["pads-two"]
    assert (found.fate, found.reason) == (Fate.SCRAPPED, "cracked")
    assert [failed.what for _, failed in garage.book.of(PartFailed)] == ["lining left the plate"]


def test_times_and_ages_read_as_they_are_said():
    """1,826 days are 4.9993 years of 365.25 days."""
    assert left(8086.2, Counter.RUNNING) == "2 h 15 min"
    assert age(1826.0) == "5\u202fyears"
    assert age(1200.0) == "3.3\u202fyears"
    assert age(364.0) == "364\u202fdays"
    assert left(-1.0, Counter.AGE) == "1\u202fday short"
    assert left(-1800.0, Counter.RUNNING) == "30 min short"


def test_a_deed_that_cannot_be_read_is_refused(garage, page):
    for typed, sentence in (
        ({"act": "fit", "fit_replaces": "no such part"}, "expected one of the list"),
        ({"act": "fit", "fit_replaces": "front-pads-1"}, "Found the part itself"),
        ({"act": "off", "off_fate": "vanished"}, "expected one of the list"),
        ({"act": "failed", "failed_what": ""}, "this is needed"),
        ({"act": "failed", "failed_what": "a", "failed_session": "nowhere"}, "expected one of the list"),
        ({"act": "inspected", "inspected_clock": "noonish"}, "a time such as"),
        ({"act": "dance"}, "fit, off, inspected or failed"),
        ({"act": "set", "set_item": "camber", "set_value": "-2"}, "fit, off, inspected or failed"),
    ):
        before = len(garage.book.entries)
        answer = page.post("/car/parts/front-pads-1", data={"key": "k", **typed})
        assert answer.status_code == 422
        assert sentence in words(answer.text)
        assert len(garage.book.entries) == before


def test_an_entry_left_as_it_stands_is_corrected_by_itself_unchanged(garage, page):
    page.post("/car/parts/new", data=BEARING)
    number = number_of(garage, PartAdded, "wheel-bearing-left")
    before = parts(garage)["wheel-bearing-left"]
    entry = garage.book.entry(number)
    assert entry is not None
    typed = typed_part(before, entry.day, garage.settings.units, entry.note)
    assert page.post(f"/car/entries/{number}", data={"key": "c", **typed}).status_code == 303
    assert parts(garage)["wheel-bearing-left"] == before
    assert not garage.book.stands(number)


def test_a_correction_keeps_what_the_form_has_no_field_for(garage, page):
    limit = LifeLimit(counter=Counter.LAPS, limit=100.0, basis=Basis.RULE)
    part = PartAdded(
        part="belts",
        name="Harness",
        family="harness",
        area=Area.CABIN,
        limits=(limit,) * 5,
        counted_before={"age": 200.0, "laps": 30.0},
    )
    put(garage, part, key="belts")
    number = number_of(garage, PartAdded, "belts")
    typed = typed_part(part, date(2026, 6, 1), garage.settings.units)
    assert (
        page.post(f"/car/entries/{number}", data={"key": "c", **typed, "name": "Harness, red"}).status_code
        == 303
    )
    assert parts(garage)["belts"].limits == (limit,) * 5
    assert parts(garage)["belts"].counted_before == {"age": 200.0, "laps": 30.0}
    assert parts(garage)["belts"].name == "Harness, red"


def test_two_corrections_of_one_entry_show_both_sides_and_lose_neither(crew, garage, page):
    put(garage, SetupChanged(item="rear bar", written="2nd hole"), key="bar")
    number = garage.book.last_number
    mine = {"set_item": "rear bar", "set_value": "3rd hole", "day": "2026-06-01"}
    theirs = {"set_item": "rear bar", "set_value": "4th hole", "day": "2026-06-01"}
    assert crew.post(f"/car/entries/{number}", data={"key": "theirs", **theirs}).status_code == 303
    answer = page.post(f"/car/entries/{number}", data={"key": "mine", **mine})
    assert answer.status_code == 409
    said = words(answer.text)
    assert "Kim's phone corrected this entry first" in said
    assert "Value 4th hole 3rd hole" in said
    assert 'value="3rd hole"' in answer.text
    stands = garage.book.last_number
    assert f'action="/car/entries/{stands}"' in answer.text
    assert [change.written for _, change in garage.book.of(SetupChanged)] == ["4th hole"]
    assert page.post(f"/car/entries/{stands}", data={"key": "mine", **mine}).status_code == 303
    assert [change.written for _, change in garage.book.of(SetupChanged)] == ["3rd hole"]


def test_a_correction_of_a_part_somebody_else_corrected_shows_each_field_that_differs(crew, garage, page):
    number = number_of(garage, PartAdded, "cam-belt-1")
    part = parts(garage)["cam-belt-1"]
    typed = typed_part(part, date(2026, 1, 10), garage.settings.units)
    crew.post(f"/car/entries/{number}", data={"key": "theirs", **typed, "supplier": "Valley Belts"})
    answer = page.post(f"/car/entries/{number}", data={"key": "mine", **typed, "name": "Cam belt, blue"})
    assert answer.status_code == 409
    said = words(answer.text)
    assert "Name Cam belt Cam belt, blue" in said
    assert "Supplier Valley Belts nothing" in said


def test_a_correction_of_an_entry_taken_back_says_so_and_keeps_the_typed(garage, page):
    put(garage, PartInspected(part="cam-belt-1", found="fine"), key="look")
    number = garage.book.last_number
    garage.withdraw(number, who="Kim")
    assert page.get(f"/car/entries/{number}").status_code == 422
    answer = page.post(
        f"/car/entries/{number}", data={"key": "k", "inspected_found": "cracked", "day": "1 June 2026"}
    )
    assert answer.status_code == 409
    assert "Kim took this entry back meanwhile" in words(answer.text)
    assert 'value="cracked"' in answer.text


@pytest.mark.parametrize("corner", ["FL", "RR"])
def test_a_correction_of_a_fitting_takes_its_place(garage, page, corner: Corner):
    put(
        garage,
        PartAdded(part="disc", name="Disc", family="discs", area=Area.FRONT_AXLE),
        PartFitted(part="disc", corner="FR"),
        key="disc",
    )
    number = number_of(garage, PartFitted, "disc")
    assert "selected>FR front right" in page.get(f"/car/entries/{number}").text
    answer = page.post(f"/car/entries/{number}", data={"key": "k", "fit_corner": corner, "day": "2026-06-03"})
    assert answer.status_code == 303
    today = build_on(garage.book, garage.today()).by_name["disc"]
    assert (today.corner, today.since) == (corner, date(2026, 6, 3))


def test_a_reader_sees_no_price_and_may_write_nothing(garage, reader):
    shown = reader.get("/car/parts/front-pads-1").text
    assert "Front pads, endurance" in shown
    assert "142" not in words(shown)
    assert "£" not in shown
    assert "Price" not in shown
    assert "<summary>" not in shown
    before = len(garage.book.entries)
    number = number_of(garage, PartAdded, "front-pads-1")
    for address, typed in (
        ("/car/parts/new", BEARING),
        ("/car/parts/front-pads-1", {"key": "k", "act": "inspected"}),
        (f"/car/entries/{number}", {"key": "k"}),
    ):
        assert reader.post(address, data=typed).status_code == 403
        assert len(garage.book.entries) == before
    assert reader.get(f"/car/entries/{number}").status_code == 403, "the form would show the price"
    assert reader.get("/car/parts/new").status_code == 403


def test_markup_in_any_field_is_shown_as_typed(garage, page):
    texts = ("name", "family", "mass_note", "supplier", "maker_number", "limit_1_source", "note")
    typed = {**BEARING, **dict.fromkeys(texts, MARKUP)}
    refused = page.post("/car/parts/new", data={**typed, "mass": MARKUP, "price": MARKUP, "day": MARKUP})
    assert refused.status_code == 422
    assert "<script>alert" not in refused.text
    saved = page.post("/car/parts/new", data=typed)
    assert saved.status_code == 303
    address = saved.headers["location"].split("?")[0]
    for act, field in (("failed", "failed_what"), ("inspected", "inspected_found"), ("off", "off_reason")):
        assert page.post(address, data={"key": act, "act": act, field: MARKUP}).status_code == 303
    number = garage.book.last_number
    for shown in (
        page.get(saved.headers["location"]),
        page.get(f"/car/entries/{number}"),
        page.get("/car/parts/new"),
    ):
        assert "<script>alert" not in shown.text
        assert "&lt;script&gt;alert(1)" in shown.text


def test_a_part_with_any_short_name_has_a_page(garage, page):
    for name in ("a/b", "pads & discs", "front pads A", "50 % new", "épée"):
        put(
            garage,
            PartAdded(part=name, name=name, family="odd", area=Area.BOOT, came_with_car=True, mass=mass(1.0)),
            key=name,
        )
    shown = page.get("/car").text
    addresses = set(re.findall(r'href="(/car/parts/[^"]+)"', shown)) - {"/car/parts/new"}
    assert len(addresses) >= 5
    for address in addresses:
        assert page.get(address).status_code == 200
    assert page.get("/car/parts/no-such-part").status_code == 404
    assert page.post("/car/parts/no-such-part", data={"act": "off", "key": "k"}).status_code == 404
    assert page.get("/car/entries/99999").status_code == 404


def test_an_entry_of_another_page_is_not_corrected_here(garage, page):
    meeting = next(entry.number for entry in garage.book.entries if entry.matter.kind == "event planned")
    assert page.get(f"/car/entries/{meeting}").status_code == 404


def test_undo_after_saving_takes_the_entry_back(garage, page):
    address = "/car/parts/front-pads-1"
    saved = page.post(address, data={"key": "k", "act": "inspected", "inspected_found": "good"})
    number = garage.book.last_number
    assert f'action="/history/{number}/withdraw"' in page.get(saved.headers["location"]).text
    undone = page.post(f"/history/{number}/withdraw", data={"key": "u", "back": address})
    assert undone.status_code == 303
    assert undone.headers["location"].startswith(address)
    assert not list(garage.book.of(PartInspected))


def test_corrections_are_undone_one_by_one(garage, page):
    put(garage, SetupChanged(item="rear bar", written="2nd hole"), key="bar")
    for value in ("3rd hole", "4th hole", "5th hole"):
        stands = garage.book.standing[SetupChanged][-1].number
        typed = {"key": value, "set_item": "rear bar", "set_value": value, "day": "2026-06-01"}
        assert page.post(f"/car/entries/{stands}", data=typed).status_code == 303
        assert [change.written for _, change in garage.book.of(SetupChanged)] == [value]
    for value in ("4th hole", "3rd hole", "2nd hole"):
        stands = garage.book.standing[SetupChanged][-1].number
        assert page.post(f"/history/{stands}/withdraw", data={"key": f"undo {value}"}).status_code == 303
        assert [change.written for _, change in garage.book.of(SetupChanged)] == [value]


def test_looking_writes_nothing(garage, page):
    before = garage.book.entries
    for address in ("/car", "/car/mass", "/car/parts/new", "/car/parts/cam-belt-1"):
        assert page.get(address).status_code == 200
    assert garage.book.entries == before
