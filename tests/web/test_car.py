"""The page of the car: its numbers are those of the folds, its set-up form writes once or says why not."""

import re
from datetime import date
from html import unescape

import pytest
from predicted import MEETING, TODAY, client_of, predicted_garage, prediction

from tintop.charts.car_words import in_owner_units
from tintop.known import Known, Origin
from tintop.logbook.build import build_on
from tintop.logbook.counters import counts_on
from tintop.logbook.entries import (
    Area,
    Basis,
    Counter,
    Draft,
    Fate,
    LifeLimit,
    Matter,
    Measure,
    PartAdded,
    PartFitted,
    PartInspected,
    PartRemoved,
    Reading,
    SetupChanged,
)
from tintop.logbook.mass_ledger import mass_ledger
from tintop.web.car_view import seconds_per_kilogram, worth_of
from tintop.web.formats import hours

MARKUP = "<script>alert(1)</script>"
DAY = date(2026, 6, 1)


def words(page: str) -> str:
    """What a page says, without its markup."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())


def put(garage, *matters: Matter, key: str = "more", day: date = DAY):
    return garage.record(
        [
            Draft(key=f"{key} {place}", day=day, who="Robin", matter=matter)
            for place, matter in enumerate(matters)
        ]
    )


def mass(value: float) -> Known:
    return Known(value=value, uncertainty=0.1, origin=Origin.MEASURED)


def seat(**more: object) -> PartAdded:
    return PartAdded(part="seat", name="Race seat", family="seat", area=Area.CABIN, **more)


@pytest.fixture
def weighed(garage):
    put(
        garage,
        PartAdded(
            part="bench",
            name="Rear bench",
            family="original trim",
            area=Area.CABIN,
            mass=mass(22.5),
            came_with_car=True,
        ),
        day=date(2026, 1, 2),
        key="bought",
    )
    put(garage, Reading(measure=Measure.MASS, value=1100.0), day=date(2026, 1, 3), key="scales")
    put(garage, PartRemoved(part="bench", fate=Fate.STRIPPED), day=date(2026, 1, 20), key="out")
    put(
        garage,
        seat(mass=mass(8.4), price_cents=26500, position=(-1.4, -0.36, 0.4)),
        PartFitted(part="seat"),
        day=date(2026, 2, 1),
        key="seat",
    )
    for place, (corner, load) in enumerate({"FL": 331.0, "FR": 347.0, "RL": 211.0, "RR": 229.0}.items()):
        put(
            garage,
            Reading(measure=Measure.CORNER_LOAD, value=load, corner=corner, place="driver aboard"),
            day=date(2026, 2, 2),
            key=f"loads {place}",
        )
    return garage


def test_mass_and_its_history_are_those_of_the_ledger(weighed, page):
    ledger = mass_ledger(weighed.book, weighed.today())
    said = words(page.get("/car").text)
    assert ledger.today == pytest.approx(1100.0 - 22.5 + 8.4)
    for value in (ledger.today, ledger.bought, ledger.taken_off, ledger.put_on):
        assert value is not None
        assert in_owner_units(value, "mass", {}) in said
    assert "1100.0 kg on the scales on 3 Jan 26, 14.1 kg taken off since" in said
    whole = words(page.get("/car/mass").text)
    for line in ledger.lines:
        assert line.name in whole
    assert "−22.5 kg" in whole
    assert "+8.4 kg" in whole
    assert "331.0 kg 347.0 kg 211.0 kg 229.0 kg 1118.0 kg 60.6 % 48.5 % 49.9 %" in whole


def test_the_drawing_stands_on_the_page_with_the_loads_and_their_shares(weighed, page):
    shown = page.get("/car").text
    assert shown.count("<svg") == 2, "one for a wide page, one for a phone"
    said = words(shown)
    for expected in ("331.0 kg", "29.6 %", "front 60.6 %", "Cross-weight FR + RL 49.9 %", "driver aboard"):
        assert expected in said
    assert " style=" not in shown
    assert "onclick" not in shown


def test_the_build_list_has_every_fitted_part_with_hours_price_and_life(weighed, page):
    build = build_on(weighed.book, weighed.today())
    counts = counts_on(weighed.book, weighed.today())
    said = words(page.get("/car").text)
    assert build.fitted
    for part in build.fitted:
        assert part.part.name in said
    assert f"Race seat 8.4 kg {hours(counts['seat'].running)} £265 1 Feb 26 no limit" in said
    assert f"{hours(counts['cam-belt-1'].running)} £62 10 Jan 26 ✗ overdue" in said


def test_parts_gone_and_spares_are_named_with_what_became_of_them(weighed, page):
    put(weighed, PartAdded(part="hub", name="Spare hub", family="hubs", area=Area.FRONT_AXLE), key="hub")
    said = words(page.get("/car").text)
    shelf, gone = said[said.index("Spares on the shelf") :].split("Parts gone")
    assert "Spare hub" in shelf
    assert "Rear bench stripped out 20 Jan 26 22.5 kg" in gone


def test_a_reader_sees_the_car_but_no_price_and_no_form(weighed, reader):
    shown = reader.get("/car").text
    assert "Race seat" in shown
    assert "£" not in shown
    assert "265" not in words(shown)
    assert "Write a set-up change" not in shown
    assert "Price" not in shown


def test_a_setup_change_is_read_in_the_owners_words_and_stands_once(garage, page):
    typed = {
        "key": "once",
        "set_item": "camber",
        "set_corner": "FL",
        "set_value": "-2,5",
        "set_reason": "shoulder",
    }
    first, second = page.post("/car/set-up", data=typed), page.post("/car/set-up", data=typed)
    assert first.status_code == second.status_code == 303
    found = [change for _, change in garage.book.of(SetupChanged)]
    assert len(found) == 1
    assert found[0].value == pytest.approx(-0.0436332, abs=1e-6)
    assert (found[0].written, found[0].quantity, found[0].reason) == ("-2,5", "angle", "shoulder")
    said = words(page.get(first.headers["location"]).text)
    assert "Saved: camber FL to -2,5 (shoulder)" in said
    assert "camber −2.5°" in said
    assert "camber FL: not known before → −2.5°" in said


def test_what_changed_last_names_both_values(garage, page):
    put(garage, SetupChanged(item="rear bar", written="2nd hole"), day=date(2026, 5, 1), key="a")
    put(
        garage, SetupChanged(item="rear bar", written="3rd hole", reason="dry"), day=date(2026, 6, 2), key="b"
    )
    said = words(page.get("/car").text)
    assert "What changed last, 2 Jun 26 rear bar: 2nd hole → 3rd hole (dry)" in said


def test_bad_input_is_refused_with_a_sentence_and_what_was_typed_stays(garage, page):
    for typed, sentence in (
        ({"set_item": "camber", "set_value": "steep"}, "expected a camber"),
        ({"set_item": "", "set_value": "2"}, "Found nothing; this is needed."),
        ({"set_item": "spring", "set_value": "9 bar"}, "expected"),
        ({"set_item": "toe", "set_value": "1 mm"}, "leaves open"),
        ({"set_item": "camber", "set_value": "-2", "set_corner": "XX"}, "expected one of the list"),
        ({"set_item": "camber", "set_value": "-2", "set_day": "yesterdayish"}, "expected a date"),
    ):
        answer = page.post("/car/set-up", data={"key": "k", "set_reason": "kept words", **typed})
        assert answer.status_code == 422
        assert sentence in words(answer.text)
        assert 'value="kept words"' in answer.text
        if typed["set_value"]:
            assert f'value="{typed["set_value"]}"' in answer.text
        assert 'name="key" value="k"' in answer.text
        assert not list(garage.book.of(SetupChanged))


def test_a_reader_may_not_write_the_setup(garage, reader):
    answer = reader.post("/car/set-up", data={"key": "k", "set_item": "camber", "set_value": "-2"})
    assert answer.status_code == 403
    assert not list(garage.book.of(SetupChanged))


def test_markup_is_shown_as_it_was_typed_and_never_runs(garage, page):
    typed = {"key": "m", "set_item": MARKUP, "set_value": f"{MARKUP}2", "set_reason": MARKUP}
    answer = page.post("/car/set-up", data=typed)
    assert answer.status_code == 303
    put(
        garage,
        PartAdded(
            part=MARKUP,
            name=MARKUP,
            family=MARKUP,
            area=Area.BOOT,
            mass=mass(3.0),
            position=(-3.0, 0.2, 0.4),
            came_with_car=True,
        ),
        key="markup",
    )
    for address in (answer.headers["location"], "/car/mass", "/car"):
        shown = page.get(address).text
        assert "<script>alert" not in shown
    assert "&lt;script&gt;alert(1)" in shown


def test_a_car_whose_document_cannot_be_read_is_told_and_the_rest_stands(garage, page):
    (garage.folder / "car.toml").write_text("name = \n", encoding="utf-8")
    answer = page.get("/car")
    assert answer.status_code == 200
    said = words(answer.text)
    assert "The car cannot be drawn: car.toml line 1" in said or "The car cannot be drawn:" in said
    assert "Front pads, endurance" in said


def test_what_a_mass_is_worth_comes_from_the_prediction_and_says_it_is_estimated():
    garage = predicted_garage()
    slope = {each.path: each.seconds_per_unit for each in prediction().quick.worth}["masses.ballast"]
    assert seconds_per_kilogram(garage) == slope
    assert slope > 0.0, "a heavier car is slower"
    assert worth_of(mass(20.0), slope) == pytest.approx(20.0 * slope)
    assert worth_of(mass(0.009 / slope), slope) is None, "too little to be told"
    assert worth_of(None, slope) is None
    assert garage.next_meeting() == MEETING
    assert garage.today() == TODAY
    said = words(client_of(garage).get("/car").text)
    assert f"Ten kilograms more cost {10 * slope:.2f} s a lap at the next event, estimated" in said


def test_the_life_column_shows_the_worse_of_life_and_wear(garage, page):
    """10 mm to 5 mm in 2 h, 4 mm at least: gone in the next two hours, though no limit is written down."""
    pads = PartAdded(
        part="rear-pads", name="Rear pads", family="rear pads", area=Area.REAR_AXLE,
        thickness_new=0.010, thickness_least=0.004,
    )  # fmt: skip
    put(garage, pads, PartFitted(part="rear-pads"), day=date(2026, 4, 1))
    read = Reading(measure=Measure.PAD_THICKNESS, value=0.005, part="rear-pads", session="spring-race")
    put(garage, read, key="read", day=date(2026, 4, 18))
    html = page.get("/car").text
    row = html[html.index("/car/parts/rear-pads") :]
    assert "✗</span> reaches its least before the event is over" in row[: row.index("</tr>")]


def test_the_life_column_says_when_a_part_was_looked_at(garage, page):
    look = LifeLimit(counter=Counter.RUNNING, limit=36000.0, basis=Basis.MAKER, action="inspect")
    for part in ("arm-left", "arm-right"):
        arm = PartAdded(part=part, name=part, family="arm", area=Area.FRONT_LEFT, limits=(look,))
        put(garage, arm, PartFitted(part=part), key=part, day=date(2026, 4, 1))
    put(garage, PartInspected(part="arm-right"), key="looked", day=date(2026, 4, 20))
    for address in ("/car", "/ready"):
        html = page.get(address).text
        for part, said in (("arm-left", "never looked at"), ("arm-right", "last looked at Mon 20 April")):
            row = html[html.index(f"/car/parts/{part}") :]
            assert said in row[: row.index("</tr>")]
