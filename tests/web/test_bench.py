"""The bench's shell: its list, a garage that does not say what carries its car, and the answer alone."""

import re

import pytest
from chassis_described import describe_chassis

from tintop.answer import Figure
from tintop.errors import refuse
from tintop.logbook.entries import Draft, SetupChanged
from tintop.logbook.setup_today import PUT_ON
from tintop.settings import USUAL_UNITS
from tintop.web.bench_page import SUBJECTS, Asked, figure_words


def test_the_menu_leads_to_the_bench_and_it_lists_only_pages_there_are(page):
    found = page.get("/bench")
    assert found.status_code == 200
    assert '<a href="/bench" aria-current="page">Bench</a>' in found.text
    listed = re.findall(r'<h2><a href="([^"]+)">', found.text)
    assert "/bench/weigh" in listed
    assert set(listed) <= {each.address for each in SUBJECTS}
    for address in listed:
        assert page.get(address).status_code == 200, address


@pytest.mark.parametrize("address", ["/bench", "/bench/weigh"])
def test_a_garage_without_chassis_is_told_what_to_do(page, reader, address):
    assert 'href="/documents/new?name=chassis.toml"' in page.get(address).text
    seen = reader.get(address)
    assert seen.status_code == 200
    assert "chassis.toml" in seen.text
    assert "/documents/new" not in seen.text


def test_a_new_document_may_have_its_name_proposed(page):
    assert 'value="chassis.toml"' in page.get("/documents/new?name=chassis.toml").text


def test_a_field_left_out_stands_as_the_car_stands():
    asked = Asked({"rate": "70"}, {"rate": "60", "height": "140"})
    assert asked.value("rate", "spring rate", "N/mm") == pytest.approx(70e3)
    assert asked.value("height", "length", "mm") == pytest.approx(0.14)
    assert asked.is_changed() and asked.is_changed("rate") and not asked.is_changed("height")
    assert asked.value("other", "length", "mm") is None
    assert not asked.problems


def test_what_cannot_be_read_has_its_sentence_at_its_field_and_the_rest_at_the_head():
    asked = Asked({"rate": "stiff"}, {"rate": "60", "hole": "2"})
    assert asked.needed("rate", "spring rate", "N/mm") is None
    assert asked.choice("hole", ("1", "3")) == "1"
    asked.refuse(refuse("motion ratio", "2", "0.2 to 1.1"))
    assert "stiff" in asked.problems["rate"]
    assert "one of: 1, 3" in asked.problems["hole"]
    assert asked.problems[""].startswith("motion ratio: ")


@pytest.mark.parametrize(
    ("unit", "value", "words"),
    [
        ("share", 0.5012, "50.1 %"),
        ("kg", 312.04, "312.0 kg"),
        ("N/m", 70e3, "70 N/mm"),
        ("m", -0.0125, "\u221212.5 mm"),
        ("rad", 0.0436332, "2.5°"),
        ("", 0.7, "0.7"),
    ],
)
def test_figures_stand_in_the_owners_units(unit, value, words):
    figure = Figure(name="x", value=value, low=value, high=value, unit=unit, basis="by hand")
    assert figure_words(figure, value, USUAL_UNITS) == words


@pytest.mark.parametrize(
    "subject", ["camber", "ride", "springs", "gearing", "brakes", "pressures", "treads", "search"]
)
def test_every_page_says_when_nothing_says_which_set_up_is_on_the_car(garage, page, subject):
    describe_chassis(garage, "dry", "wet")
    said = "Nothing says which set-up is on the car; this is for dry."
    assert said in page.get(f"/bench/{subject}?setup=dry&part=answer").text


def test_a_broken_set_up_that_is_on_the_car_is_named_and_another_can_be_chosen(garage, page):
    describe_chassis(garage, "dry", "road", "wet")
    garage.record(
        [Draft(key="on", day=garage.today(), who="o", matter=SetupChanged(item=PUT_ON, written="wet"))]
    )
    wet = garage.folder / "setups" / "wet.toml"
    wet.write_text(wet.read_text("utf-8").replace("1.90 bar", "27 bar"), "utf-8")
    found = page.get("/bench/brakes")
    assert found.status_code == 200
    assert "wet was put on the car, and its file cannot be read; this is for dry." in found.text
    assert "27 psi" in found.text
    assert "<strong>dry</strong>" in found.text and "?setup=road" in found.text


SPOILT = [
    ('price = "96"', 'price = "1e308"'),
    ('"106 N", "191 N"', '"1e308 N", "191 N"'),
    ('least_turns = "-12"', 'least_turns = "-1e308"'),
    ('most_clicks = "16"', 'most_clicks = "10000"'),
    ('step = "0.1 deg"', 'step = "1e-9 deg"'),
]


@pytest.mark.parametrize(("old", "new"), SPOILT)
def test_a_number_that_cannot_be_is_a_sentence_on_every_page(garage, page, old, new):
    describe_chassis(garage, "dry", "wet")
    chassis = garage.folder / "chassis.toml"
    text = chassis.read_text("utf-8")
    assert old in text
    chassis.write_text(text.replace(old, new, 1), "utf-8")
    for subject in SUBJECTS:
        found = page.get(subject.address)
        assert found.status_code == 422, (subject.address, found.status_code)
        assert "chassis.toml line" in found.text, subject.address
