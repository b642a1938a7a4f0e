"""A file of entries that prove a car, with the pictures beside it: what of it counts today."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from tintop.errors import BadInput, Problem, did_you_mean, refuse
from tintop.logbook.book import Logbook, entry_of, logbook_of
from tintop.logbook.entries import Draft, PaperAdded
from tintop.logbook.proof_entries import ProofRecorded
from tintop.rules.facts import Fact
from tintop.store.documents.fields import MOST_PROBLEMS
from tintop.store.documents.text import read_text
from tintop.store.documents.written import shown
from tintop.store.durable import disk_in_plain_words
from tintop.store.exchange.text import drafts_from_text
from tintop.store.originals import LARGEST, ORIGINALS_NAME
from tintop.store.revisions import digest_of

MOST_ORIGINALS = 5_000
_PICTURES = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")  # JPEG, PNG


def evidence_from(path: Path, facts: Mapping[str, Fact], today: date) -> tuple[Logbook, tuple[str, ...]]:
    """Read evidence written by hand, and say what of it does not count.

    A paper counts where a file of its content lies in the folder originals beside the evidence, under any
    name; as a picture where it is one. Entries of days after `today` stay in the book, which nobody reads
    past today. Raises BadInput, for a fact that neither the books at hand nor the shipped list have too.
    """
    drafts = drafts_from_text(read_text(path), path.name, facts)
    _refuse_unknown(path, drafts, facts)
    papers = [draft.matter for draft in drafts if isinstance(draft.matter, PaperAdded)]
    there = dict(_originals(path.parent / ORIGINALS_NAME)) if papers else {}
    book = logbook_of(
        entry_of(_as_it_is(draft, there), number)
        for number, draft in enumerate(drafts, 1)
        if not isinstance(draft.matter, PaperAdded) or draft.matter.digest in there
    )
    return book, tuple(_notices(path, drafts, there, today))


def _refuse_unknown(path: Path, drafts: Sequence[Draft], facts: Mapping[str, Fact]) -> None:
    unknown = [
        (number, draft.matter.fact)
        for number, draft in enumerate(drafts, 1)
        if isinstance(draft.matter, ProofRecorded) and draft.matter.fact not in facts
    ]
    if unknown:
        raise BadInput(
            *(
                Problem(
                    where=f"{path.name}, entry {number}, fact",
                    found=shown(name),
                    expected="a fact these rule books or the shipped list declare",
                    cure=did_you_mean(name, facts),
                )
                for number, name in unknown[:MOST_PROBLEMS]
            )
        )


def _originals(folder: Path) -> Iterator[tuple[str, bool]]:
    """Each file by the digest of its content, and whether it is a picture."""
    with disk_in_plain_words(folder):
        files = sorted(file for file in folder.iterdir() if file.is_file()) if folder.is_dir() else []
        if len(files) > MOST_ORIGINALS:
            raise refuse(str(folder), f"{len(files):,} files", f"{MOST_ORIGINALS:,} at most")
        for file in files:
            if file.stat().st_size <= LARGEST:
                content = file.read_bytes()
                yield digest_of(content), content.startswith(_PICTURES)


def _as_it_is(draft: Draft, there: Mapping[str, bool]) -> Draft:
    """A paper said to be a picture that is none counts as a paper."""
    paper = draft.matter
    if isinstance(paper, PaperAdded) and paper.media_type.startswith("image/") and not there[paper.digest]:
        return replace(draft, matter=replace(paper, media_type="application/octet-stream"))
    return draft


def _notices(path: Path, drafts: tuple[Draft, ...], there: Mapping[str, bool], today: date) -> Iterator[str]:
    papers = [draft.matter for draft in drafts if isinstance(draft.matter, PaperAdded)]
    lost = [paper.name for paper in papers if paper.digest not in there]
    if lost:
        yield (
            f"{path.name}: no file of {_few(lost)} is in the folder {ORIGINALS_NAME} beside it: "
            f"{'it counts' if len(lost) == 1 else f'these {len(lost)} papers count'} for nothing."
        )
    later = sorted({draft.day for draft in drafts if draft.day > today})
    if later:
        count = sum(draft.day > today for draft in drafts)
        yield (
            f"{path.name}: {count} entr{'y is' if count == 1 else 'ies are'} of days to come, from "
            f"{later[0].isoformat()}: on {today.isoformat()} {'it counts' if count == 1 else 'they count'} "
            "for nothing."
        )


def _few(names: list[str]) -> str:
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
