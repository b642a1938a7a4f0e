"""Nothing passes by default: properties over every shipped clause and over invented limits."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections import EVENT, book_text, clause_text, fact_text, found, inspected
from tintop.rules.book import Clause, Severity
from tintop.rules.checking import parts_of
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.expression import Call, Expression, Joined
from tintop.rules.facts import Bolts, Fact, FactKey, FactKind, Marked, Tube, Unreadable
from tintop.rules.findings import WORST_FIRST, Finding, Ruling
from tintop.rules.functions import CHOOSES
from tintop.rules.inspect import inspect
from tintop.rules.stack import Requirement
from tintop.store.rule_books.load import load_stack
from tintop.store.rule_books.shipped import shipped_ids

STACK, FACTS = load_stack(shipped_ids())
REQUIREMENTS = {requirement.id: requirement for requirement in STACK.requirements}
DRIVERS = ("Robin", "Sam")


def values(fact: Fact) -> st.SearchStrategy[object]:
    """Values of a fact's kind, spread so that both sides of any sensible limit are met."""
    size = st.sampled_from(
        [0.0, 1e-4, 1e-3, 0.01, 0.03, 0.05, 0.1, 0.5, 0.95, 1.0, 2.0, 6.0, 20.0, 110.0, 1e3, 1e5, 1e9]
    )
    position = st.sampled_from([-1.0, -0.4, -0.1, 0.0, 0.2, 0.45, 0.9])
    match fact.kind:
        case FactKind.NUMBER:
            return size
        case FactKind.NUMBERS:
            return st.lists(size, min_size=1, max_size=4).map(tuple)
        case FactKind.POINT:
            return st.tuples(position, position, position)
        case FactKind.OUTLINE:
            return size.filter(lambda side: 0.0 < side < 10.0).map(
                lambda side: ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
            )
        case FactKind.TUBE:
            return st.sampled_from([Tube(diameter=0.045, wall=0.0025), Tube(diameter=0.03, wall=0.001)])
        case FactKind.BOLTS:
            return st.builds(
                Bolts, count=st.integers(1, 6), diameter=st.sampled_from([0.006, 0.008, 0.012]),
                strength_class=st.sampled_from(["", "8.8", "10.9", "5.6"]),
            )  # fmt: skip
        case FactKind.CHOICE:
            return st.sampled_from(fact.choices)
        case FactKind.TEXT:
            return st.sampled_from(["as marked", "other"])
        case FactKind.NAMES:
            return st.just(DRIVERS)
        case FactKind.YES_NO:
            return st.booleans()
        case FactKind.MARKED:
            return st.one_of(
                st.dates(date(2012, 1, 1), date(2032, 1, 1)).map(lambda day: Marked(day=day)),
                st.just(Unreadable()),
            )


def keys_of(requirement: Requirement) -> list[FactKey]:
    """All that the clauses of a requirement may ask for."""
    names = dict.fromkeys(name for placed in requirement.placed for name in placed.clause.facts)
    lists = [FACTS[name].each for name in names if isinstance(FACTS[name].each, str)]
    return [
        FactKey(name, each)
        for name in dict.fromkeys((*names, *lists))
        for each in (DRIVERS if isinstance(FACTS[name].each, str) else FACTS[name].each or ("",))
    ]


@st.composite
def records(draw: st.DrawFn) -> tuple[str, Evidence]:
    """One requirement of the shipped books, and all it asks for on record, in every form asked for."""
    id = draw(st.sampled_from(list(REQUIREMENTS)))
    requirement = REQUIREMENTS[id]
    forms = [form for placed in requirement.placed for form in placed.clause.proof] or [Form.MEASUREMENT]
    proven = {}
    for number, key in enumerate(keys_of(requirement), 1):
        fact = FACTS[key.fact]
        error = draw(st.sampled_from([0.0, fact.error])) if fact.kind is FactKind.NUMBER else 0.0
        proven[key] = Proven(
            key=key, value=draw(values(fact)), form=draw(st.sampled_from(forms)), day=date(2026, 5, 1),
            error=error, entry=number, papers=(),
        )  # fmt: skip
    return id, Evidence(proven=proven, fallen={})


def ruled(id: str, evidence: Evidence, *, confirmed: bool = True) -> Finding:
    """The finding on one requirement alone, its figures looked up by the owner or not, photographs aside."""
    requirement = REQUIREMENTS[id]
    placed = tuple(
        replace(
            one,
            clause=replace(
                one.clause,
                wants_photograph=False,
                verified_on=EVENT if confirmed else None,
                verified_by="Robin" if confirmed else "",
            ),
        )
        for one in requirement.placed
    )
    alone = replace(STACK, books=(), requirements=(replace(requirement, placed=placed),))
    (finding,) = inspect(alone, FACTS, evidence, EVENT, EVENT).findings
    return finding


def without(evidence: Evidence, key: FactKey) -> Evidence:
    return replace(evidence, proven={k: proof for k, proof in evidence.proven.items() if k != key})


def has_two_ways(expression: Expression | None) -> bool:
    """Whether a condition may be met in more than one way, so that other proof can take over."""
    if expression is None:
        return False
    is_one = (isinstance(expression, Joined) and expression.sign == "or") or (
        isinstance(expression, Call) and expression.function == CHOOSES
    )
    return is_one or any(map(has_two_ways, parts_of(expression)))


def may_stand_on_other_proof(clause: Clause) -> bool:
    """Clauses with "or" or "if" in what they check, and second certificates, which only ever add time."""
    names = ("holds", "recommended", "value", "at_least", "at_most", "by")
    return any(has_two_ways(getattr(clause.check, name, None)) for name in names) or bool(
        getattr(clause.check, "extended_from", None)
    )


@given(records())
def test_whatever_is_taken_away_what_passed_is_not_proven(case):
    id, evidence = case
    finding = ruled(id, evidence)
    if finding.ruling not in (Ruling.PASS, Ruling.ADVISED):
        return
    assert finding.evidence
    for proof in finding.evidence:
        less = ruled(id, without(evidence, proof.key))
        if any(map(may_stand_on_other_proof, (placed.clause for placed in REQUIREMENTS[id].placed))):
            stood_on = {one.key for one in less.evidence}
            assert less.ruling is not Ruling.PASS or (stood_on and proof.key not in stood_on)
        elif finding.ruling is Ruling.ADVISED:  # a second thing missed may be what is left
            assert less.ruling is not Ruling.PASS
        else:
            assert less.ruling is Ruling.NOT_PROVEN
            assert less.missing
            assert less.to_do


@given(records(), st.data())
def test_taking_proof_away_never_helps(case, data):
    id, evidence = case
    if not evidence.proven:
        return
    key = data.draw(st.sampled_from(sorted(evidence.proven)))
    finding, less = ruled(id, evidence), ruled(id, without(evidence, key))
    if less.ruling is Ruling.PASS:
        assert finding.ruling is Ruling.PASS or key not in {one.key for one in less.evidence}


@given(records())
def test_a_figure_from_memory_is_never_a_pass(case):
    id, evidence = case
    finding = ruled(id, evidence, confirmed=False)
    if finding.ruling in (Ruling.PASS, Ruling.ADVISED) and finding.clause.severity is not Severity.ADVICE:
        for heard in finding.heard:
            placed = next(one for one in REQUIREMENTS[id].placed if one.name == heard.clause)
            if heard.ruling is not Ruling.NOT_APPLICABLE:
                assert replace(placed.clause, verified_on=None, verified_by="").is_verified


@pytest.mark.parametrize("id", REQUIREMENTS)
def test_with_nothing_on_record_nothing_passes(id):
    finding = ruled(id, Evidence(proven={}, fallen={}))
    assert finding.ruling in (Ruling.NOT_PROVEN, Ruling.NOT_APPLICABLE)
    if finding.ruling is Ruling.NOT_PROVEN:
        assert finding.missing
        assert finding.to_do.startswith("Record: ")


LIMITS = {
    name: st.none() | st.integers(1, 60) for name in ("at_least", "recommended_at_least")
}  # fmt: skip


@given(
    st.fixed_dictionaries(LIMITS),
    st.floats(0.5, 80.0),
    st.floats(0.5, 80.0),
    st.sampled_from([0.0, 0.5, 3.0]),
)
def test_a_worse_value_never_gives_a_better_verdict(limits, one, other, error):
    wanted = {name: limit for name, limit in limits.items() if limit is not None} or {"at_least": 30}
    body = 'value = "a.n"\n' + "\n".join(f'{name} = "{limit} mm"' for name, limit in wanted.items())
    text = book_text(
        fact_text("a.n", "number", 'quantity = "length"\nunit = "mm"'), clause_text("rule", body)
    )
    worse, better = (
        found(inspected(text, {"a.n": f"{value!r} ± {error} mm"}), "rule") for value in sorted((one, other))
    )
    assert WORST_FIRST.index(worse.ruling) <= WORST_FIRST.index(better.ruling)
