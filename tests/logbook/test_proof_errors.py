"""The ± of what is proven: who states it and with what it was read; texts of which nothing is to be seen."""

from dataclasses import replace

import pytest

from books import Writer, on
from tintop.errors import BadInput
from tintop.logbook.book import logbook_of
from tintop.logbook.entries import Entry, PaperAdded
from tintop.logbook.proof_values import fits_of, proof_entry, value_of
from tintop.logbook.proofs import evidence_of
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKey, FactKind, Station
from tintop.rules.placeholders import is_not_known, is_visible

DIGEST = "0" * 64
HEIGHT = Fact(
    name="body.clearance", ask="Height", kind=FactKind.NUMBER, station=Station.UNDERNEATH,
    quantity="length", unit="mm", error=1e-3,
)  # fmt: skip
FACTS = {HEIGHT.name: HEIGHT}


@pytest.mark.parametrize("form", list(Form))
@pytest.mark.parametrize("instrument", ["", "\u200b ", "calliper"])
@pytest.mark.parametrize("error", [None, 0.0, 2e-4, 5e-3])
def test_no_word_and_no_nought_typed_is_more_exact_than_a_measurement(form, instrument, error):
    entry = Entry(
        number=1,
        key="a",
        day=on("2026-02-01"),
        who="owner",
        written_at="2026-02-01T20:00:00Z",
        instrument=instrument,
        matter=proof_entry(HEIGHT, "", 0.1, form, error=error),
    )
    shown = replace(entry, matter=replace(entry.matter, papers=(DIGEST,)))
    paper = PaperAdded(digest=DIGEST, name="a.jpg", media_type="image/jpeg", size=1)
    book = logbook_of([replace(entry, key="b", matter=paper), replace(shown, number=2)])
    got = evidence_of(book, FACTS, on("2026-03-01")).proven[FactKey(HEIGHT.name)].error
    if form in (Form.CERTIFICATE, Form.LABEL):
        assert got == (error or 0.0)  # what a maker states
    elif form is Form.MEASUREMENT and instrument == "calliper":
        assert got == (HEIGHT.error if error is None else error)
    else:
        assert got == max(HEIGHT.error, error or 0.0)


def test_where_there_is_none_of_a_thing_nothing_was_measured():
    ballast = replace(HEIGHT, name="mass.ballast", quantity="mass", unit="kg", error=0.2)
    facts = {**FACTS, ballast.name: ballast}
    for form, value, error in (
        (Form.WITNESS, 0.0, 0.0),
        (Form.WITNESS, 0.1, 0.2),
        (Form.MEASUREMENT, 0.0, 0.2),
    ):
        writer = Writer()
        writer.write("2026-02-01", proof_entry(ballast, "", value, form))
        assert evidence_of(writer.book, facts, on("2026-03-01")).proven[FactKey(ballast.name)].error == error


def test_less_than_no_error_is_refused():
    with pytest.raises(BadInput, match=r"± of body\.clearance: found -1\.0; expected zero or more"):
        replace(proof_entry(HEIGHT, "", 0.1, Form.MEASUREMENT), error=-1.0)


@pytest.mark.parametrize("text", ["\u200b", "\u2060\ufeff", "\u3164", "\u2800 ", "\u200e"])
def test_a_text_of_which_nothing_can_be_seen_proves_nothing(text):
    fact = replace(HEIGHT, name="cage.number", kind=FactKind.TEXT, quantity="", unit="", error=0.0)
    proof = replace(proof_entry(fact, "", "17", Form.WITNESS), text=text)
    assert value_of(proof) is None and fits_of(fact, proof)
    assert not is_visible(text) and is_not_known(text)
