"""The weighing page: worked out as typed, and saved as readings only when nothing stands open."""

import re
from urllib.parse import urlencode

import pytest

from tintop.garage.keeper import Garage
from tintop.logbook.entries import Measure, Reading
from tintop.store.demo import demo_path

LOADS = {"load_FL": "343.5", "load_FR": "353", "load_RL": "220.5", "load_RR": "229"}
STOOD = {"driver": "aboard", "fuel": "32"}


@pytest.fixture
def described(garage: Garage) -> Garage:
    """The garage with what carries its car, and one set-up."""
    (garage.folder / "setups").mkdir()
    for name in ("chassis.toml", "setups/dry.toml"):
        (garage.folder / name).write_bytes((demo_path("car.toml").parent / name).read_bytes())
    garage.look_outside()
    return garage


def readings(garage: Garage) -> list[tuple[str, float, str]]:
    return [
        (reading.corner, reading.value, reading.place)
        for _, reading in garage.book.of(Reading)
        if reading.measure is Measure.CORNER_LOAD
    ]


def got(page, **typed):
    return page.get("/bench/weigh?" + urlencode({**LOADS, **STOOD, **typed}))


def test_an_empty_form_asks_for_nothing_but_loads(described, page):
    found = page.get("/bench/weigh")
    assert found.status_code == 200
    assert "Type what the four scales say" in found.text and 'class="problem" data-problem' in found.text


def test_four_loads_are_drawn_where_the_mechanic_stands(described, page):
    found = got(page, target="51")
    assert found.status_code == 200
    assert found.text.count("<svg") == 2
    for words in ("1146.0 kg", "343.5 kg", "perch down", "Unhook a bar drop link", "behind the front axle"):
        assert words in found.text
    assert 'value="343.5"' in found.text and "chock the wheels" in found.text


def test_the_part_is_the_answer_alone(described, page):
    found = got(page, part="answer")
    assert found.text.startswith("<section data-answer>")
    assert "<form" not in found.text and "data-cautions" in found.text and "<html" not in found.text


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"load_RL": "-4"}, "load_RL", "20 to 1500 kg"),
        ({"load_RL": ""}, "load_RL", "nothing"),
        ({"load_RL": "<b>"}, "load_RL", "a mass"),
        ({"fuel": "9000"}, "fuel", "0 to 250 L"),
        ({"total": "1180"}, "total", "a stated total"),
        ({"target": "5"}, "target", "0.35 to 0.65"),
        ({"driver": "asleep"}, "driver", "one of"),
        ({"raised": "rear"}, "down_left", "nothing"),
        (
            {"raised": "rear", "down_left": "340", "down_right": "340", "lift": "400"},
            "down_left",
            "less than level",
        ),
        ({"raised": "rear", "down_left": "353", "down_right": "362", "lift": "0"}, "lift", "0.1 to 1.2 m"),
    ],
)
def test_a_slip_is_told_at_its_field_and_what_was_typed_stays(described, page, typed, field, words):
    found = got(page, **typed)
    assert found.status_code == 422
    told = re.search(rf'id="{field}-problem" data-problem="{field}">([^<]*)<', found.text)
    assert told and words.replace("<", "&lt;") in told[1].replace("&#39;", "'")
    assert 'value="353"' in found.text and "<b>" not in found.text


def test_pounds_in_a_field_of_kilograms_are_asked(described, page):
    found = got(page, load_FL="757", load_FR="778", load_RL="486", load_RR="505")
    assert found.status_code == 422 and "Were they pounds?" in found.text


def test_saving_writes_four_readings_with_how_it_stood(described, page):
    sent = page.post(
        "/bench/weigh/readings", data={**LOADS, **STOOD, "key": "once", "instrument": "club scales"}
    )
    assert sent.status_code == 303 and sent.headers["location"].startswith("/bench/weigh?saved=")
    again = page.post(
        "/bench/weigh/readings", data={**LOADS, **STOOD, "key": "once", "instrument": "club scales"}
    )
    assert again.status_code == 303
    place = "driver aboard, 32 L of fuel"
    assert readings(described) == [
        ("FL", 343.5, place),
        ("FR", 353.0, place),
        ("RL", 220.5, place),
        ("RR", 229.0, place),
    ]
    shown = page.get("/bench/weigh").text
    assert 'value="343.5"' in shown and "These loads were read on" in shown


def test_nothing_is_saved_while_a_question_stands_open(described, page):
    for typed in ({"driver": ""}, {"fuel": ""}, {"load_FL": "300"}, {"load_FL": "-3"}, {"load_FL": ""}):
        sent = page.post("/bench/weigh/readings", data={**LOADS, **STOOD, **typed, "key": "x"})
        assert sent.status_code == 422, typed
    assert readings(described) == []
    unsaid = page.post(
        "/bench/weigh/readings", data={**LOADS, "driver": "", "fuel": "32", "sure": "yes", "key": "y"}
    )
    assert unsaid.status_code == 422
    sure = page.post(
        "/bench/weigh/readings", data={**LOADS, **STOOD, "load_FL": "300", "sure": "yes", "key": "z"}
    )
    assert sure.status_code == 303 and len(readings(described)) == 4


def test_a_reader_sees_and_cannot_save(described, reader):
    found = got(reader)
    assert found.status_code == 200 and "Save as readings" not in found.text
    sent = reader.post("/bench/weigh/readings", data={**LOADS, **STOOD, "key": "x"})
    assert sent.status_code == 403 and readings(described) == []


def test_without_a_chassis_it_weighs_all_the_same(page):
    found = got(page)
    assert found.status_code == 200
    assert "Describe chassis and set-up" in found.text and "/documents/new?name=chassis.toml" in found.text


def test_a_load_may_bring_its_own_unit(described, page):
    found = got(page, load_FL="757.3 lb", load_FR="778.2 lb", load_RL="486.1 lb", load_RR="504.9 lb")
    assert found.status_code == 200 and "1146.0 kg" in found.text
