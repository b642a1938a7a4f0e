"""What proof is worth: in the form asked for, with its photograph, newer than the last hit."""

from tintop.rules.book import Clause
from tintop.rules.evaluate import Given
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.figures import write_day
from tintop.rules.ruled import Ruled, write_ask
from tintop.rules.rulings import facts_proven


def doubts(clause: Clause, ruled: Ruled, given: Given, evidence: Evidence) -> str:
    """Say why what is met is still not proven; "" when nothing is in the way."""
    asked = {given.key(key) for key in facts_proven(clause.check)}
    proofs = [evidence.proven[key] for key in ruled.used if key in asked and key in evidence.proven]
    if clause.act != "waives" and not proofs:
        return "nothing is on record for it"
    return (
        _form(clause, proofs, given)
        or _accident(clause, proofs, given, evidence)
        or _photograph(clause, proofs)
    )


def _form(clause: Clause, proofs: list[Proven], given: Given) -> str:
    if not clause.proof:
        return ""
    wrong = [proven for proven in proofs if proven.form not in clause.proof]
    if not wrong:
        return ""
    forms = " or ".join(clause.proof)
    said = ", ".join(f"{write_ask(proven.key, given)} by {proven.form}" for proven in wrong)
    return f"recorded {said}; {forms} is asked for"


def _accident(clause: Clause, proofs: list[Proven], given: Given, evidence: Evidence) -> str:
    """Proof of the day of the hit does not count: it may be from before it."""
    if not clause.renewed_after_accident or evidence.accident is None:
        return ""
    old = [write_ask(proven.key, given) for proven in proofs if proven.day <= evidence.accident]
    if not old:
        return ""
    return f"{', '.join(old)}: not recorded anew since the hard hit of {write_day(evidence.accident)}"


def _photograph(clause: Clause, proofs: list[Proven]) -> str:
    if not clause.wants_photograph:
        return ""
    has_one = any(paper.media_type.startswith("image/") for proven in proofs for paper in proven.papers)
    return "" if has_one else f"no {Form.PHOTOGRAPH} is kept with it"
