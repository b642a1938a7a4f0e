"""What proof is worth: in the form asked for, with its photograph, newer than the last hit."""

from dataclasses import dataclass

from tintop.rules.book import Clause
from tintop.rules.evaluate import Given
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.figures import write_day
from tintop.rules.ruled import Ruled, write_ask
from tintop.rules.rulings import facts_proven


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why what is met is still not proven, and what to do about it."""

    why: str
    to_do: str


def doubt_about(clause: Clause, ruled: Ruled, given: Given, evidence: Evidence) -> Doubt | None:
    """Give what keeps proof from counting, None when nothing does."""
    asked = {given.key(key) for key in facts_proven(clause.check)}
    proofs = [evidence.proven[key] for key in ruled.used if key in asked and key in evidence.proven]
    if clause.act != "waives" and not proofs:
        return Doubt("nothing is on record for it", _again(clause))
    return (
        _form(clause, proofs, given)
        or _accident(clause, proofs, given, evidence)
        or _photograph(clause, proofs)
    )


def _again(clause: Clause) -> str:
    by = f" by {' or '.join(clause.proof)}" if clause.proof else ""
    return f"Record it again{by}{', with a photograph' if clause.wants_photograph else ''}."


def _form(clause: Clause, proofs: list[Proven], given: Given) -> Doubt | None:
    if not clause.proof:
        return None
    wrong = [proven for proven in proofs if proven.form not in clause.proof]
    if not wrong:
        return None
    said = ", ".join(f"{write_ask(proven.key, given)} by {proven.form}" for proven in wrong)
    return Doubt(f"recorded {said}; {' or '.join(clause.proof)} is asked for", _again(clause))


def _accident(clause: Clause, proofs: list[Proven], given: Given, evidence: Evidence) -> Doubt | None:
    """Proof of the day of the hit does not count: it may be from before it."""
    hit = evidence.accident
    if not clause.renewed_after_accident or hit is None:
        return None
    old = [write_ask(proven.key, given) for proven in proofs if proven.day <= hit]
    if not old:
        return None
    return Doubt(
        f"{', '.join(old)}: not recorded anew since the hard hit of {write_day(hit)}",
        f"Have it looked over after the hit of {write_day(hit)} by its maker or a scrutineer, "
        "and record it anew on a later day.",
    )


def _photograph(clause: Clause, proofs: list[Proven]) -> Doubt | None:
    has_one = any(paper.media_type.startswith("image/") for proven in proofs for paper in proven.papers)
    if has_one or not clause.wants_photograph:
        return None
    return Doubt(f"no {Form.PHOTOGRAPH} is kept with it", _again(clause))
