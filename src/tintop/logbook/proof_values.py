"""A fact's value and the fields of the entry that proves it, each from the other."""

import math
from collections.abc import Sequence
from typing import Any

from tintop.errors import refuse
from tintop.logbook.proof_entries import ProofRecorded
from tintop.rules.evidence import Form
from tintop.rules.facts import (
    Bolts,
    Fact,
    FactKind,
    FactValue,
    Marked,
    Tube,
    Unreadable,
)
from tintop.rules.placeholders import is_visible
from tintop.rules.plausible import impossible

_BETWEEN = ", "  # names in one text
_THREAD_THEN_CLASS = ";"  # in the text of bolts, such as "7/16-20 UNF;8.8"; a class alone has none


def proof_entry(
    fact: Fact,
    each: str,
    value: FactValue,
    form: Form,
    *,
    written: str = "",
    error: float | None = None,
    serial: str = "",
    part: str = "",
    papers: Sequence[str] = (),
) -> ProofRecorded:
    """The entry that proves a fact: value in SI, `error` its ±, `papers` digests of originals.

    Raises BadInput for a value of another kind than the fact's, an instance the fact does not have, and an
    error that is not zero or more.
    """
    _check_instance(fact, each)
    if error is not None and not (math.isfinite(error) and error >= 0.0):
        raise refuse(f"{fact.ask}, ±", error, "a number of zero or more")
    proof = ProofRecorded(
        fact=fact.name,
        each=each,
        form=form.value,
        fact_kind=fact.kind.value,
        error=error,
        written=written,
        serial=serial,
        part=part,
        papers=tuple(papers),
        **_fields(fact, value),
    )
    if fits_of(fact, proof) or value_of(proof) != (value.strip() if isinstance(value, str) else value):
        raise refuse(fact.ask, value, _expected(fact))
    return proof


def value_of(proof: ProofRecorded) -> FactValue | None:
    """The value an entry holds, in SI; None when its fields hold no value of its kind."""
    values, text = proof.values, proof.text.strip()
    if not all(math.isfinite(each) for each in values):
        return None
    match proof.fact_kind, values:
        case FactKind.NUMBER, (number,):
            return number
        case FactKind.YES_NO, (0.0 | 1.0 as number,):
            return number == 1.0
        case FactKind.NUMBERS, (_, *_):
            return values
        case FactKind.POINT, (x, y, z):
            return (x, y, z)
        case FactKind.OUTLINE, (_, _, _, _, _, _, *_) if len(values) % 2 == 0:
            return tuple(zip(values[::2], values[1::2], strict=True))
        case FactKind.TUBE, (diameter, wall) if 0.0 < 2.0 * wall <= diameter:
            return Tube(diameter=diameter, wall=wall)
        case FactKind.BOLTS, (count, diameter) if count >= 1.0 and count == int(count) and diameter > 0.0:
            thread, _, mark = text.rpartition(_THREAD_THEN_CLASS)
            return Bolts(count=int(count), diameter=diameter, strength_class=mark.strip(), thread=thread)
        case ((FactKind.TEXT | FactKind.CHOICE), ()) if is_visible(text):
            return text
        case FactKind.NAMES, ():
            names = tuple(name.strip() for name in text.split(_BETWEEN.strip()))
            return names if all(map(is_visible, names)) and len(set(names)) == len(names) else None
        case FactKind.MARKED, ():
            return _marked(proof)
    return None


def _marked(proof: ProofRecorded) -> Marked | Unreadable | None:
    if proof.marked_to == "unreadable":
        return Unreadable()
    if proof.marked is None or not proof.marked_to:
        return None
    return Marked(day=proof.marked, precision=proof.marked_to)


def fits_of(fact: Fact, proof: ProofRecorded) -> str:
    """Why an entry does not fit its fact as the rule books now have it; empty when it does."""
    if proof.fact_kind != fact.kind.value:
        return f"it is a {proof.fact_kind}, and the rule books ask for a {fact.kind.value}"
    value = value_of(proof)
    if value is None:
        return f"{proof_in_words(proof)} is no {fact.kind.value}"
    if fact.kind is FactKind.CHOICE and value not in fact.choices:
        return f"{value!r} is none of {', '.join(fact.choices)}"
    return impossible(fact, value)


def _expected(fact: Fact) -> str:
    match fact.kind:
        case FactKind.CHOICE:
            return f"one of {', '.join(fact.choices)}"
        case FactKind.NAMES:
            return "names, each once, without commas in them"
    return f"a value of the kind {fact.kind.value!r}"


def _check_instance(fact: Fact, each: str) -> None:
    if isinstance(fact.each, str):
        if not each.strip():
            raise refuse(fact.ask, "nothing said of which", f"one of the {fact.each}")
    elif each not in (fact.each or ("",)):
        expected = f"one of {', '.join(fact.each)}" if fact.each else "no instance: there is one of it"
        raise refuse(fact.ask, f"for {each!r}", expected)


def _fields(fact: Fact, value: FactValue) -> dict[str, Any]:
    """The fields that hold a value of the fact's kind; none where the value is of another."""
    match fact.kind, value:
        case FactKind.YES_NO, bool():
            return {"values": (float(value),)}
        case FactKind.NUMBER, float() | int() if not isinstance(value, bool):
            return {"values": (float(value),)}
        case FactKind.NUMBERS | FactKind.POINT, tuple():
            return {"values": tuple(_numbers(value))}
        case FactKind.OUTLINE, tuple():
            return {"values": tuple(number for corner in value for number in _numbers(corner))}
        case FactKind.TUBE, Tube():
            return {"values": (value.diameter, value.wall)}
        case FactKind.BOLTS, Bolts():
            text = f"{value.thread}{_THREAD_THEN_CLASS}" if value.thread else ""
            return {
                "values": (float(value.count), value.diameter),
                "text": f"{text}{value.strength_class}",
            }
        case FactKind.TEXT | FactKind.CHOICE, str():
            return {"text": value}
        case FactKind.NAMES, tuple():
            return {"text": _BETWEEN.join(str(name) for name in value)}
        case FactKind.MARKED, Marked():
            return {"marked": value.day, "marked_to": value.precision}
        case FactKind.MARKED, Unreadable():
            return {"marked_to": "unreadable"}
    return {}


def _numbers(values: Any) -> tuple[float, ...]:
    is_numbers = isinstance(values, tuple) and all(type(each) in (float, int) for each in values)
    return tuple(float(each) for each in values) if is_numbers else ()


def proof_in_words(proof: ProofRecorded) -> str:
    """What an entry holds, as it was written, or else its fields."""
    values = ", ".join(f"{each:g}" for each in proof.values)
    marked = proof.marked.isoformat() if proof.marked else ""
    held = [values, proof.text, "unreadable" if proof.marked_to == "unreadable" else marked]
    return proof.written or "; ".join(each for each in held if each) or "nothing"
