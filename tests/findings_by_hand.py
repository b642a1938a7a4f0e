"""Findings and inspections made by hand, for what stands on them."""

from datetime import date
from typing import Any

from tintop.rules.book import Clause, Read, RuleBook, Severity
from tintop.rules.evidence import Form, Proven
from tintop.rules.facts import FactKey
from tintop.rules.findings import WORST_FIRST, Finding, Inspection, Margin, Ruling

FIRST, LAST = date(2026, 6, 20), date(2026, 6, 21)
BOOK = RuleBook(
    id="national_club",
    title="Club racing, national",
    edition="2026",
    jurisdiction="somewhere",
    valid_from=date(2026, 1, 1),
    digest="b" * 64,
    cautions=("A working aid, never the regulations.",),
)


def clause(id: str, severity: Severity = Severity.STOPS, **more: Any) -> Clause:
    given: dict[str, Any] = {
        "id": id,
        "group": "harness",
        "title": id.replace("-", " ").capitalize(),
        "requirement": "It is so.",
        "reference": f"art. {len(id)}",
        "severity": severity,
        "read": Read.READ,
    }
    return Clause(**given | more)


def finding(
    id: str, ruling: Ruling, severity: Severity = Severity.STOPS, *, on: Clause | None = None, **more: Any
) -> Finding:
    given: dict[str, Any] = {
        "id": f"{BOOK.id}:{id}",
        "clause": on or clause(id, severity),
        "book": BOOK,
        "ruling": ruling,
        "reason": f"{id.capitalize()}: it is {ruling}",
        "decided_by": f"{BOOK.id}:{id}",
    }
    return Finding(**given | more)


def inspection(*findings: Finding, **more: Any) -> Inspection:
    given: dict[str, Any] = {
        "first_day": FIRST,
        "last_day": LAST,
        "books": (BOOK,),
        "findings": tuple(sorted(findings, key=lambda each: WORST_FIRST.index(each.ruling))),
        "cautions": BOOK.cautions,
    }
    return Inspection(**given | more)


def millimetres(amount: float, share: float) -> Margin:
    return Margin(amount=amount / 1e3, quantity="length", written=f"{amount:g} mm", share=share)


def proven(fact: str = "harness.label", **more: Any) -> Proven:
    given: dict[str, Any] = {
        "key": FactKey(fact),
        "value": "2028",
        "form": Form.LABEL,
        "day": date(2026, 5, 1),
        "who": "owner",
        "entry": 7,
    }
    return Proven(**given | more)
