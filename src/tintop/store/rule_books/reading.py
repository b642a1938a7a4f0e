"""What reading a rule book has at hand: its text, the facts there are, and the problems found so far."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TypeVar

from tintop.errors import BadInput, Problem
from tintop.rules.checking import Sense, check_condition, check_expression, check_fact
from tintop.rules.expression import Expression, Named
from tintop.rules.facts import Fact, FactKey, FactKind
from tintop.store.documents.fields import MOST_PROBLEMS
from tintop.store.documents.written import Table, shown
from tintop.store.plain_text import check_text
from tintop.store.rule_books.document import RuleBookText
from tintop.store.rule_books.expressions import parse_expression, place_of

LONGEST_TEXT = 2000
_FACT = re.compile(r"([\w.]+)\s*(?:\[([^\[\]]*)\])?")
_QUOTED = re.compile(r"'([\w.]+)'")
_Found = TypeVar("_Found")


@dataclass(slots=True, kw_only=True)
class Reading:
    """One text being read."""

    document: RuleBookText
    facts: Mapping[str, Fact]
    problems: list[Problem] = field(default_factory=list)
    of_form: int = 0  # how many problems stood at first: of fields that do not read by their form
    unread: set[str] = field(default_factory=set)  # facts that are declared and do not read

    def refuse(self, path: str, found: object, expected: str, cure: str = "") -> None:
        """Note a problem of a field."""
        self.problems.append(self.document.problem(path, found, expected, cure))

    def stop_if_any(self) -> None:
        """Raise BadInput with the problems found, if there are any."""
        if self.problems:
            first = self.problems[: self.of_form]
            fields = {problem.where for problem in first}
            others = [one for one in self.problems[self.of_form :] if one.where not in fields]
            raise BadInput(*dict.fromkeys([*first, *others][:MOST_PROBLEMS]))

    def check_table(self, table: Table, path: str) -> None:
        """Note what is missing in a table, and texts that cannot be kept."""
        for name, declared in type(table).model_fields.items():
            value = getattr(table, name)
            extra = declared.json_schema_extra if isinstance(declared.json_schema_extra, dict) else {}
            is_wanted = extra.get("required") and not getattr(table, str(extra.get("unless")), None)
            if is_wanted and (value in (None, [], "") or (isinstance(value, str) and not value.strip())):
                choices = extra.get("choices")
                expected = (
                    f"one of {', '.join(map(str, choices))}"
                    if isinstance(choices, list)
                    else declared.description
                )
                self.refuse(f"{path}.{name}", "nothing", expected or "a value")
            for one in value if isinstance(value, list) else [value]:
                if isinstance(one, str):
                    self._check_text(f"{path}.{name}", one)

    def _check_text(self, path: str, text: str) -> None:
        try:
            check_text(self.document.where(path), text, longest=LONGEST_TEXT)
        except BadInput as error:
            self.problems += error.problems

    def expression(self, path: str, raw: object) -> Expression | None:
        """Read an expression; None with a problem noted if it is none."""
        if isinstance(raw, bool) or not isinstance(raw, (str, int, float)):
            self.refuse(path, shown(raw), 'an expression in quotes, such as "45 deg"')
            return None
        try:
            return parse_expression(written(raw), self.document.where(path))
        except BadInput as error:
            self.problems += error.problems
            return None

    def number_or_more(self, path: str, raw: object) -> tuple[Expression, Sense] | None:
        """Read an expression and what it gives; None with a problem noted if it makes no sense."""
        expression = self.expression(path, raw)
        if expression is None:
            return None
        sense = self.checked(path, raw, lambda where: check_expression(expression, self.facts, where))
        return None if sense is None else (expression, sense)

    def condition(self, path: str, raw: object) -> Expression | None:
        """Read a condition; None with a problem noted if it is none."""
        expression = self.expression(path, raw)
        if expression is None:
            return None

        def check(where: str) -> bool:
            check_condition(expression, self.facts, where)
            return True

        return expression if self.checked(path, raw, check) else None

    def fact(self, path: str, raw: str, kinds: tuple[FactKind, ...] = ()) -> FactKey | None:
        """Read the name of a fact, such as "harness.label[left]", of one of the kinds if any are given."""
        match = _FACT.fullmatch(raw.strip())
        if match is None:
            self.refuse(path, shown(raw), "a fact such as harness.label, or harness.label[left]")
            return None
        named = Named(match[1], (match[2] or "").strip())
        fact = self.checked(path, raw, lambda where: check_fact(named, self.facts, where))
        if fact is None:
            return None
        if kinds and fact.kind not in kinds:
            self.refuse(
                path, f"{fact.name}, which is of kind {fact.kind}", "a fact of kind " + " or ".join(kinds)
            )
            return None
        return FactKey(named.fact, named.each)

    def checked(self, path: str, raw: object, check: Callable[[str], _Found]) -> _Found | None:
        """Give what a check gives; None with its problems noted, at their character where it is known."""
        where = self.document.where(path)
        try:
            return check(where)
        except BadInput as error:
            for problem in error.problems:
                name = _QUOTED.search(problem.found)
                if name and name[1] in self.unread:
                    continue
                place = place_of(written(raw), name[1]) if name else 0
                self.problems.append(
                    replace(problem, where=f"{where}, character {place}") if place else problem
                )
            return None


def written(raw: object) -> str:
    """Give the text of an expression that may have been written as a plain number."""
    return raw if isinstance(raw, str) else f"{Decimal(repr(raw)):f}"
