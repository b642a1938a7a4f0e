"""How long a full inspection takes: every shipped book, all facts recorded, median of 20 [processor time].

python benchmarks/inspection.py
"""

import statistics
import time
from datetime import date

from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.facts import Fact, FactKey, FactKind
from tintop.rules.inspect import inspect
from tintop.rules.reading_facts import read_fact
from tintop.store.rule_books.load import load_stack
from tintop.store.rule_books.shipped import shipped_ids

WRITTEN = {
    FactKind.NUMBERS: "5 5.1 4.9",
    FactKind.OUTLINE: "120 x 100 mm",
    FactKind.TUBE: "45 x 2.5 mm",
    FactKind.BOLTS: "3 x M8 8.8",
    FactKind.TEXT: "as marked",
    FactKind.NAMES: "Robin, Sam",
    FactKind.YES_NO: "yes",
    FactKind.MARKED: "2025-03",
}
DAY = date(2026, 6, 20)


def recorded(fact: Fact, each: str, number: int) -> Proven:
    """Any value of the fact's kind, with the fact's usual error."""
    match fact.kind:
        case FactKind.POINT:
            value, _ = read_fact(fact, f"{-200 - 37 * (number % 11)} 300 {900 - 23 * (number % 7)} mm")
        case FactKind.NUMBER:
            value, _ = read_fact(fact, f"1 {fact.unit}".strip())
        case FactKind.CHOICE:
            value = fact.choices[0]
        case FactKind.NUMBERS:
            value, _ = read_fact(fact, f"{WRITTEN[fact.kind]} {fact.unit}")
        case _:
            value, _ = read_fact(fact, WRITTEN[fact.kind])
    key = FactKey(fact.name, each)
    return Proven(key=key, value=value, form=Form.MEASUREMENT, day=DAY, error=fact.error, entry=number)


def rows() -> list[tuple[str, str, str, bool]]:
    """Rows of a table: what, how long, the limit, met; every shipped book, scaled to 150 clauses."""
    stack, facts = load_stack(shipped_ids())
    proofs = [
        recorded(fact, each, number)
        for number, fact in enumerate(facts.values(), 1)
        for each in (("Robin", "Sam") if isinstance(fact.each, str) else fact.each or ("",))
    ]
    evidence = Evidence(proven={proof.key: proof for proof in proofs}, fallen={})
    taken = []
    for _ in range(20):
        begun = time.process_time()
        inspect(stack, facts, evidence, DAY, DAY)
        taken.append(1e3 * (time.process_time() - begun))
    clauses = sum(len(book.clauses) for book in stack.books)
    middle = statistics.median(taken)
    share = middle * 150 / clauses
    found = f"{share:.1f} ms ({clauses} clauses, {len(proofs)} proofs: {middle:.1f} ms)"
    return [("inspection of 150 clauses", found, "50 ms", share <= 50.0)]


if __name__ == "__main__":
    for row in rows():
        print(*row, sep=" | ")
