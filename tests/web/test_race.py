import itertools
import re
from dataclasses import replace

import pytest
from predicted import MEETING, PADS, client_of, new_garage, predicted_garage, prediction

from tintop.questions.will_it_last import (
    of_hundred,
    worst_first,
    written_effect,
    written_margin,
    written_range,
    written_remedy,
)
from tintop.race.remedies import Remedy
from tintop.race.stint_plan import Stint
from tintop.web.formats import lap_time
from tintop.web.pages.race import as_printed, price_of, stints


@pytest.fixture(scope="module")
def client():
    return client_of(predicted_garage())


def _plain(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", page.replace("\u202f", " ")))


def test_the_page_has_the_race_of_the_garage(client) -> None:
    answer = client.get("/race")
    assert answer.status_code == 200
    said = _plain(answer.text)
    found = prediction().lasting
    assert found.answer.sentence in said
    assert f"{of_hundred(found.odds.all_last)} of 100 races" in said
    assert f"Laps {found.trace.laps} " in said
    for each in found.judged:
        chance = found.odds.of(each.item)
        low, high = written_range(chance.margin[0], chance.margin[2], each.unit)
        assert f"{written_margin(each)} {low} to {high}" in said
    assert found.cures
    for cure in found.cures:
        assert f"{written_remedy(cure)} ●" in said or f"{written_remedy(cure)} ▲" in said
        assert written_effect(cure) in said
    for caution in found.answer.cautions:
        assert caution.replace("'", "&#39;") in said


def test_what_is_least_likely_to_last_stands_first(client) -> None:
    page = client.get("/race").text
    table = page[page.index('aria-label="What lasts"') :]
    items = re.findall(r'<tr><th scope="row">([^<]+?) ?(?:<small.*?</small>)?</th><td class="standing', table)
    odds = [prediction().lasting.odds.of(item).probability for item in items]
    assert len(items) == len(prediction().lasting.judged)
    assert odds == sorted(odds)


def test_a_cure_never_says_a_bare_yes(client) -> None:
    page = client.get("/race").text
    table = page[page.index('aria-label="Remedies"') :]
    table = table[: table.index("</table>")]
    cells = [_plain(row) for row in re.findall(r'<tr><th scope="row".*?</tr>', table)]
    assert len(cells) == len(prediction().lasting.cures) > 0
    for cell in cells:
        assert re.search(r"as planned, then lasts in [0-9.]+ of 100 races, everything in [0-9.]+", cell)
        assert "W/K" not in cell and "m³/J" not in cell


def test_the_four_items_likeliest_to_fail_have_their_cures(client) -> None:
    found = prediction().lasting
    failing = [each for each in found.judged if each.probability < 0.95]
    weakest = {each.item for each in sorted(failing, key=lambda each: each.probability)[:4]}
    assert len(weakest) == 4
    assert weakest <= {cure.item for cure in found.cures}


def test_the_reasons_stand_worst_first_as_the_table_does() -> None:
    found = prediction().lasting
    ranked = [each.item for each in worst_first(found.judged)]
    named = [next(item for item in ranked if why.startswith(item)) for why in found.answer.why]
    assert len(named) > 1
    assert named == [item for item in ranked if item in named]


def test_no_impossible_thickness_and_no_bare_kelvin(client) -> None:
    said = _plain(client.get("/race").text)
    table = said[said.index("What lasts, the worst first") : said.index("The plan")]
    assert not re.search(r"[-−][0-9.]+ (mm|L)", table)
    assert not re.search(r"[0-9] K\b", table)
    assert re.search(r"[0-9]+ °C, [0-9]+ °C under its [0-9]+", table)


def test_what_wears_says_it_is_the_race_alone(client) -> None:
    said = _plain(client.get("/race").text)
    pad = 1e3 * prediction().lasting.described.car.brakes.front.pad.thickness
    assert f"front pads race only, from {pad:.1f} mm today" in said


def test_the_plan_counts_every_litre() -> None:
    found = prediction().lasting
    rows = stints(found)
    car, race = found.described.car, found.event.event.race
    assert len(rows) == len(found.trace.stops_made) + 1
    assert rows[-1].last_lap == found.trace.laps
    for row in rows:
        assert row.left == pytest.approx(row.fuel_at_start - row.burned)
    usable = race.start_fuel_volume - car.tank.unusable_volume
    assert 0.0 < usable - rows[0].fuel_at_start < 1.5e-3  # what the lap to the grid took
    for before, after in itertools.pairwise(rows):
        filled = min(before.left + before.put_in, car.tank.usable_volume)  # no more than it holds
        idling = filled - after.fuel_at_start
        assert 0.0 <= idling < 0.3e-3
    assert sum(row.put_in for row in rows) == pytest.approx(sum(stop.fuel_volume for stop in race.stops))


def test_the_plan_adds_up_as_printed(client) -> None:
    """Litres as printed: what is left is the start less what was burned, to the tenth."""
    said = _plain(client.get("/race").text)
    rows = re.findall(r"(?:stop|flag), lap \d+ (?:\d+ h )?\d+ min ([0-9.]+) L ([0-9.]+) L ([0-9.]+) L", said)
    assert len(rows) == len(stints(prediction().lasting))
    for start, burned, left in rows:
        assert round(float(start) - float(burned), 1) == float(left)


@pytest.mark.parametrize("start", [32.36, 32.44])
def test_no_rounding_makes_a_litre(start) -> None:
    stint = Stint(last_lap=9, clock=60.0, fuel_at_start=start / 1e3, burned=20.04e-3, left=0.0, stops=())
    shown = as_printed(replace(stint, left=stint.fuel_at_start - stint.burned), 1e-3)
    for amount in (shown.fuel_at_start, shown.burned, shown.left):
        assert amount * 1e4 == pytest.approx(round(amount * 1e4))
    assert shown.fuel_at_start - shown.burned == pytest.approx(shown.left)


def test_the_fuel_of_a_lap_says_what_it_contains(client) -> None:
    found = prediction()
    said = _plain(client.get("/race").text)
    density = found.lasting.described.car.fuel.density
    burned = 1e3 * sum(found.lasting.trace.fuel_burned) / density
    mean = burned / found.lasting.trace.laps
    assert f"{mean:.2f} L mean of all laps" in said
    assert "flying lap" in said


def test_the_strips_have_their_readings(client) -> None:
    page = client.get("/race").text
    assert page.count("data-strip=") == 9
    found = client.get("/race/readings.json").json()
    assert len(found["places"]) == prediction().lasting.trace.laps
    times = next(column for column in found["columns"] if column["name"] == "lap time")
    assert times["written"][5] == lap_time(float(prediction().lasting.trace.lap_time[5]), 1)


def test_nothing_a_strict_browser_would_refuse(client) -> None:
    page = client.get("/race").text
    assert " style=" not in page and "<style" not in page
    assert not re.search(r"<script(?![^>]*\ssrc=)", page)
    ids = re.findall(r'\sid="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_a_remedy_has_the_price_such_parts_cost_last_time() -> None:
    book = predicted_garage().book
    cure = Remedy(
        item="front pads",
        change="thicker front pads, if the caliper takes them",
        number="brakes.front.pad.thickness",
        before=0.012,
        after=0.015,
        unit="m",
        margin=0.001,
        lap_time_cost=0.0,
        laps=70,
        is_enough=True,
    )
    assert price_of(book, cure, "£") == "front pads, endurance: £142 from Fettle & Son, June 2026"
    assert PADS.price_cents == 14250
    other = Remedy(**{**{name: getattr(cure, name) for name in cure.__slots__}, "item": "rear pads"})
    assert price_of(book, other, "£") == ""


def test_odds_are_never_rounded_up_to_certainty() -> None:
    assert of_hundred(1.0) == "100"
    assert of_hundred(0.99999) == "99.9"
    assert of_hundred(0.954) == "95"
    assert of_hundred(0.0) == "0"


def test_no_prediction_is_said_and_can_be_asked_for(tmp_path) -> None:
    garage = new_garage(tmp_path)
    page = client_of(garage).get("/race").text
    assert "Not predicted yet" in page and 'action="/answers/predict"' in page
    assert client_of(garage).get("/race/readings.json").status_code == 404
    garage.close()


def test_an_event_whose_document_is_missing_says_so(tmp_path) -> None:
    garage = new_garage(tmp_path)
    (tmp_path / MEETING.document).unlink()
    page = client_of(garage).get("/race")
    assert page.status_code == 200
    assert MEETING.document in _plain(page.text) or "Not predicted yet" in page.text
    garage.close()
