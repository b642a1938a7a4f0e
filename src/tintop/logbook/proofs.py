"""What the logbook proves of the car on a day: each fact by the last entry about it that still counts."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from tintop.logbook.amounts import day_in_words
from tintop.logbook.book import Logbook
from tintop.logbook.build import PartToday, parts_on
from tintop.logbook.entries import Area, Entry, PaperAdded
from tintop.logbook.hits import first_number, last_hit
from tintop.logbook.proof_entries import ProofRecorded
from tintop.logbook.proof_values import fits_of, value_of
from tintop.rules.evidence import Evidence, Form, Paper, Proven
from tintop.rules.facts import Fact, FactKey
from tintop.rules.placeholders import is_visible


def evidence_of(
    book: Logbook,
    facts: Mapping[str, Fact],
    day: date,
    also: Sequence[Proven] = (),
    unproven: Mapping[FactKey, str] | None = None,
) -> Evidence:
    """What is proven by the end of a day of the facts named; the last entry about each counts.

    Of one day the one written later is the last, whatever clock it bears; a correction stands where the entry
    stood that it corrects. An entry of a later day than `day` does not count yet.

    An entry about a part counts while that part is on the car, one about the driver's kit until it is taken
    off; then an earlier one counts again only if it is about a part that is. `also` is what is known from
    elsewhere: a later reading goes before what was recorded of the fact, a document (entry 0) never does.
    `fallen` says why a fact recorded is not proven; `unproven` says it of what is known and is no proof.
    """
    shelf = _Shelf(
        parts=parts_on(book, day),
        papers={paper.digest: _paper(paper) for entry, paper in book.of(PaperAdded) if entry.day <= day},
    )
    recorded: dict[FactKey, list[tuple[Entry, ProofRecorded]]] = {}
    for entry, proof in book.of(ProofRecorded):
        if entry.day <= day and proof.fact in facts:
            recorded.setdefault(FactKey(proof.fact, proof.each), []).append((entry, proof))
    proven: dict[FactKey, Proven] = {}
    fallen: dict[FactKey, str] = dict(unproven or {})
    for key, entries in recorded.items():
        fact = facts[key.fact]
        entries.sort(key=lambda each: (each[0].day, first_number(book, each[0])))
        entry, proof = shelf.deciding(entries)
        if reason := shelf.why_not(fact, entry, proof):
            fallen[key] = reason
        else:
            proven[key] = _proven(fact, entry, proof, shelf.papers)
    for one in also:
        said = recorded.get(one.key)
        if one.key.fact in facts and (said is None or (one.entry and one.day > said[-1][0].day)):
            proven[one.key] = one
    hit = last_hit(book, day)
    if hit.day is not None:
        proven = {
            key: replace(one, outlasts_hit=one.day <= hit.day and hit.is_outlasted_by(facts[key.fact], one))
            for key, one in proven.items()
        }
    return Evidence(
        proven=proven,
        fallen={key: reason for key, reason in fallen.items() if key not in proven},
        accident=hit.day,
        broken=tuple(shelf.broken()),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shelf:
    """What an entry about a part or with papers rests on: the parts and papers of the day."""

    parts: Mapping[str, PartToday]
    papers: Mapping[str, Paper]

    def deciding(self, entries: Sequence[tuple[Entry, ProofRecorded]]) -> tuple[Entry, ProofRecorded]:
        """The last entry about a fact; where its part is off the car, the last about a part that is on it."""
        last = entries[-1]
        if not last[1].part or self._is_on_car(last[1].part):
            return last
        return next((each for each in reversed(entries) if self._is_on_car(each[1].part)), last)

    def _is_on_car(self, name: str) -> bool:
        part = self.parts.get(name)
        return part is not None and (part.is_fitted or (part.area is Area.KIT and part.fate is None))

    def broken(self) -> Iterator[str]:
        """What has failed, was not mended since and is still on the car."""
        for name, part in self.parts.items():
            if part.failed and self._is_on_car(name):
                yield f"{part.title}: {'; '.join(each.what for each in part.failed)}"

    def why_not(self, fact: Fact, entry: Entry, proof: ProofRecorded) -> str:
        """Why an entry proves nothing now; empty when it does."""
        reasons = (
            self._of_part(proof),
            _of_instance(fact, proof),
            fits_of(fact, proof),
            self._of_papers(proof),
        )
        reason = next((reason for reason in reasons if reason), "")
        written = f"{day_in_words(entry.day)} {entry.day.year}, entry {entry.number}"
        return f"recorded on {written}, but {reason}" if reason else ""

    def _of_part(self, proof: ProofRecorded) -> str:
        if not proof.part:
            return ""
        part = self.parts.get(proof.part)
        if part is None:
            return f"no part {proof.part!r} is in the logbook"
        if part.failed:
            return f"{part.title} failed since it was last found good: {part.failed[-1].what}"
        if self._is_on_car(proof.part):
            return ""
        if part.gone_on is None:
            return f"{part.title} is not on the car"
        return f"{part.title} came off on {day_in_words(part.gone_on)} {part.gone_on.year}"

    def _of_papers(self, proof: ProofRecorded) -> str:
        if Form(proof.form) is not Form.PHOTOGRAPH:
            return ""
        kept = [self.papers[digest] for digest in proof.papers if digest in self.papers]
        if not kept:
            return "its photograph is not in the logbook"
        return "" if any(paper.is_picture for paper in kept) else f"{kept[0].name} is no photograph"


def _of_instance(fact: Fact, proof: ProofRecorded) -> str:
    if not fact.each:
        return f"it is asked for once, not for {proof.each!r}" if proof.each else ""
    if isinstance(fact.each, str):
        return "" if proof.each else f"it does not say for which of the {fact.each}"
    if proof.each in fact.each:
        return ""
    said = f"for {proof.each!r}" if proof.each else "without saying which"
    return f"it is recorded {said}, and asked for {', '.join(fact.each)}"


def _proven(fact: Fact, entry: Entry, proof: ProofRecorded, papers: Mapping[str, Paper]) -> Proven:
    value = value_of(proof)
    assert value is not None  # or it would not fit
    form = Form(proof.form)
    return Proven(
        key=FactKey(proof.fact, proof.each),
        value=value,
        form=form,
        day=entry.day,
        who=entry.who,
        written=proof.written,
        error=error_counted(fact, form, proof.values, proof.error, entry.instrument),
        instrument=entry.instrument,
        serial=proof.serial,
        part=proof.part,
        entry=entry.number,
        papers=tuple(papers[digest] for digest in proof.papers if digest in papers),
    )


_MAY_BE_NONE = ("mass", "volume")


def error_counted(
    fact: Fact, form: Form, values: tuple[float, ...], error: float | None, instrument: str
) -> float:
    """The ± a value counts with [SI], `error` as it was written.

    What a maker states is nominal; nobody's word or eye betters the usual one.
    Smaller than usual only counts where the instrument it was read from is named. Where there is none of a
    thing, such as no ballast, nothing was measured.
    """
    if form in (Form.CERTIFICATE, Form.LABEL):
        return error or 0.0
    is_none = values == (0.0,) and fact.quantity in _MAY_BE_NONE
    if is_none and form is not Form.MEASUREMENT and error is None:
        return 0.0
    if error is None:
        return fact.error
    is_read_off = form is Form.MEASUREMENT and is_visible(instrument)
    return error if is_read_off else max(error, fact.error)


def _paper(paper: PaperAdded) -> Paper:
    return Paper(digest=paper.digest, name=paper.name, media_type=paper.media_type)
