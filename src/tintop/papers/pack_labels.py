"""Labels and papers in the scrutineering pack: what they bear, the last good day, and by which rule."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from tintop.papers.content import Chapter, Column, Table, Words, plain
from tintop.papers.pack_lines import Shown
from tintop.papers.stand import day_words
from tintop.rules.book import Clause, Expiry
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import FactKey, FactKind

_PAPERS = ("papers", "road")  # subjects of facts that stand on paper, not on the car
_KIT = "kit"


@dataclass(frozen=True, slots=True)
class _Last:
    """The last good day of what a label is on, and the rule that gives it."""

    day: date
    rule: str


def labels_chapter(shown: Shown) -> Chapter:
    """What labels and papers bear: standard, serial, made, valid until; the last good day and its rule."""
    labels, papers = _told_apart(shown)
    lasts = _lasts(shown)
    return Chapter(
        title="Labels and certificates",
        blocks=(
            Words(
                text="As read off the part. A label that is cut, faded or gone counts as out of date. The "
                "last good day is the soonest of the books, with the rule that gives it.",
                is_small=True,
            ),
            Table(
                columns=_columns(
                    (
                        ("on", 1.7),
                        ("standard, number", 1.8),
                        ("serial", 1.3),
                        ("made", 1.0),
                        ("date on it", 1.2),
                        ("last good day", 2.2),
                        ("read", 1.4),
                        ("picture", 0.7),
                    )
                ),
                rows=tuple(_label_row(shown, *each, lasts) for each in sorted(labels.items())),
                empty="No label is recorded.",
            ),
            Table(
                title="Papers",
                columns=_columns(
                    (("paper", 3.4), ("number", 1.6), ("last good day", 2.4), ("read", 1.6), ("picture", 0.7))
                ),
                rows=tuple(_paper_row(shown, *each, lasts) for each in sorted(papers.items())),
                empty="No paper is recorded.",
            ),
        ),
    )


def _columns(heads: Iterable[tuple[str, float]]) -> tuple[Column, ...]:
    return tuple(Column(head=head, share=share) for head, share in heads)


def _told_apart(shown: Shown) -> tuple[dict[str, list[Proven]], dict[str, list[Proven]]]:
    """The proofs of each label, and of each paper, by the name of what it is on."""
    labels: dict[str, list[Proven]] = {}
    papers: dict[str, list[Proven]] = {}
    for proof in filter(shown.is_label, shown.evidence.proven.values()):
        is_paper = _subject(proof) in _PAPERS or proof.form is Form.CERTIFICATE
        (papers if is_paper else labels).setdefault(_label_of(shown, proof), []).append(proof)
    return labels, papers


def _lasts(shown: Shown) -> dict[str, _Last]:
    """The soonest last good day of every label."""
    found: dict[str, _Last] = {}
    for heard in (each for finding in shown.inspection.findings for each in finding.heard):
        for proof in filter(shown.is_label, heard.evidence):
            label = _label_of(shown, proof)
            if heard.expires is None or (label in found and found[label].day <= heard.expires):
                continue
            _, clause = shown.clauses.get(heard.clause, (None, None))
            found[label] = _Last(heard.expires, _rule(clause))
    return found


def _rule(clause: Clause | None) -> str:
    """How the last good day follows from what the label bears: "end of the label's year + 5 years"."""
    if clause is None or not isinstance(clause.check, Expiry):
        return ""
    check = clause.check
    more = (f" + {count} {unit}{'' if count == 1 else 's'}" for count, unit in _life(check) if count)
    return f"{check.kind.value}{''.join(more)}, {plain(clause.reference)}"


def _life(check: Expiry) -> Iterator[tuple[int, str]]:
    yield check.years, "year"
    yield check.months, "month"


def _label_row(
    shown: Shown, label: str, proofs: Sequence[Proven], lasts: Mapping[str, _Last]
) -> tuple[str, ...]:
    dated = [each for each in proofs if shown.kind(each) is FactKind.MARKED]
    made = [shown.value(each) for each in dated if _is_made(each)]
    parts = dict.fromkeys(each.part for each in proofs)
    made = made or [day_words(shown.made[part]) for part in parts if part in shown.made]
    return (
        label,
        _listed(word for each in proofs if each not in dated and (word := shown.value(each)) != "none"),
        _listed(shown.own(plain(each.serial)) for each in proofs if each.serial),
        _listed(made),
        _listed(shown.value(each) for each in dated if not _is_made(each)),
        _last(lasts.get(label)),
        _read(shown, proofs),
        _pictures(shown, proofs),
    )


def _paper_row(
    shown: Shown, label: str, proofs: Sequence[Proven], lasts: Mapping[str, _Last]
) -> tuple[str, ...]:
    dated = [each for each in proofs if shown.kind(each) is FactKind.MARKED]
    numbers = [shown.own(plain(each.serial)) for each in proofs if each.serial]
    numbers += [word for each in proofs if each not in dated and (word := shown.value(each)) != "none"]
    dates = _listed(shown.value(each) for each in dated)
    return (
        label,
        _listed(numbers),
        _last(lasts.get(label)) if label in lasts else dates,
        _read(shown, proofs),
        _pictures(shown, proofs),
    )


def _last(last: _Last | None) -> str:
    return "–" if last is None else ": ".join(filter(None, (day_words(last.day), last.rule)))


def _read(shown: Shown, proofs: Sequence[Proven]) -> str:
    return _listed(f"{shown.own(plain(each.who))}, {day_words(each.day)}" for each in proofs)


def _pictures(shown: Shown, proofs: Sequence[Proven]) -> str:
    digests = [paper.digest for each in proofs for paper in each.papers]
    return _listed(str(shown.numbers[each]) for each in digests if each in shown.numbers)


def _listed(words: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(words)) or "–"


def _is_made(proof: Proven) -> bool:
    return proof.key.fact.rpartition(".")[2].split("_")[-1] == "made"


def _subject(proof: Proven) -> str:
    return proof.key.fact.partition(".")[0]


def _label_of(shown: Shown, proof: Proven) -> str:
    """What a label is on: the words before the colon of what is asked, else the subject of the fact.

    Labels on one part stand together, such as those on each strap of a harness; those of the kit are each of
    a driver.
    """
    subject, each = _subject(proof), shown.own(plain(proof.key.each))
    ask = shown.ask(FactKey(proof.key.fact))
    thing, colon, _ = ask.partition(":")
    if subject in _PAPERS:
        named = ask.removeprefix("Last day of the ").removeprefix("Last day for which ")
        return ", ".join(filter(None, (f"{named[:1].upper()}{named[1:]}", each)))
    named = thing if colon else subject.capitalize()
    return f"{named}, {each}" if each and (subject == _KIT or not proof.part) else named
