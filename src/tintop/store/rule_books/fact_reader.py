"""[[fact]] tables to facts."""

import re
from collections.abc import Mapping

from tintop.errors import BadInput, did_you_mean
from tintop.rules.evidence import Form
from tintop.rules.facts import Fact, FactKind, Station, Tube
from tintop.rules.reading_facts import read_fact
from tintop.store.documents.fields import MOST_PROBLEMS
from tintop.store.documents.written import shown
from tintop.store.rule_books.document import FactTable
from tintop.store.rule_books.reading import Reading
from tintop.units import UNITS, parse_quantity, unit_named

_NAME = re.compile(r"[a-z][a-z0-9]*(?:_[a-z0-9]+)*(?:\.[a-z][a-z0-9]*(?:_[a-z0-9]+)*)*")
_KEPT = ("and", "or", "not", "yes", "no")
_OF_ONE_QUANTITY = (FactKind.NUMBER, FactKind.NUMBERS)
_OF_LENGTH = (FactKind.POINT, FactKind.OUTLINE, FactKind.TUBE)


def facts_from(tables: list[FactTable], reading: Reading) -> tuple[Fact, ...]:
    """Give the facts declared in a text; what is wrong is noted in the reading."""
    facts: dict[str, Fact] = {}
    lines: dict[str, int | None] = {}
    for place, table in enumerate(tables, 1):
        path = f"fact.{place}"
        known = len(reading.problems)
        if known >= MOST_PROBLEMS:
            break
        reading.check_table(table, path)
        if len(reading.problems) > known:
            continue
        fact = _fact(table, path, reading)
        if fact is not None and reading.facts.get(fact.name, fact) != fact:
            elsewhere = "a name of its own: a fact of this name is declared elsewhere, and differs"
            reading.refuse(f"{path}.name", repr(fact.name), elsewhere)
        elif fact is not None and fact.name in facts:
            first = f"a name for one fact, used in line {lines[fact.name]} already"
            reading.refuse(f"{path}.name", repr(fact.name), first)
        elif fact is not None:
            facts[fact.name] = fact
            lines[fact.name] = reading.document.line_of(path)
    _check_lists(facts, tables, reading)
    return tuple(facts.values())


def _fact(table: FactTable, path: str, reading: Reading) -> Fact | None:
    known = len(reading.problems)
    name, kind = str(table.name), FactKind(str(table.kind))
    if not _NAME.fullmatch(name) or len(name) > 80 or name.split(".")[0] in _KEPT:
        expected = "small letters, digits and single _, parts joined by points, such as numbers.door_height"
        reading.refuse(f"{path}.name", shown(name), expected)
    quantity = _quantity(table, kind, path, reading)
    if table.unit and quantity:
        try:
            unit_named(table.unit, quantity)
        except BadInput as error:
            problem = error.problems[0]
            reading.refuse(f"{path}.unit", problem.found, problem.expected, problem.cure)
    if (kind is FactKind.CHOICE) != bool(table.choices):
        found = "choices" if table.choices else "no choices"
        reading.refuse(
            f"{path}.choices", f"{found} for kind {kind}", "a list of words, for kind choice alone"
        )
    each = _each(table, path, reading)
    usual_error = _error(table, quantity, path, reading)
    least = _bound("least", table.least, table, kind, quantity, path, reading)
    most = _bound("most", table.most, table, kind, quantity, path, reading)
    _check_bounds(table, least, most, path, reading)
    if table.in_future is not None and kind is not FactKind.MARKED:
        reading.refuse(f"{path}.in_future", f"it for kind {kind}", "it for kind marked date alone")
    for form in table.forms or ():
        if form not in list(Form):
            reading.refuse(f"{path}.forms", shown(form), ", ".join(Form), did_you_mean(form, list(Form)))
    if len(reading.problems) > known:
        return None
    return Fact(
        name=name,
        ask=str(table.ask),
        kind=kind,
        station=Station(str(table.station)),
        quantity=quantity,
        unit=table.unit or "",
        how=table.how or "",
        choices=tuple(table.choices or ()),
        each=each,
        error=usual_error,
        wants_photograph=bool(table.photograph),
        least=least,
        most=most,
        in_future=bool(table.in_future),
        forms=tuple(table.forms or ()),
        lasts_through_accident=bool(table.lasts_through_accident),
        renewed_by_inspection=bool(table.renewed_by_inspection),
    )


def _quantity(table: FactTable, kind: FactKind, path: str, reading: Reading) -> str:
    quantity = table.quantity or ("length" if kind in _OF_LENGTH else "")
    if kind in _OF_ONE_QUANTITY and quantity not in UNITS:
        found = shown(quantity) if quantity else f"no quantity for kind {kind}"
        expected = f"one of {', '.join(UNITS)}"
        reading.refuse(f"{path}.quantity", found, expected, did_you_mean(quantity, UNITS))
        return ""
    if table.quantity and kind not in _OF_ONE_QUANTITY and not (kind in _OF_LENGTH and quantity == "length"):
        expected = "a quantity for kind number or numbers alone"
        reading.refuse(f"{path}.quantity", f"{shown(quantity)} for kind {kind}", expected)
        return ""
    return quantity


def _each(table: FactTable, path: str, reading: Reading) -> tuple[str, ...] | str:
    each = table.each
    if each is None:
        return ()
    if isinstance(each, str):
        return each
    if not isinstance(each, list) or not each or not all(_is_instance(one) for one in each):
        expected = 'a list of short names such as ["left", "right"], or a fact of kind names'
        reading.refuse(f"{path}.each", shown(each), expected)
        return ()
    if len(set(each)) < len(each):
        reading.refuse(f"{path}.each", shown(each), "each name once")
    return tuple(each)


def _is_instance(one: object) -> bool:
    return isinstance(one, str) and re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9 _-]{0,39}", one) is not None


def _error(table: FactTable, quantity: str, path: str, reading: Reading) -> float:
    if table.error is None:
        return 0.0
    if not quantity:
        reading.refuse(f"{path}.error", shown(table.error), "a ± for a fact with a quantity alone")
        return 0.0
    try:
        kind = "temperature difference" if quantity == "temperature" else quantity
        error = parse_quantity(table.error, kind)
    except BadInput as refusal:
        problem = refusal.problems[0]
        reading.refuse(f"{path}.error", problem.found, problem.expected, problem.cure)
        return 0.0
    if error < 0.0:
        reading.refuse(f"{path}.error", shown(table.error), "zero or more")
    return error


_BOUNDED = (*_OF_ONE_QUANTITY, *_OF_LENGTH, FactKind.BOLTS)


def _bound(
    field: str,
    written: str | None,
    table: FactTable,
    kind: FactKind,
    quantity: str,
    path: str,
    reading: Reading,
) -> float | Tube | None:
    """A bound of what is usual: a tube for a tube, else one figure of the fact's quantity."""
    if written is None:
        return None
    if kind not in _BOUNDED:
        reading.refuse(f"{path}.{field}", shown(written), "a bound for a fact with figures alone")
        return None
    try:
        if kind is not FactKind.TUBE:
            return parse_quantity(written, quantity or "length")
        pattern = Fact(name=str(table.name), ask=str(table.ask), kind=kind, station=Station.CABIN)
        value, _error = read_fact(pattern, written)
    except BadInput as refusal:
        problem = refusal.problems[0]
        reading.refuse(f"{path}.{field}", problem.found, problem.expected, problem.cure)
        return None
    return value if isinstance(value, Tube) else None


def _check_bounds(
    table: FactTable, least: float | Tube | None, most: float | Tube | None, path: str, reading: Reading
) -> None:
    if isinstance(least, Tube) and isinstance(most, Tube):
        is_rising = least.diameter < most.diameter and least.wall < most.wall
    elif isinstance(least, float) and isinstance(most, float):
        is_rising = least < most
    else:
        return
    if not is_rising:
        reading.refuse(f"{path}.most", shown(table.most), f"more than the least, {table.least}")


def _check_lists(own: Mapping[str, Fact], tables: list[FactTable], reading: Reading) -> None:
    known = {**reading.facts, **own}
    for place, table in enumerate(tables, 1):
        if isinstance(table.each, str):
            listing = known.get(table.each)
            if listing is None or listing.kind is not FactKind.NAMES:
                names = [fact.name for fact in known.values() if fact.kind is FactKind.NAMES]
                expected = f"a fact of kind names ({', '.join(names) or 'none is declared'})"
                cure = did_you_mean(table.each, names)
                reading.refuse(f"fact.{place}.each", shown(table.each), expected, cure)
