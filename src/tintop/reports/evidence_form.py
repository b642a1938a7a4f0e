"""A file of evidence to fill in: every fact a stack of rule books asks for, in the order of a walk round."""

import json
from collections.abc import Iterator, Mapping

from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKind, Station
from tintop.rules.stack import Stack

_HEAD = """\
# What proves the car, for: {books}.
# Write between the quotes of written; a blank proves nothing. Change form and day to what is true.
# form is one of {forms}.
# Then: tintop inspect car.toml --evidence THIS_FILE {options} --on DAY

who = ""
day = {day}                      # for every entry; one may have a day of its own
"""
_USUAL = {
    FactKind.MARKED: Form.LABEL,
    FactKind.TEXT: Form.LABEL,
    FactKind.CHOICE: Form.WITNESS,
    FactKind.YES_NO: Form.WITNESS,
    FactKind.NAMES: Form.WITNESS,
}
_LIKE = {
    FactKind.NUMBER: "a number with its unit",
    FactKind.NUMBERS: "several numbers and their unit",
    FactKind.POINT: "x forward, y left, z up: -1200 350 900 mm",
    FactKind.OUTLINE: "corners in order: 0 0, 120 0, 120 100, 0 100 mm",
    FactKind.TUBE: "outside diameter x wall: 45 x 2.5 mm",
    FactKind.BOLTS: "number x thread, class: 3 x M8 8.8",
    FactKind.TEXT: "as printed",
    FactKind.NAMES: "Robin, Sam",
    FactKind.YES_NO: "yes or no",
    FactKind.MARKED: "2024, 2024-03, 2024-03-15 or unreadable",
}


def evidence_form(stack: Stack, facts: Mapping[str, Fact], day: str) -> str:
    """Give the text of a file of evidence with a blank for every fact the clauses of a stack name."""
    forms: dict[str, Form] = {}
    for requirement in stack.requirements:
        for placed in requirement.placed:
            for name in placed.clause.facts:
                wanted = placed.clause.proof or (_USUAL.get(facts[name].kind, Form.MEASUREMENT),)
                forms.setdefault(name, wanted[0])
    for name in list(forms):
        if isinstance(listing := facts[name].each, str) and listing:
            forms.setdefault(listing, Form.WITNESS)
    top = [book.id for book in stack.books if not any(book.id in one.builds_on for one in stack.books)]
    head = _HEAD.format(
        books=", ".join(book.title for book in stack.books),
        forms=", ".join(Form),
        options=" ".join(f"--book {id}" for id in top),
        day=day,
    )
    return head + "".join(_blocks(facts, forms))


def _blocks(facts: Mapping[str, Fact], forms: Mapping[str, Form]) -> Iterator[str]:
    for station in Station:
        here = sorted(name for name in forms if facts[name].station is station)
        if here:
            yield f"\n# ---- {station}\n"
        for name in here:
            fact = facts[name]
            how = f" {' '.join(fact.how.split())}" if fact.how else ""
            yield f"\n# {fact.ask}.{how}\n# {_like(fact)}\n"
            for each in fact.each if isinstance(fact.each, tuple) and fact.each else ("",):
                yield _block(fact, each, forms[name])


def _block(fact: Fact, each: str, form: Form) -> str:
    lines = ["[[entry]]", f"fact = {json.dumps(fact.name)}"]
    if each:
        lines.append(f"each = {json.dumps(each)}")
    elif fact.each:
        lines.append(f'each = ""     # which of the {fact.each}; copy the block for each')
    return "\n".join([*lines, f"form = {json.dumps(form.value)}", 'written = ""', ""])


def _like(fact: Fact) -> str:
    if fact.kind is FactKind.CHOICE:
        return f"one of: {', '.join(fact.choices)}"
    return f"{_LIKE[fact.kind]}{f', such as in {fact.unit}' if fact.unit else ''}"
