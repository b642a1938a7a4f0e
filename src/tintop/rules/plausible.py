"""What a slip of the finger makes of a value: what cannot be is refused, what is unlikely is asked."""

from collections.abc import Mapping, Sequence
from datetime import date

from tintop.rules.evidence import Evidence
from tintop.rules.expiry import first_day
from tintop.rules.facts import Bolts, Fact, FactKind, FactValue, Marked, Tube
from tintop.rules.figures import write_day, write_value
from tintop.rules.writing_facts import write_fact

MANY_TIMES = 7.0  # a point put one place off makes ten, or a tenth, give or take; common practice, no source
_SIGNED = ("temperature", "temperature difference", "angle", "acceleration", "camber loss")


def impossible(fact: Fact, value: FactValue, today: date | None = None) -> str:
    """Why a value cannot be: below zero where nothing is, or a day to come; empty when it can.

    Without `today` days are not looked at.
    """
    if isinstance(value, Marked):
        if today is None or fact.in_future or first_day(value) <= today:
            return ""
        return f"{write_value(fact, value)} is still to come, on {write_day(today)}"
    if fact.kind not in (FactKind.NUMBER, FactKind.NUMBERS) or _may_be_negative(fact):
        return ""
    if min(_figures(fact, value), default=0.0) < 0.0:
        return f"{write_value(fact, value)} is less than nothing"
    return ""


def unlikely(fact: Fact, value: FactValue, last: FactValue | None = None) -> str:
    """The question a value raises: outside what is usual, or many times `last`; empty when it raises none.

    Such as "630 mm? The last was 56 mm; usual is 40 mm to 200 mm."
    """
    is_unusual = any(
        (least is not None and one < least) or (most is not None and one > most)
        for one, least, most in _bounded(fact, value)
    )
    is_measured_off = (
        fact.kind is not FactKind.POINT
    )  # a point's figures are as near to nothing as its origin
    is_far = (
        is_measured_off and last is not None and _is_many_times(_figures(fact, value), _figures(fact, last))
    )
    if not is_unusual and not is_far:
        return ""
    said = [f"the last was {_said(fact, last)}"] if last is not None and (is_far or last != value) else []
    said += [f"usual is {usual}"] if (usual := usual_range(fact)) else []
    words = "; ".join(said)
    return f"{_said(fact, value)}? {words[:1].upper()}{words[1:]}."


def unlikely_among(facts: Mapping[str, Fact], evidence: Evidence) -> tuple[str, ...]:
    """The questions that what is proven raises, each with what was asked."""
    found = []
    for key, proven in evidence.proven.items():
        question = unlikely(facts[key.fact], proven.value) if key.fact in facts else ""
        if question:
            found.append(f"{facts[key.fact].ask}{f', {key.each}' if key.each else ''}: {question}")
    return tuple(found)


def usual_range(fact: Fact) -> str:
    """The bounds of a fact in words: "40 mm to 200 mm"; empty where it has none."""
    least = _bound_in_words(fact, fact.least)
    most = _bound_in_words(fact, fact.most)
    each = {
        FactKind.POINT: "each figure ",
        FactKind.OUTLINE: "length and width ",
        FactKind.BOLTS: "a thread of ",
        FactKind.NUMBERS: "each ",
    }.get(fact.kind, "")
    if least and most:
        return f"{each}{least} to {most}"
    return f"{each}at least {least}" if least else f"{each}at most {most}" if most else ""


def _bound_in_words(fact: Fact, bound: float | Tube | None) -> str:
    if bound is None:
        return ""
    if isinstance(bound, Tube):
        return write_value(fact, bound)
    of_one = Fact(
        name=fact.name,
        ask=fact.ask,
        kind=FactKind.NUMBER,
        station=fact.station,
        quantity=fact.quantity or ("number" if fact.kind is FactKind.NUMBER else "length"),
        unit=fact.unit or ("" if fact.quantity else "mm" if fact.kind is not FactKind.NUMBER else ""),
    )
    return write_value(of_one, bound)


def _said(fact: Fact, value: FactValue) -> str:
    return write_fact(fact, value) if fact.kind is FactKind.OUTLINE else write_value(fact, value)


def _may_be_negative(fact: Fact) -> bool:
    return fact.quantity in _SIGNED or (isinstance(fact.least, float) and fact.least < 0.0)


def _figures(fact: Fact, value: FactValue) -> tuple[float, ...]:
    """The figures of a value that its bounds speak of."""
    match value:
        case bool() | str():
            return ()
        case float() | int():
            return (float(value),)
        case Tube(diameter=diameter, wall=wall):
            return (diameter, wall)
        case Bolts(diameter=diameter):
            return (diameter,)
        case tuple() if fact.kind is FactKind.OUTLINE:
            along = [corner[0] for corner in value]  # type: ignore[index]
            across = [corner[1] for corner in value]  # type: ignore[index]
            return (float(max(along)) - float(min(along)), float(max(across)) - float(min(across)))
        case tuple() if fact.kind is not FactKind.NAMES:
            return tuple(float(one) for one in value)  # type: ignore[arg-type]
        case _:
            return ()


def _bounded(fact: Fact, value: FactValue) -> list[tuple[float, float | None, float | None]]:
    figures = _figures(fact, value)
    least = _per_figure(fact.least, len(figures))
    most = _per_figure(fact.most, len(figures))
    return list(zip(figures, least, most, strict=True))


def _per_figure(bound: float | Tube | None, count: int) -> Sequence[float | None]:
    if isinstance(bound, Tube):
        return [bound.diameter, bound.wall][:count]
    return [bound for _ in range(count)]


def _is_many_times(now: tuple[float, ...], last: tuple[float, ...]) -> bool:
    """Whether any figure is many times the one before, or less; of lists of two lengths the largest."""
    if len(now) != len(last):
        now, last = (max(now, default=0.0),), (max(last, default=0.0),)
    return any(
        one * other > 0.0 and not 1.0 / MANY_TIMES < one / other < MANY_TIMES
        for one, other in zip(now, last, strict=True)
    )
