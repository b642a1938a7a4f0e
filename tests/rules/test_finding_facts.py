"""Facts found by words: each apart, those of the same meaning, and words spelt wrongly."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.rules.finding_facts import facts_near, facts_with, words_near
from tintop.store.rule_books import shipped_facts

SHIPPED = tuple(shipped_facts().values())


def names(found):
    return [fact.name for fact in found]


@pytest.mark.parametrize(
    ("words", "fact"),
    [
        ("weight", "mass.with_driver"),
        ("sticker", "numbers.marks_are_clear"),
        ("tow strap", "towing.webbing_allowed_by"),
        ("kill", "electrics.cut_off"),
        ("silencer", "noise.level"),
        ("displacement", "car.capacity"),
        ("figures height left", "numbers.height"),
        ("NUMBERS.HEIGHT", "numbers.height"),
    ],
)
def test_a_fact_is_found_by_what_people_call_it(words, fact):
    assert fact in names(facts_with(words, SHIPPED))


def test_no_words_give_all_and_every_word_narrows():
    assert facts_with("", SHIPPED) == SHIPPED or set(facts_with("", SHIPPED)) == set(SHIPPED)
    assert set(facts_with("harness left", SHIPPED)) <= set(facts_with("harness", SHIPPED))


def test_near_facts_have_the_most_words_and_the_named_first():
    assert not facts_with("door number", SHIPPED)
    assert names(facts_near("door number", SHIPPED))[0].startswith("numbers.")
    assert facts_near("xylophone", SHIPPED) == ()


def test_a_word_spelt_wrongly_is_told_as_it_is_spelt():
    assert "height" in words_near("hieght", SHIPPED)
    assert words_near("height", SHIPPED) == ()


@given(st.text(max_size=60))
def test_anything_may_be_sought(words):
    for find in (facts_with, facts_near):
        assert set(find(words, SHIPPED)) <= set(SHIPPED)
    words_near(words, SHIPPED)
