"""What proof is worth (its form, its photograph, the last hit), and what a figure from memory is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from tintop.rules.book import Clause, Expiry, Holds, Limits, Severity
from tintop.rules.evaluate import Decision, Given
from tintop.rules.evidence import Evidence, Form, Proven
from tintop.rules.expiry import counted_from, first_day
from tintop.rules.facts import Marked
from tintop.rules.figures import write_day, write_value
from tintop.rules.findings import Ruling
from tintop.rules.ruled import Ruled, write_ask
from tintop.rules.rulings import facts_proven
from tintop.rules.what_to_do import BETTER, LOOK_UP

_FROM_MEMORY = "the figure is from memory, unverified"


def weighed(
    clause: Clause, ruled: Ruled, given: Given, evidence: Evidence, last_day: date
) -> tuple[Ruled, bool]:
    """Weigh the proof, then the figure, then what the clause makes of a miss.

    The second says that all is met and only a figure unverified; a recommendation missed is not met.
    """
    is_met = ruled.ruling in (Ruling.PASS, Ruling.ADVISED)
    if is_met and (doubt := doubt_about(clause, ruled, given, evidence, last_day)) is not None:
        return ruled.worse(Ruling.NOT_PROVEN, doubt.why, doubt.to_do), False
    if not clause.is_verified:
        return _unverified(clause, ruled)
    return _as_severe(clause, ruled), False


def only_advises(clause: Clause) -> bool:
    """Whether only advice can be missed: by its severity, or because all its figures are recommended."""
    match clause.check:
        case Limits(at_least=None, at_most=None) | Holds(holds=None):
            return True
        case _:
            return clause.severity is Severity.ADVICE


def _unverified(clause: Clause, ruled: Ruled) -> tuple[Ruled, bool]:
    match ruled.ruling:
        case Ruling.PASS:
            return ruled.worse(Ruling.NOT_PROVEN, f"met, but {_FROM_MEMORY}"), True
        case Ruling.ADVISED if not only_advises(clause):
            to_do = f"{clause.cure or BETTER} {LOOK_UP.format(reference=clause.reference)}"
            return ruled.worse(Ruling.NOT_PROVEN, f"and {_FROM_MEMORY}", to_do), False
        case Ruling.FAIL | Ruling.EXPIRES | Ruling.ADVISED:
            return _as_severe(clause, replace(ruled, reason=f"{ruled.reason} ({_FROM_MEMORY})")), False
        case _:
            return ruled, False


def _as_severe(clause: Clause, ruled: Ruled) -> Ruled:
    if ruled.ruling in (Ruling.FAIL, Ruling.EXPIRES) and clause.severity is Severity.ADVICE:
        return replace(ruled, ruling=Ruling.ADVISED)
    return ruled


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why what is met is still not proven, and what to do about it."""

    why: str
    to_do: str


def doubt_about(
    clause: Clause, ruled: Ruled, given: Given, evidence: Evidence, last_day: date
) -> Doubt | None:
    """Give what keeps proof from counting, None when nothing does."""
    asked = {given.key(key) for key in facts_proven(clause.check)}
    proofs = [evidence.proven[key] for key in ruled.used if key in asked and key in evidence.proven]
    if clause.act != "waives" and not proofs:
        return Doubt("nothing is on record for it", _again(clause))
    return (
        _in_future(clause, given, evidence, last_day)
        or _form(clause, proofs, given)
        or _accident(clause, proofs, given, evidence)
        or _photograph(clause, proofs, given)
    )


def doubt_about_condition(
    clause: Clause, decision: Decision, given: Given, evidence: Evidence
) -> Doubt | None:
    """Give what keeps a condition's facts from counting, None when nothing does.

    A waiver asks its own forms of proof and its photograph of its condition. What takes another clause's
    place, or waives it by any proof, takes nobody's word for its condition, unless a picture is kept with it.
    A clause that stops the car is set aside by word alone only where the fact wants no photograph.
    """
    proofs = [evidence.proven[key] for key in decision.used if key in evidence.proven]
    match clause.act, decision.truth:
        case "waives", True:
            asked = _form(clause, proofs, given) or _photograph(clause, proofs, given)
            return asked or _by_word_only(clause, proofs, given)
        case "replaces", True:
            return _by_word_only(clause, proofs, given)
        case (("adds" | "tightens"), False) if clause.severity is Severity.STOPS:
            seen = [proven for proven in proofs if given.facts[proven.key.fact].wants_photograph]
            return _by_word_only(clause, seen, given)
    return None


_WORDS = (Form.WITNESS, Form.RECEIPT)


def _by_word_only(clause: Clause, proofs: list[Proven], given: Given) -> Doubt | None:
    words = [
        proven
        for proven in proofs
        if proven.form in _WORDS and proven.form not in clause.proof and not _has_picture(proven)
    ]
    if not words:
        return None
    forms = " and ".join(dict.fromkeys(str(proven.form) for proven in words))
    asks = ", ".join(write_ask(proven.key, given) for proven in words)
    return Doubt(f"said by {forms} only: {asks}", f"Record it again with a photograph: {asks}.")


def _again(clause: Clause, forms: Sequence[str] = ()) -> str:
    forms = forms or clause.proof
    by = f" by {' or '.join(forms)}" if forms else ""
    return f"Record it again{by}{', with a photograph' if clause.wants_photograph else ''}."


def _in_future(clause: Clause, given: Given, evidence: Evidence, last_day: date) -> Doubt | None:
    """A day made, checked or certified that nobody can have seen; an end that is printed may lie ahead."""
    if not isinstance(clause.check, Expiry):
        return None
    for key in map(given.key, counted_from(clause.check)):
        proven = evidence.proven.get(key)
        if proven is None or not isinstance(proven.value, Marked):
            continue
        day = first_day(proven.value)
        if day > proven.day:
            why = f"lies after the day it was written down, {write_day(proven.day)}"
        elif day > last_day:
            why = f"lies after the event, which ends on {write_day(last_day)}"
        else:
            continue
        said = f"{write_ask(key, given)} {write_value(given.facts[key.fact], proven.value)}"
        return Doubt(f"{said} {why}", "Read the label again, and record it anew.")
    return None


def _form(clause: Clause, proofs: list[Proven], given: Given) -> Doubt | None:
    """Proof in a form the clause does not name; where it names none, one that proves no such fact."""
    for proven in proofs:
        wanted = clause.proof or given.facts[proven.key.fact].forms
        if wanted and proven.form not in wanted:
            alike = [one for one in proofs if one.form not in wanted] if clause.proof else [proven]
            said = ", ".join(f"{write_ask(one.key, given)} by {one.form}" for one in alike)
            return Doubt(f"recorded {said}; {' or '.join(wanted)} is asked for", _again(clause, wanted))
    return None


def _accident(clause: Clause, proofs: list[Proven], given: Given, evidence: Evidence) -> Doubt | None:
    """Proof from before the last hard hit; of its day what cannot be from after it."""
    hit = evidence.accident
    if not clause.renewed_after_accident or hit is None:
        return None
    old = [proven for proven in proofs if not proven.counts_after(hit)]
    if not old:
        return None
    asks = ", ".join(write_ask(proven.key, given) for proven in old)
    looked_over = f"Have it looked over after the hit of {write_day(hit)} by its maker or a scrutineer"
    will_do = all(proven.part and given.facts[proven.key.fact].renewed_by_inspection for proven in old)
    return Doubt(
        f"{asks}: not recorded anew since the hard hit of {write_day(hit)}",
        f"{looked_over}; note the inspection of its part with what was found and by whom, or record it anew."
        if will_do
        else f"{looked_over}, and record it anew: an older record does not count.",
    )


def _photograph(clause: Clause, proofs: list[Proven], given: Given) -> Doubt | None:
    """Each fact judged needs a picture of its own: one of the mounting shows nothing of the label."""
    without = [proven for proven in proofs if not _has_picture(proven)]
    if not without or not clause.wants_photograph:
        return None
    asks = ", ".join(write_ask(proven.key, given) for proven in without)
    of_which = f" of {asks}" if len(proofs) > 1 else ""
    return Doubt(f"no {Form.PHOTOGRAPH}{of_which} is kept with it", _again(clause))


def _has_picture(proven: Proven) -> bool:
    return any(paper.is_picture for paper in proven.papers)
