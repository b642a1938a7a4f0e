"""Cage documents written from a form: they read, what stood beside a value stays, words stay words."""

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cages import DEMO
from tintop.car.cage import KnownHow
from tintop.errors import BadInput
from tintop.store.documents.cage_reader import DescribedCage, cage_from
from tintop.store.documents.text import Document, lines_of, toml_tables
from tintop.store.documents.writing_cages import is_from_template, template_fields, with_load, with_template

TYPED = {
    "name": "Shed cage",
    "car_mass": "1040 kg",
    "driver_side": "right",
    "yield_strength": "350 N/mm2",
    "cabin_width": "1240 mm",
    "cabin_height": "1145 mm",
    "cabin_length": "1420 mm",
    "stay_length": "840 mm",
    "hoop_tube": "45 x 2.5 mm",
    "other_tube": "38 x 2.5 mm",
    "diagonals": "2",
    "door_bars": "cross",
    "windscreen_bar": "yes",
    "bolted_door_bars": "no",
    "feet": "welded",
}


def reading(text: str) -> DescribedCage:
    return cage_from(Document(name="cage.toml", tables=toml_tables(text, "cage.toml"), lines=lines_of(text)))


def test_a_new_document_reads_and_stands_in_the_form_as_it_was_typed() -> None:
    text = with_template("", TYPED)
    cage = reading(text).cage
    assert (cage.name, cage.car_mass, cage.steel.yield_strength) == ("Shed cage", 1040.0, 350e6)
    assert template_fields(text, "cage.toml") == TYPED
    assert is_from_template(text, "cage.toml")
    assert text.startswith("# A cage drawn from the measures of a cabin: a likely cage, not yours.")


def test_a_measure_is_changed_and_all_else_stays() -> None:
    text = with_template("", TYPED).replace(
        'yield_strength = "350 N/mm2"',
        'yield_strength = { value = "350 N/mm2", origin = "documented", source = "certificate 7" }  # kept',
    )
    text = with_load(text, {**LOAD, "source": 'the "book"'})
    changed = with_template(
        text, {**TYPED, "cabin_width": "1300 mm", "yield_strength": "355 N/mm2", "feet": ""}
    )
    assert 'value = "355 N/mm2", origin = "documented", source = "certificate 7"' in changed
    assert "# kept" in changed and "feet" not in tomllib.loads(changed)["template"]
    before, after = text.splitlines(), changed.splitlines()
    assert len([line for line in before if line not in after]) == 3
    assert reading(changed).loads[-1].source == 'the "book"'
    assert with_template(text, template_fields(text, "cage.toml")) == text


LOAD = {
    "name": "lateral",
    "case": "lateral",
    "nodes": ["hoop shoulder right"],
    "force": "30 kN",
    "direction": "left",
    "permitted_deflection": "50 mm",
    "source": "the book in hand, 8.2",
}


@pytest.mark.parametrize("text", [DEMO.read_text("utf-8"), with_template("", TYPED)])
def test_loads_are_written_below_all_that_stands(text: str) -> None:
    once = with_load(text, LOAD)
    twice = with_load(once, {**LOAD, "name": "lateral, left"})
    assert twice.startswith(text.rstrip())
    own = [load for load in reading(twice).loads if load.known is KnownHow.YOURS]
    assert [load.name for load in own] == ["lateral", "lateral, left"]
    assert own[0].total == pytest.approx((0.0, 30e3, 0.0))


def test_a_drawing_by_hand_is_no_template() -> None:
    assert not is_from_template(DEMO.read_text("utf-8"), "cage.toml")
    both = with_template("", TYPED) + '\n[nodes]\n"a" = ["0 mm", "0 mm", "0 mm"]\n'
    assert not is_from_template(both, "cage.toml")
    with pytest.raises(BadInput, match="not TOML"):
        is_from_template("[template", "cage.toml")


WORDS = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=40).filter(str.strip)


@settings(max_examples=30, deadline=None)
@given(WORDS, WORDS)
def test_any_words_stay_words(name: str, source: str) -> None:
    text = with_load(with_template("", {**TYPED, "name": name}), {**LOAD, "source": source})
    found = reading(text)
    assert found.cage.name == name.strip()
    assert found.loads[-1].source == source
