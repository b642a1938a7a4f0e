"""What proves the demo's car, as one file of entries beside its car.toml, dated as the demo's files are."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

from tintop.logbook.book import logbook_of
from tintop.logbook.entries import (
    Draft,
    Entry,
    Measure,
    PaperAdded,
    PartAdded,
    PartFailed,
    PartFitted,
    PartInspected,
    PartRemoved,
    Reading,
)
from tintop.logbook.proof_entries import AccidentHappened, ProofRecorded
from tintop.store.demo_garage import NEXT_EVENT, SOONEST, demo_garage
from tintop.store.demo_pictures import Picture
from tintop.store.exchange.entry_tables import table_of
from tintop.store.exchange.toml_writing import toml_block
from tintop.store.revisions import digest_of

HEAD = """\
# What proves the car: proofs of facts, the parts and papers they are about, tread depths. Numbers are in SI.
# tintop inspect car.toml --evidence evidence.toml --book larkmoor_bulletin --on 2026-06-20
"""


def demo_evidence() -> str:
    """The standing entries of the demo's season that an inspection rests on, as text that reads back."""
    entries = demo_garage(NEXT_EVENT - timedelta(days=SOONEST)).entries
    book = logbook_of(entries)
    standing = [entry for entry in entries if book.stands(entry.number)]
    drafts = [
        Draft(
            key=f"evidence-{place}",
            day=entry.day,
            who=entry.who,
            matter=entry.matter,
            clock=entry.clock,
            instrument=entry.instrument,
            note=entry.note,
        )
        for place, entry in enumerate(_chosen(standing), 1)
    ]
    return "".join([HEAD, *(toml_block("entry", table_of(draft)) for draft in drafts)])


def evidence_pictures() -> tuple[Picture, ...]:
    """The pictures that evidence names."""
    garage = demo_garage(NEXT_EVENT - timedelta(days=SOONEST))
    named = {
        digest
        for entry in garage.entries
        if isinstance(entry.matter, ProofRecorded)
        for digest in entry.matter.papers
    }
    return tuple(picture for picture in garage.pictures if digest_of(picture.content) in named)


def _chosen(entries: Sequence[Entry]) -> Iterator[Entry]:
    proofs = [entry.matter for entry in entries if isinstance(entry.matter, ProofRecorded)]
    tyres = {
        entry.matter.part
        for entry in entries
        if isinstance(entry.matter, PartAdded) and "tyre" in entry.matter.family
    }
    parts = {proof.part for proof in proofs} | tyres
    papers = {digest for proof in proofs for digest in proof.papers}
    for entry in entries:
        match entry.matter:
            case ProofRecorded() | AccidentHappened():
                yield entry
            case PaperAdded(digest=digest, about=about) as paper if digest in papers:
                yield replace(entry, matter=replace(paper, about=about if about in parts else ""))
            case PartAdded(part=part) as added if part in parts:
                yield replace(
                    entry, matter=replace(added, price_cents=None, list_price_cents=None, supplier="")
                )
            case PartFitted(part=part, replaces=replaces) as fitted if part in parts:
                yield replace(entry, matter=replace(fitted, replaces=replaces if replaces in parts else ""))
            case PartRemoved(part=part) | PartFailed(part=part) | PartInspected(part=part) if part in parts:
                yield entry
            case Reading(measure=Measure.TREAD_DEPTH, part=part) if part in parts:
                yield entry
