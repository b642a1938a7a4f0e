"""Whatever a book holds, every fold and every question gives an answer."""

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from books import on
from logbook.entry_strategies import clocks, matters
from tintop.logbook.book import logbook_of
from tintop.logbook.build import build_on, part_history
from tintop.logbook.counters import counts_on
from tintop.logbook.entries import Entry, Remark
from tintop.logbook.mass_ledger import mass_ledger
from tintop.logbook.meetings import meetings
from tintop.logbook.proof_entries import ProofRecorded
from tintop.logbook.proofs import evidence_of
from tintop.logbook.sessions import sessions
from tintop.logbook.setup import setup_changes
from tintop.logbook.support import supporters
from tintop.logbook.words import words_of
from tintop.questions.is_it_ready import is_it_ready
from tintop.questions.what_will_it_cost import what_will_it_cost
from tintop.rules.facts import Fact, FactKind, Station

FIRST, LAST = on("2026-01-01"), on("2026-12-31")
FEW = st.sampled_from(["a", "b", "c"])


@st.composite
def entries(draw):
    """Entries of any matter, with few names of parts and sessions, so that they speak of one another."""
    found = []
    for number in range(1, draw(st.integers(0, 25)) + 1):
        matter = draw(matters())
        named = {
            name: draw(FEW) for name in ("part", "session", "meeting", "tyres", "job", "support")
            if name in matter.__dataclass_fields__ and draw(st.booleans())
        }  # fmt: skip
        matter = replace(matter, **named)
        found.append(
            Entry(
                number=number,
                key=str(number),
                day=draw(st.dates(FIRST, LAST)),
                written_at="",
                who="",
                matter=matter,
                clock=draw(clocks),
                corrects=draw(st.one_of(st.none(), st.integers(1, 25))),
            )
        )
    return found


@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large], deadline=None)
@given(entries=entries(), day=st.dates(FIRST, LAST))
def test_every_fold_gives_an_answer(entries, day):
    book = logbook_of(entries)
    build = build_on(book, day)
    assert len(build.fitted) + len(build.shelf) + len(build.gone) == len(build.by_name)
    assert set(counts_on(book, day)) == set(build.by_name)
    for name in build.by_name:
        part_history(book, name)
    assert len(mass_ledger(book, day).corners) <= len(entries)
    assert len(meetings(book, day)) <= len(entries)
    sessions(book, day)
    setup_changes(book, FIRST, day)
    supporters(book, day)
    facts = {
        proof.fact: Fact(name=proof.fact, ask="", kind=kind, station=Station.CABIN)
        for kind, (_, proof) in zip(FactKind, book.of(ProofRecorded), strict=False)
    }
    evidence = evidence_of(book, facts, day)
    assert not set(evidence.proven) & set(evidence.fallen)
    assert all(words_of(entry) or isinstance(entry.matter, Remark) for entry in entries)
    assert is_it_ready(book, day).sentence.endswith(".")
    assert what_will_it_cost(book, day).sentence.endswith(".")
