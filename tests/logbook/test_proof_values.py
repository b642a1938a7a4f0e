"""A value and the entry that holds it: threads of bolts kept beside their class, older entries still read."""

import pytest

from tintop.logbook.proof_entries import ProofRecorded
from tintop.logbook.proof_values import proof_entry, value_of
from tintop.rules.evidence import Form
from tintop.rules.facts import Bolts, Fact, FactKind, Station

BOLTS = Fact(name="harness.bolts", ask="Bolts", kind=FactKind.BOLTS, station=Station.CABIN)


@pytest.mark.parametrize("thread", ["", "7/16-20 UNF", "7/16-14 UNC", "M10x1.25"])
@pytest.mark.parametrize("mark", ["", "8.8", "Grade 8"])
def test_bolts_come_back_with_their_thread(thread, mark):
    bolts = Bolts(count=2, diameter=0.0111125, strength_class=mark, thread=thread)
    assert value_of(proof_entry(BOLTS, "", bolts, Form.MEASUREMENT)) == bolts


def test_an_entry_of_before_threads_were_kept_is_read_as_it_stands():
    old = ProofRecorded(
        fact=BOLTS.name, form="measurement", fact_kind="bolts", values=(1.0, 0.0111125), text="8.8"
    )
    assert value_of(old) == Bolts(count=1, diameter=0.0111125, strength_class="8.8")
