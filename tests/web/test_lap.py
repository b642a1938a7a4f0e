import re
from dataclasses import replace
from datetime import date
from types import SimpleNamespace

import pytest
from predicted import MEETING, TODAY, client_of, new_garage, predicted_garage, prediction

from tintop.garage.what_if import drive_with, steps_buy
from tintop.lap.what_if import as_it_stands
from tintop.logbook.entries import Draft, SessionRun, SetupChanged
from tintop.web.formats import lap_time
from tintop.web.levers import lever_fields, levers_typed
from tintop.web.pages import home
from tintop.web.pages.lap import difference_words
from tintop.web.security import Role, sign

LAP = "/lap"
WHAT_IF = "/lap/what-if.json"
LATER = date(2026, 9, 12)


@pytest.fixture(scope="module")
def client():
    return client_of(predicted_garage())


def _plain(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", page.replace("\u202f", " ")))


def test_the_page_has_the_lap_of_the_garage(client) -> None:
    answer = client.get(LAP)
    assert answer.status_code == 200
    said = _plain(answer.text)
    quick = prediction().quick
    assert lap_time(quick.lap.lap_time) in said
    figure = next(each for each in quick.answer.figures if each.name == "lap time")
    assert f"{lap_time(figure.low)} to {lap_time(figure.high)}" in said
    for caution in quick.answer.cautions:
        assert caution.replace("'", "&#39;") in said
    for name, share in quick.lap.limit_share().items():
        if share > 0.0:
            assert f"{name.replace('_', ' ')} {100.0 * share:.1f} %" in said
    for row in quick.answer.working["corners"]:
        assert f"{row['number']} {row['direction']} {3.6 * row['speed']:.1f} {row['gear']}" in said
    for gain in steps_buy(prediction()):
        assert f"{gain.what} {gain.seconds:.2f} s {gain.low:.2f} to {gain.high:.2f}" in said


def test_nothing_a_strict_browser_would_refuse_and_no_markup_from_a_name(client) -> None:
    page = client.get(LAP).text
    assert " style=" not in page and "<style" not in page
    assert not re.search(r"<script(?![^>]*\ssrc=)", page)
    assert not re.search(r"\son[a-z]+=", page)
    assert "Midsummer &lt;Two Hours&gt;" in page and "<Two Hours>" not in page


def test_ids_are_used_once_and_every_field_has_its_words(client) -> None:
    page = client.get(LAP).text
    ids = re.findall(r'\sid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    for field in lever_fields(prediction().quick.described.car, predicted_garage().settings):
        assert f'<label for="lever-{field.name}">{field.label}' in page
        assert f'id="slide-{field.name}" aria-label="{field.label_with_unit}, slider"' in page


def test_what_if_is_the_lap_of_the_changed_car(client) -> None:
    car = prediction().quick.described.car
    now = as_it_stands(car)
    answer = client.get(WHAT_IF, params={"mass": "1000", "power": "130 kW", "grip": "1,25"})
    assert answer.status_code == 200
    found = answer.json()
    expected = drive_with(prediction(), replace(now, mass=1000.0, power=130e3, grip=1.25))
    assert found["time"] == pytest.approx(expected.lap_time, abs=1e-6)
    assert found["difference"] == pytest.approx(expected.lap_time - prediction().quick.lap.lap_time, abs=1e-6)
    assert found["time_words"] == lap_time(expected.lap_time)
    places = client.get("/lap/readings.json").json()
    assert len(found["values"]["speed"]) == len(found["gained"]) == len(places["places"])
    assert found["values"]["speed"] == pytest.approx(3.6 * expected.speed[places["chosen"]], abs=0.06)
    assert f"/lap?event={MEETING.meeting}" in client.get(LAP, params={"mass": "1000"}).text


def test_levers_left_alone_give_the_lap_on_the_page(client) -> None:
    car = prediction().quick.described.car
    fields = lever_fields(car, predicted_garage().settings)
    untouched = client.get(WHAT_IF, params={field.name: field.now for field in fields}).json()
    assert untouched["time"] == pytest.approx(prediction().quick.lap.lap_time, rel=1e-12)
    assert untouched["difference_words"] == "as before"


def test_the_slider_answers_for_the_lap_that_is_shown(client) -> None:
    page = client.get(LAP).text
    basis = re.search(r'data-for-basis="([^"]*)"', page)
    assert basis and basis[1] == prediction().basis.key
    one = client.get(WHAT_IF, params={"mass": "1000", "basis": basis[1]}).json()
    assert one == client.get(WHAT_IF, params={"mass": "1000", "basis": "long gone"}).json()


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("mass", "12", "Found 12 kg; expected"),
        ("mass", "heavy", "Found 'heavy'; expected a mass"),
        ("mass", "1,050", "Write 1050 or 1.05"),
        ("grip", "9", "Found 9; expected"),
        ("power", "1e400", "a finite number"),
        ("power", "nan", "expected"),
        ("brake_front_share", "120", "Found 120 %; expected"),
        ("drag_area", "5 psi", "which is a pressure"),
        ("final_drive", "<b>4</b>", "expected a plain number"),
        ("final_drive", "9" * 300, "expected"),
    ],
)
def test_a_number_that_cannot_be_is_refused_in_a_sentence(client, name: str, text: str, words: str) -> None:
    answer = client.get(WHAT_IF, params={name: text})
    assert answer.status_code == 422
    assert set(answer.json()["problems"]) == {name}
    assert words in answer.json()["problems"][name]
    page = client.get(LAP, params={name: text})
    assert page.status_code == 422
    assert 'aria-invalid="true"' in page.text
    assert "<b>4</b>" not in page.text
    assert lap_time(prediction().quick.lap.lap_time) in page.text


def test_without_scripts_the_form_gives_the_changed_lap(client) -> None:
    page = client.get(LAP, params={"mass": "1000"}).text
    found = client.get(WHAT_IF, params={"mass": "1000"}).json()
    assert found["time_words"] in page and found["difference_words"] in page
    assert 'value="1000" data-now' in page


def test_a_reader_may_look_and_try_but_a_stranger_may_not() -> None:
    garage = predicted_garage()
    device = garage.store.add_device("Kim", Role.READER.value)
    phone = client_of(garage, host="192.168.1.20")
    assert phone.get(LAP, follow_redirects=False).status_code == 303
    phone.cookies.set("tintop_device", sign(device.identifier, garage.secret))
    assert phone.get(LAP).status_code == 200
    assert phone.get(WHAT_IF, params={"mass": "1000"}).status_code == 200


def test_no_event_and_no_prediction_are_said(tmp_path) -> None:
    garage = new_garage(tmp_path / "unplanned", is_planned=False)
    assert "No event is planned" in client_of(garage).get(LAP).text
    assert client_of(garage).get(WHAT_IF).status_code == 404
    assert client_of(garage).get("/lap/readings.json").status_code == 404
    garage.close()
    garage = new_garage(tmp_path / "planned")
    page = client_of(garage).get(LAP)
    assert page.status_code == 200 and "Not predicted yet" in page.text
    garage.close()


def test_an_event_nobody_planned_is_refused(client) -> None:
    assert client.get(LAP, params={"event": "<i>"}).status_code == 422


def test_fields_speak_the_owners_units() -> None:
    car = prediction().quick.described.car
    settings = replace(predicted_garage().settings, units={"mass": "lb", "power": "kW", "speed": "mph"})
    fields = lever_fields(car, settings)
    by_name = {field.name: field for field in fields}
    assert float(by_name["mass"].now) == pytest.approx(car.masses.car / 0.45359237, abs=0.51)
    assert by_name["power"].unit == "kW"
    levers = levers_typed(car, fields, {"mass": "2200"})
    assert levers.mass == pytest.approx(2200 * 0.45359237)


def test_difference_words() -> None:
    assert difference_words(0.0) == "as before"
    assert difference_words(0.123) == "0.12 s slower a lap"
    assert difference_words(-1.0) == "1.00 s quicker a lap"


def test_the_next_thing_is_a_deed_without_dotted_paths(client) -> None:
    next_thing = prediction().quick.answer.next_thing
    assert next_thing in _plain(client.get(LAP).text)
    assert not re.search(r"[a-z]_[a-z]|[a-z]\.[a-z]", next_thing)
    assert not next_thing.startswith("Measure")


def test_what_was_assumed_is_in_a_mechanics_units(client) -> None:
    for page in (client.get(LAP).text, client.get("/answers/quick").text):
        said = _plain(page)
        assert "tyre_front" not in said and " SI" not in said
        assert "front tyre, camber best" in said


def test_the_inputs_of_the_race_are_in_a_mechanics_units(client) -> None:
    said = _plain(client.get("/answers/lasting").text)
    assert "race, duration 60 min" in said and "race, start fuel volume 51 L" in said
    assert not re.search(r"e[+-]?[0-9]{2}\b", said.split("What it stands on")[1].split("Documents as")[0])


def test_fuel_is_in_litres_and_the_limits_have_their_grammar(client) -> None:
    said = _plain(client.get("/answers/quick").text)
    assert re.search(r"fuel for a flying lap 0\.[0-9]{2} L", said)
    assert "shifts limits" not in said and "brakes limits" not in said


def test_the_balance_says_what_it_means(client) -> None:
    assert "means the front tyres have used 16 % more" in _plain(client.get(LAP).text)


@pytest.fixture
def garage_with_laps(tmp_path):
    """The predicted garage's book with a qualifying lap here, and a set-up sheet with its own balance."""
    garage = new_garage(tmp_path)
    matters = (
        SessionRun(
            session="q",
            meeting=MEETING.meeting,
            name="Qualifying",
            session_kind="qualifying",
            duration=900.0,
            laps=8,
            distance=16e3,
            best_lap=prediction().quick.lap.lap_time + 1.2,
        ),
        SetupChanged(item="brake bias", value=0.7, written="70 % front"),
    )
    garage.record(
        [Draft(key=str(place), day=TODAY, who="Sam", matter=matter) for place, matter in enumerate(matters)]
    )
    yield garage
    garage.close()


def test_the_best_lap_driven_stands_beside_the_predicted_one(client, garage_with_laps, monkeypatch) -> None:
    assert "Your best here" not in client.get(LAP).text
    monkeypatch.setattr(garage_with_laps, "prediction", lambda _meeting: prediction())
    measured = client_of(garage_with_laps)
    driven = lap_time(prediction().quick.lap.lap_time + 1.2)
    words = f"Your best here: {driven}, qualifying, 1 Jun 2026; 1.2 s slower than predicted."
    for page in (LAP, "/answers/quick", "/"):
        assert words in _plain(measured.get(page).text)


def test_a_brake_balance_of_the_set_up_sheet_is_said_beside_the_documents(
    client, garage_with_laps, monkeypatch
) -> None:
    assert "the set-up sheet says" not in client.get(LAP).text
    monkeypatch.setattr(garage_with_laps, "prediction", lambda _meeting: prediction())
    share = 100.0 * as_it_stands(prediction().quick.described.car).brake_front_share
    said = _plain(client_of(garage_with_laps).get(LAP).text)
    assert (
        f"the set-up sheet says 70 % front since 1 Jun 26; the lap is driven with {share:.1f} % front" in said
    )


def test_predicting_from_a_page_predicts_the_event_of_that_page(tmp_path, monkeypatch) -> None:
    garage = new_garage(tmp_path)
    later = replace(MEETING, meeting="autumn race", name="Autumn", first_day=LATER, last_day=LATER)
    garage.record([Draft(key="later", day=TODAY, who="Sam", matter=later)])
    asked = []
    monkeypatch.setattr(garage, "start_predicting", asked.append)
    client = client_of(garage)
    client.headers["Sec-Fetch-Site"] = "same-origin"
    page = client.get("/race", params={"event": later.meeting}).text
    fields = dict(re.findall(r'type="hidden" name="(event|page)" value="([^"]*)"', page))
    assert fields == {"event": later.meeting, "page": "race"}
    answer = client.post("/answers/predict", data=fields, follow_redirects=False)
    assert answer.headers["location"] == "/race?event=autumn%20race"
    assert [each.meeting for each in asked] == [later.meeting]
    assert client.post("/answers/predict", data={"event": "nowhere"}).status_code == 404
    client.post("/answers/predict", follow_redirects=False)
    assert [each.meeting for each in asked] == [later.meeting, MEETING.meeting]
    garage.close()


def test_home_prints_without_links_and_its_questions_are_large_enough_for_a_thumb(client) -> None:
    page = client.get("/").text
    assert '<p class="more no-print">' in page and '<p class="more">' not in page
    style = re.search(r'href="([^"]+/home.css)"', page)
    assert style is not None
    rules = client.get(style[1]).text
    assert "min-height: 44px" in rules
    assert "grid-template-columns: 1fr 1fr" in rules[rules.index("@media print") :]


def test_an_answer_repeated_stands_in_the_units_of_the_page(client, monkeypatch) -> None:
    answer = prediction().quick.answer
    found = SimpleNamespace(is_the_same=True, given=answer, again=answer)
    monkeypatch.setattr(home, "repeat", lambda _garage, _number: found)
    client.headers["Sec-Fetch-Site"] = "same-origin"
    said = _plain(client.post("/answers/quick/repeat", data={"number": "1"}).text)
    written = lap_time(prediction().quick.lap.lap_time)
    assert f"lap time {written} {written}" in said
    assert re.search(r"fuel for a flying lap (0\.[0-9]{2} L) \1", said)
