"""Clauses of the scrutineering pack: each finding as a line with its figures and evidence."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from tintop.papers.content import plain, shortened
from tintop.papers.pack_content import MissingLine, PackLine, PackProof
from tintop.papers.stand import MINUS, day_words
from tintop.rules.book import Clause, Limits, RuleBook, Severity
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.expression import Amount, Named
from tintop.rules.facts import Fact, FactKey, FactKind
from tintop.rules.figures import write_value
from tintop.rules.findings import Finding, Heard, Inspection, Ruling
from tintop.rules.rulings import facts_checked
from tintop.rules.writing_expressions import say_expression

MET = (Ruling.PASS, Ruling.NOT_APPLICABLE)
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_LONGEST_NAME = 60
_ON_LABELS = ("standard", "label", "homologation number", "log book")
_BELOW_ZERO = re.compile(r"(?<![^ :])-(?=[0-9])")
OWNER = "owner"  # who writes in a garage on the laptop itself
FROM_MEMORY = "Met, but the figure is from memory: it has not been read in the regulation itself."


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What the lines of a pack are written with.

    `numbers` are those of the papers, by digest; `parts` the names of parts; `own` takes sums of money out of
    what the owner typed, in the copy that is handed over; `owner` is the owner's name,
    `made` the days parts were made by the logbook.
    """

    inspection: Inspection
    facts: Mapping[str, Fact]
    numbers: Mapping[str, int]
    parts: Mapping[str, str]
    evidence: Evidence
    own: Callable[[str], str]
    owner: str = ""
    made: Mapping[str, date] = field(default_factory=dict)

    @property
    def clauses(self) -> Mapping[str, tuple[RuleBook, Clause]]:
        """Every clause of the books by "book:id"."""
        return {
            f"{book.id}:{clause.id}": (book, clause)
            for book in self.inspection.books
            for clause in book.clauses
        }

    def kind(self, proof: Proven) -> FactKind | None:
        """The kind of a fact that is proven."""
        fact = self.facts.get(proof.key.fact)
        return fact.kind if fact else None

    def is_label(self, proof: Proven) -> bool:
        """Whether it is what a label or certificate bears: a date, a standard, a number."""
        kind = self.kind(proof)
        asked = self.ask(FactKey(proof.key.fact)).casefold()
        is_word = kind in (FactKind.CHOICE, FactKind.TEXT)
        return kind is FactKind.MARKED or (is_word and any(word in asked for word in _ON_LABELS))

    def letter(self, book: RuleBook) -> str:
        """The letter a book goes by in the pack, in the order they stand."""
        ids = [each.id for each in self.inspection.books]
        place = ids.index(book.id)
        return _LETTERS[place] if place < len(_LETTERS) else str(place + 1)

    def rule(self, book: RuleBook, clause: Clause) -> str:
        """A clause by number, book and its letter, and whether its figure is from memory."""
        memory = "" if clause.is_verified else "; figure from memory, not verified"
        return f"{plain(clause.reference)}, {plain(book.title)} [{self.letter(book)}]{memory}"

    def ask(self, key: FactKey) -> str:
        """What a fact is asked for by, and of which instance."""
        fact = self.facts.get(key.fact)
        ask = plain(fact.ask if fact else key.fact)
        return f"{ask}, {self.own(plain(key.each))}" if key.each else ask

    def value(self, proof: Proven) -> str:
        """The value of a proof with its ±."""
        fact = self.facts.get(proof.key.fact)
        written = write_value(fact, proof.value, proof.error) if fact else proof.written
        return self.own(plain(written).replace("-", MINUS) if _is_number(proof) else plain(written))

    def named(self, name: str) -> str:
        """The name of a paper."""
        return shortened(self.own(plain(name)), _LONGEST_NAME)


def _is_number(proof: Proven) -> bool:
    value = proof.value
    return isinstance(value, float | int) or (
        isinstance(value, tuple) and all(isinstance(each, float | int) for each in value)
    )


def line_of(shown: Shown, finding: Finding) -> PackLine:
    """One finding as a line of its group."""
    clause, is_met = finding.clause, finding.ruling in MET
    checked, conditions = _told_apart(shown, finding)
    return PackLine(
        sign=finding.ruling.sign,
        word=finding.ruling.value,
        degree=degree_of(finding),
        is_open=not is_met and not finding.is_unverified,
        title=plain(clause.title),
        requirement=plain(clause.requirement),
        rule=shown.rule(finding.book, clause),
        figures=tuple(_figures(shown, finding)),
        instances=tuple(_instances(shown, finding)),
        proofs=_proofs(shown, finding, checked),
        applies="; ".join(f"{shown.ask(each.key)}: {shown.value(each)}" for each in conditions),
        reason="" if is_met else FROM_MEMORY if finding.is_unverified else reason_of(shown, finding),
        to_do="" if finding.is_unverified else to_do_of(shown, finding),
        caution=plain(clause.caution),
        also=tuple(_also(shown, finding)),
    )


def lacks_evidence(finding: Finding) -> bool:
    """Whether it is not proven because something is not recorded."""
    return finding.ruling is Ruling.NOT_PROVEN and bool(finding.missing)


def missing_line_of(shown: Shown, finding: Finding) -> MissingLine:
    """One finding without its evidence, in short: what is missing, and why what was recorded counts not."""
    asked: dict[str, list[str]] = {}
    for key in finding.missing:
        asked.setdefault(shown.ask(FactKey(key.fact)), []).append(key.each)
    said = [
        f"{ask} ({shown.own(plain(', '.join(each)))})" if any(each) else ask for ask, each in asked.items()
    ]
    said += [
        f"{shown.ask(key)}: {shown.own(plain(shown.evidence.fallen[key]))}"
        for key in finding.missing
        if key in shown.evidence.fallen
    ]
    return MissingLine(
        sign=finding.ruling.sign,
        degree=degree_of(finding),
        title=plain(finding.clause.title),
        requirement=plain(finding.clause.requirement),
        rule=shown.rule(finding.book, finding.clause),
        missing="; ".join(said),
    )


def degree_of(finding: Finding) -> str:
    """How much hangs on a clause that is not met; empty where it is."""
    if finding.ruling in MET:
        return ""
    if finding.stops_racing:
        return "stops the car"
    if finding.clause.severity is Severity.STOPS:
        return "may stop the car"
    if finding.ruling is Ruling.NOT_PROVEN and finding.clause.severity is Severity.MEND:
        return "may have to be mended"
    return finding.clause.severity.value


def reason_of(shown: Shown, finding: Finding) -> str:
    """Why it is not met or not proven, without the clause's title in front."""
    reason = shown.own(plain(finding.reason)).removeprefix(plain(finding.clause.title))
    reason = reason.removeprefix(",").removeprefix(":").strip()
    return f"{reason[:1].upper()}{reason[1:]}"


def to_do_of(shown: Shown, finding: Finding) -> str:
    """What is to be done, for a reader who has the regulations and not the owner's files."""
    if finding.is_unverified:
        return f"The figure is to be read in {plain(finding.clause.reference)} itself."
    return shown.own(plain(finding.to_do))


def _deciding(finding: Finding) -> tuple[Heard, ...]:
    return tuple(each for each in finding.heard if each.clause == finding.decided_by)


def _figures(shown: Shown, finding: Finding) -> Iterator[tuple[str, str]]:
    is_one = len(_deciding(finding)) < 2
    if finding.value and is_one and (compared := _compared(shown, finding)):
        yield from (("found", words) for words in compared)
        if finding.margin:
            yield "margin", plain(finding.margin.written)
        return
    if finding.value and is_one:
        yield "found", _found(shown, finding.value, finding.evidence)
    if finding.value and (made_of := _made_of(shown, finding)):
        yield "that is", made_of
    if finding.limit:
        yield "limit", plain(finding.limit)
    if finding.margin and is_one:
        yield "margin", plain(finding.margin.written)


def _compared(shown: Shown, finding: Finding) -> list[str]:
    """Several comparisons, each with its own limit beside it; none where there is one."""
    founds, limits = finding.value.split("; "), finding.limit.split("; ")
    both = [(one, *each.rpartition(": ")) for one, each in zip(founds, limits, strict=False)]
    is_alike = len(founds) == len(limits) > 1 and all(one.startswith(f"{of}: ") for one, of, _, _ in both)
    return (
        [f"{shown.own(plain(one))} (limit {plain(limit)})" for one, _, _, limit in both] if is_alike else []
    )


def _made_of(shown: Shown, finding: Finding) -> str:
    """What a value that was worked out is made of, in words; empty for one that was measured as it stands."""
    check = finding.clause.check
    if not isinstance(check, Limits) or isinstance(check.value, Named | Amount):
        return ""
    return say_expression(check.value, lambda named: shown.ask(FactKey(named.fact, named.each)))


def _instances(shown: Shown, finding: Finding) -> Iterator[tuple[str, str, str, str]]:
    heard = _deciding(finding)
    if len(heard) < 2 or not any(each.value for each in heard):
        return
    for each in heard:
        yield (
            shown.own(plain(each.each)),
            each.ruling.sign,
            _found(shown, each.value, each.evidence) if each.value else each.ruling.value,
            plain(each.margin.written) if each.margin else "",
        )


def _found(shown: Shown, value: str, proofs: Sequence[Proven]) -> str:
    """A value without the words that ask for it, where those of one fact stand before it."""
    found = _BELOW_ZERO.sub(MINUS, shown.own(plain(value)))
    for ask in {shown.ask(FactKey(each.key.fact)) for each in proofs}:
        if found.startswith(f"{ask}: ") and "; " not in found.removeprefix(ask):
            return found.removeprefix(f"{ask}: ")
    return found


def _also(shown: Shown, finding: Finding) -> Iterator[str]:
    """What clauses of other books, heard beside the one that decided, say."""
    for name in dict.fromkeys(each.clause for each in finding.heard if each.clause != finding.decided_by):
        if name not in shown.clauses:
            continue
        worst = next(each for each in finding.heard if each.clause == name)
        book, clause = shown.clauses[name]
        limit = f", limit {plain(worst.limit)}" if worst.limit else ""
        yield f"{worst.ruling.sign} {worst.ruling.value} by {shown.rule(book, clause)}{limit}"


def _told_apart(shown: Shown, finding: Finding) -> tuple[list[Proven], list[Proven]]:
    """What was checked, and what makes the clause apply; a list of names, such as the drivers, is neither."""
    clauses = [shown.clauses[each.clause][1] for each in finding.heard if each.clause in shown.clauses]
    names = {key.fact for clause in (finding.clause, *clauses) for key in facts_checked(clause.check)}
    checked = [each for each in finding.evidence if each.key.fact in names]
    others = [each for each in finding.evidence if each.key.fact not in names]
    conditions = [each for each in others if shown.kind(each) is not FactKind.NAMES]
    return (checked, conditions) if checked else (others, [])


def _proofs(shown: Shown, finding: Finding, checked: Sequence[Proven]) -> tuple[PackProof, ...]:
    """The evidence of a finding; what was proven together stands together."""
    together: dict[tuple[object, ...], list[Proven]] = {}
    for proof in checked:
        papers = tuple(paper.digest for paper in proof.papers)
        source = (proof.instrument, proof.serial, proof.part, proof.basis)
        together.setdefault((proof.form, proof.day, proof.who, source, papers), []).append(proof)
    is_said = _is_said(shown, finding, checked)
    return tuple(_proof(shown, proofs, is_said) for proofs in together.values())


def _is_said(shown: Shown, finding: Finding, checked: Sequence[Proven]) -> bool:
    """Whether the figures already say all that was proven: one fact, its value as it was measured."""
    heard = _deciding(finding)
    return len({each.key.fact for each in checked}) == 1 and all(
        each.value and _found(shown, each.value, each.evidence) == shown.own(plain(each.value))
        for each in heard
    )


def _proof(shown: Shown, proofs: Sequence[Proven], is_said: bool) -> PackProof:
    first = proofs[0]
    entries = [str(each.entry) for each in proofs if each.entry]
    numbers = [str(shown.numbers[each.digest]) for each in first.papers if each.digest in shown.numbers]
    part = shown.own(plain(shown.parts.get(first.part, first.part)))
    told = (
        shown.own(plain(first.instrument)),
        f"serial {shown.own(plain(first.serial))}" if first.serial else "",
        f"of {part}" if part else "",
        shown.own(plain(first.basis)),
        f"picture {', '.join(numbers)}" if numbers else "",
        f"entry {', '.join(dict.fromkeys(entries))}" if entries else "",
    )
    head = _head(shown, first)
    return PackProof(
        head=", ".join(filter(None, head)),
        aside="; ".join(filter(None, told)),
        values=() if is_said else tuple(_values(shown, proofs)),
    )


def _head(shown: Shown, proof: Proven) -> tuple[str, ...]:
    """Form, day and who; what the owner alone saw has no witness, nor has what his records say."""
    who = shown.own(plain(proof.who))
    if not proof.entry:
        return "From the owner's records", day_words(proof.day), who
    if proof.form is not Form.WITNESS:
        return proof.form.value.capitalize(), day_words(proof.day), who
    is_owner = not who or proof.who.casefold() in (OWNER, shown.owner.casefold())
    return ("Seen by the owner", day_words(proof.day)) if is_owner else ("Witness", day_words(proof.day), who)


def _values(shown: Shown, proofs: Sequence[Proven]) -> Iterator[str]:
    """What was found, each fact once with its instances: "Anchor: left 1 2 3 mm; right 4 5 6 mm"."""
    by_fact: dict[str, list[Proven]] = {}
    for proof in proofs:
        by_fact.setdefault(shown.ask(FactKey(proof.key.fact)), []).append(proof)
    for ask, each in by_fact.items():
        said = (f"{shown.own(plain(one.key.each))} {shown.value(one)}".strip() for one in each)
        yield f"{ask}: {'; '.join(said)}"


def is_hidden(inspection: Inspection, digest: str) -> bool:
    """Whether a paper is left out of the copy that is handed over: a receipt shows what was paid."""
    return any(
        proof.form is Form.RECEIPT and any(paper.digest == digest for paper in proof.papers)
        for finding in inspection.findings
        for proof in finding.evidence
    )
