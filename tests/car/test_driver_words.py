"""The driver's own words, read kindly and without guessing."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tintop.car.driver_words import said_from, said_words
from tintop.errors import BadInput


@pytest.mark.parametrize(
    ("text", "understood"),
    [
        ("understeers mid, fine out", "understeer in mid-corner; fine on the way out"),
        ("pushes on entry", "understeer on the way in"),
        ("loose on exit", "oversteer on the way out"),
        ("loose in", "oversteer on the way in"),
        ("Runs wide mid-corner in hairpins", "understeer in mid-corner of slow corners"),
        ("the tail steps out on the throttle", "oversteer on the way out"),
        ("fine on turn-in but pushes mid and exit",
         "fine on the way in; understeer in mid-corner; understeer on the way out"),
        ("mid fast oversteer", "oversteer in mid-corner of fast corners"),
        ("OK", "fine on the way in; fine in mid-corner; fine on the way out"),
    ],
)  # fmt: skip
def test_it_is_understood(text, understood):
    assert said_words(said_from([text])) == understood


@pytest.mark.parametrize("text", ["", "understeers", "wobbly on entry", "mid", "loose pushes mid", ",;"])
def test_what_does_not_say_where_or_what_is_asked_for(text):
    with pytest.raises(BadInput, match="driver's words"):
        said_from([text])


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text):
    with contextlib.suppress(BadInput):
        assert said_from([text])
