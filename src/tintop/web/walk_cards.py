"""The cards of the walk-round: one fact each, what is recorded of it, and what the books say of it."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from tintop.logbook.book import Logbook
from tintop.logbook.proof_entries import ProofRecorded
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import Fact, FactKey, FactKind, Marked, Station
from tintop.rules.findings import WORST_FIRST, Finding, Heard, Inspection, Ruling
from tintop.web.inspected import Inspected

_GOOD = (Ruling.PASS, Ruling.NOT_APPLICABLE)
_USUAL: Mapping[FactKind, Form] = {
    FactKind.YES_NO: Form.WITNESS,
    FactKind.TEXT: Form.LABEL,
    FactKind.CHOICE: Form.LABEL,
    FactKind.NAMES: Form.WITNESS,
    FactKind.MARKED: Form.LABEL,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One fact of one instance as the walk-round asks for it.

    `is_open` while it has to be recorded, or what was recorded is not good enough; `faults` are the findings
    that say so, worst first; `new` says why it is new.
    """

    key: FactKey
    fact: Fact
    proven: Proven | None
    findings: tuple[Finding, ...]
    forms: tuple[str, ...]
    instrument: str
    wants_photograph: bool
    faults: tuple[Finding, ...] = ()
    new: str = ""

    @property
    def is_open(self) -> bool:
        """Whether it has to be recorded, or what was recorded is not good enough."""
        return bool(self.faults)

    @property
    def id(self) -> str:
        """The card's name in addresses of the page."""
        return re.sub(r"[^A-Za-z0-9_]+", "-", f"{self.key.fact} {self.key.each}").strip("-")

    @property
    def title(self) -> str:
        """What is asked for, and of which instance."""
        return f"{self.fact.ask}, {self.key.each}" if self.key.each else self.fact.ask

    @property
    def is_asked(self) -> bool:
        """Whether a finding speaks of it; one that is met without it does not ask for it."""
        return self.proven is not None or any(finding.ruling not in _GOOD for finding in self.findings)

    @property
    def worst(self) -> Finding | None:
        """What is wrong with the fact, at the worst; None once it is recorded and nothing is wrong with it.

        That a clause it serves waits for another fact, or for a figure nobody has read, is not its fault.
        """
        advised = (each for each in self.findings if each.ruling is Ruling.ADVISED)
        return self.faults[0] if self.faults else next(advised, None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One station of the walk-round and its cards."""

    station: Station
    cards: tuple[Card, ...]

    @property
    def open_count(self) -> int:
        """How many of its cards are open."""
        return len(self.open_cards)

    @property
    def address(self) -> str:
        """Its name in addresses of the page."""
        return station_address(self.station)

    @property
    def open_cards(self) -> tuple[Card, ...]:
        """What is to be recorded there, or not good enough, what is new first."""
        found = [card for card in self.cards if card.is_open]
        return tuple(sorted(found, key=lambda card: not card.new))

    @property
    def recorded(self) -> tuple[Card, ...]:
        """What is recorded there and good enough, or not asked for any more."""
        return tuple(card for card in self.cards if not card.is_open)


def verdict_in_words(card: Card) -> str:
    """What the books say of a fact as it is recorded, such as "Passes: Height of numbers."."""
    blamed = card.faults or tuple(each for each in card.findings if each.ruling is Ruling.ADVISED)
    if blamed:
        return " ".join(f"{each.ruling.value.capitalize()}: {_said(each)}" for each in blamed[:2])
    passed = [each.clause.title for each in card.findings if each.ruling is Ruling.PASS]
    waiting = [each for each in card.findings if each.ruling not in _GOOD]
    said = [f"Passes: {', '.join(passed[:3])}."] if passed else []
    said += [f"Open for another reason: {_said(each)}" for each in waiting[:2]]
    return " ".join(said)


def _said(finding: Finding) -> str:
    title = "" if finding.reason.startswith(finding.clause.title) else f"{finding.clause.title}: "
    return f"{title}{finding.reason.rstrip('.')}."


def station_address(station: Station) -> str:
    """A station's name in addresses, such as drivers-kit."""
    return station.value.replace("'", "").replace(" ", "-")


def keys_of(fact: Fact, found: Inspected) -> tuple[FactKey, ...]:
    """The instances of a fact; none where the fact that lists them is not recorded yet."""
    if not fact.each:
        return (FactKey(fact.name),)
    if isinstance(fact.each, str):
        listed = found.proven.get(FactKey(fact.each))
        names = listed.value if listed is not None and isinstance(listed.value, tuple) else ()
        return tuple(FactKey(fact.name, str(name)) for name in names)
    return tuple(FactKey(fact.name, each) for each in fact.each)


def cards_of(found: Inspected, before: Inspected | None, book: Logbook) -> tuple[Card, ...]:
    """A card for every fact the books of the event ask for, in the order one walks round the car."""
    was = {finding.id: finding for finding in before.inspection.findings} if before else {}
    used = instruments_used(book)
    asked = [found.facts[name] for name in asked_for(found)]
    cards = (
        _card(found, fact, key, was if before else None, used)
        for station in Station
        for fact in asked
        if fact.station is station
        for key in keys_of(fact, found)
    )
    lists = {fact.each for fact in asked}
    return tuple(card for card in cards if card.is_asked or card.fact.name in lists)


def asked_for(found: Inspected) -> tuple[str, ...]:
    """The facts that what applies rests on, and those that list the instances of others, as filed."""
    applying = [each for each in found.inspection.findings if each.ruling is not Ruling.NOT_APPLICABLE]
    names = [name for finding in applying for name in found.names_in(finding)]
    lists = [
        each for name in names if isinstance(each := found.facts[name].each, str) and each in found.facts
    ]
    order = {name: place for place, name in enumerate(found.facts)}
    return tuple(sorted(dict.fromkeys((*lists, *names)), key=order.__getitem__))


def cards_for(fact: Fact, found: Inspected, book: Logbook) -> tuple[Card, ...]:
    """The cards of one fact, one for each instance."""
    used = instruments_used(book)
    return tuple(_card(found, fact, key, None, used) for key in keys_of(fact, found))


def stops(cards: Sequence[Card]) -> tuple[Stop, ...]:
    """The cards by station."""
    return tuple(
        Stop(station=station, cards=tuple(each))
        for station, each in groupby(cards, lambda card: card.fact.station)
    )


def instruments_used(book: Logbook) -> Mapping[str, str]:
    """The instrument last used for each fact."""
    return {proof.fact: entry.instrument for entry, proof in book.of(ProofRecorded) if entry.instrument}


def _card(
    found: Inspected,
    fact: Fact,
    key: FactKey,
    was: Mapping[str, Finding] | None,
    used: Mapping[str, str],
) -> Card:
    findings = tuple(
        sorted(
            (each for each in found.by_fact.get(fact.name, ()) if _is_about(each, key)),
            key=lambda each: WORST_FIRST.index(each.ruling),
        )
    )
    proven = found.proven.get(key)
    asking = [
        each
        for each in findings
        if each.ruling not in _GOOD
        and (not proven or _blames(each, key, fact))
        and not (proven and each.ruling is Ruling.EXPIRES and _lasts(proven, found.inspection))
    ]
    return Card(
        key=key,
        fact=fact,
        proven=proven,
        findings=findings,
        forms=_forms(fact, findings),
        instrument=used.get(fact.name, ""),
        wants_photograph=fact.wants_photograph or any(each.clause.wants_photograph for each in findings),
        faults=tuple(asking),
        new=_new(asking, was),
    )


def _blames(finding: Finding, key: FactKey, fact: Fact) -> bool:
    """Whether a finding is as it is because this fact is missing, has run out, or is out of its limits."""
    if key in {each for heard in finding.heard for each in heard.missing} or key in finding.missing:
        return True
    if finding.ruling is Ruling.EXPIRES:
        return fact.kind is FactKind.MARKED
    is_undecided = finding.ruling is Ruling.NOT_PROVEN and not finding.is_unverified and not finding.missing
    return finding.ruling is Ruling.FAIL or is_undecided


def _lasts(proven: Proven, inspection: Inspection) -> bool:
    """Whether a marked day lies after the event: no rule ends it sooner, another date ran out."""
    return isinstance(proven.value, Marked) and proven.value.day > inspection.last_day


def _is_about(finding: Finding, key: FactKey) -> bool:
    """Whether a finding speaks of an instance: it rests on it or misses it, or heard it among the others."""
    heard: tuple[Finding | Heard, ...] = (finding, *finding.heard)
    named = {proof.key for each in heard for proof in each.evidence} | {
        one for each in heard for one in each.missing
    }
    alike = {one for one in named if one.fact == key.fact}
    if alike:
        return key in alike
    instances = {each.each for each in finding.heard if each.each}
    return not key.each or not instances or key.each in instances


def _forms(fact: Fact, findings: Sequence[Finding]) -> tuple[str, ...]:
    """The forms of proof that will do for every clause, the usual one first; the fact's own, or all."""
    usual = _USUAL.get(fact.kind, Form.MEASUREMENT)
    wanted: list[Form] = [usual, *(form for form in Form if form is not usual)]
    for asked in [each.clause.proof or fact.forms for each in findings] or [fact.forms]:
        wanted = [form for form in wanted if form in asked] or wanted
    return tuple(form.value for form in wanted)


def _new(findings: Sequence[Finding], was: Mapping[str, Finding] | None) -> str:
    """Why a card is new since the event before; empty when it is not, or there was no event before."""
    if was is None:
        return ""
    for finding in findings:
        then = was.get(finding.id)
        if then is None:
            return f"asked for by {finding.book.title}, which the last event did not have"
        if then.ruling in _GOOD:
            return f"good at the last event, now {finding.ruling.value}"
    return ""


def shown_on_top(cards: Sequence[Card]) -> tuple[tuple[Card, ...], tuple[Card, ...]]:
    """What is new since the event before, and what else is open: what stops the car or would, first."""
    new = tuple(card for card in cards if card.new)
    open_ones = [card for card in cards if card.is_open and not card.new]
    return new, tuple(sorted(open_ones, key=_urgency))


def _urgency(card: Card) -> int:
    worst = card.worst
    if worst is None:
        return 3
    return 0 if worst.stops_racing else 1 if worst.leaves_open else 2
