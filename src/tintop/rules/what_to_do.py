"""What to do about a finding, in one or two sentences."""

from tintop.rules.evaluate import Given
from tintop.rules.evidence import Evidence
from tintop.rules.facts import FactKey
from tintop.rules.findings import Heard, Ruling
from tintop.rules.ruled import write_ask
from tintop.rules.stack import PlacedClause

BETTER = "Better brought to what is recommended."
LOOK_UP = "Look up {reference}, then note verified_on and verified_by on it in your copy of the book."


def what_to_do(
    heard: Heard, decider: PlacedClause, missing: tuple[FactKey, ...], given: Given, evidence: Evidence
) -> str:
    """Say what to do next; "" when nothing is."""
    clause = decider.clause
    match heard.ruling:
        case Ruling.PASS | Ruling.NOT_APPLICABLE:
            return ""
        case Ruling.EXPIRES:
            return (
                clause.cure
                or "Replace it, or have it certified anew, before the event; record the new label."
            )
        case Ruling.FAIL:
            return clause.cure or f"Bring it to {heard.limit or 'what is required'}, then record it again."
        case Ruling.ADVISED:
            return clause.cure or BETTER
    if missing:
        return f"Record: {'; '.join(_asked(key, given, evidence) for key in missing)}."
    if heard.is_unverified:
        return LOOK_UP.format(reference=clause.reference)
    return heard.to_do


def _asked(key: FactKey, given: Given, evidence: Evidence) -> str:
    fact = given.facts[key.fact]
    how = f" ({fact.how.rstrip('.')})" if fact.how else ""
    fallen = evidence.fallen.get(key)
    return f"{write_ask(key, given)}{how}{f', {fallen}' if fallen else ''}"
