"""What to ask of a car first: the facts that say which clauses apply to it, most clauses first."""

from collections.abc import Mapping
from dataclasses import dataclass

from tintop.errors import BadInput
from tintop.rules.book import Clause
from tintop.rules.checking import check_instances, facts_named
from tintop.rules.evaluate import Given, decide
from tintop.rules.evidence import Evidence
from tintop.rules.expression import Named
from tintop.rules.facts import Fact, FactKey
from tintop.rules.rulings import facts_checked
from tintop.rules.stack import PlacedClause, Stack
from tintop.rules.writing_facts import fits


@dataclass(frozen=True, slots=True, kw_only=True)
class Applying:
    """Of all the clauses of a stack: how many apply to the car, do not, or are not known to."""

    applies: int
    not_applicable: int
    unknown: int

    @property
    def clauses(self) -> int:
        """How many there are."""
        return self.applies + self.not_applicable + self.unknown


def first_questions(
    stack: Stack, facts: Mapping[str, Fact], evidence: Evidence
) -> tuple[tuple[FactKey, tuple[PlacedClause, ...]], ...]:
    """Give each fact not on record that says whether clauses apply, with the clauses that wait for it.

    Facts that list the instances of others, such as the drivers, come first, then those most clauses wait
    for, then in the order the facts are filed.
    """
    given = _given(facts, evidence)
    waiting: dict[FactKey, list[PlacedClause]] = {}
    for placed in _clauses(stack):
        for key in _unknown(placed, given):
            waiting.setdefault(key, []).append(placed)
    lists = {fact.each for fact in facts.values() if isinstance(fact.each, str)}
    filed = {name: place for place, name in enumerate(facts)}

    def rank(key: FactKey) -> tuple[bool, int, int]:
        return key.fact not in lists, -len(waiting[key]), filed[key.fact]

    return tuple((key, tuple(waiting[key])) for key in sorted(waiting, key=rank))


def applying(stack: Stack, facts: Mapping[str, Fact], evidence: Evidence) -> Applying:
    """Count the clauses that apply, do not, or are not known to; one for several drivers counts once."""
    given = _given(facts, evidence)
    truths = [_applies(placed, given) for placed in _clauses(stack)]
    return Applying(
        applies=truths.count(True), not_applicable=truths.count(False), unknown=truths.count(None)
    )


def _clauses(stack: Stack) -> tuple[PlacedClause, ...]:
    return tuple(placed for requirement in stack.requirements for placed in requirement.placed)


def _given(facts: Mapping[str, Fact], evidence: Evidence) -> Given:
    usable = {
        key: proven
        for key, proven in evidence.proven.items()
        if key.fact in facts and fits(facts[key.fact], proven.value)
    }
    return Given(
        values={key: proven.value for key, proven in usable.items()},
        errors={key: proven.error for key, proven in usable.items() if proven.error > 0.0},
        facts=facts,
    )


def _unknown(placed: PlacedClause, given: Given) -> tuple[FactKey, ...]:
    """The facts a clause waits for before it is known to apply; a list of instances is one of them."""
    instances = _instances(placed.clause, given)
    if isinstance(instances, FactKey):
        return (instances,)
    condition = placed.clause.applies_if
    if condition is None:
        return ()
    found: dict[FactKey, None] = {}
    for each in instances:
        try:
            decision = decide(condition, _of(given, each))
        except BadInput:
            continue  # told by the inspection
        if decision.truth is None:
            found |= dict.fromkeys(key for key in decision.missing if key not in given.values)
    return tuple(found)


def _applies(placed: PlacedClause, given: Given) -> bool | None:
    """Whether a clause applies to any of its instances; None where that is not known."""
    instances = _instances(placed.clause, given)
    if isinstance(instances, FactKey):
        return None
    condition = placed.clause.applies_if
    if condition is None:
        return True
    truths = []
    for each in instances:
        try:
            truths.append(decide(condition, _of(given, each)).truth)
        except BadInput:
            truths.append(None)
    return True if True in truths else None if None in truths else False


def _instances(clause: Clause, given: Given) -> tuple[str, ...] | FactKey:
    """The instances a clause is heard for, or the fact that lists them and is not on record."""
    named = (
        *facts_named(clause.applies_if),
        *(Named(key.fact, key.each) for key in facts_checked(clause.check)),
    )
    instances = check_instances(named, given.facts, clause.id)
    if not isinstance(instances, str):
        return instances or ("",)
    names = given.values.get(FactKey(instances))
    return tuple(str(name) for name in names) if isinstance(names, tuple) else FactKey(instances)


def _of(given: Given, each: str) -> Given:
    return Given(values=given.values, errors=given.errors, facts=given.facts, each=each) if each else given
