"""The one check of a clause, from the fields it is written in."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from tintop.errors import did_you_mean
from tintop.rules.book import Check, Expiry, ExpiryKind, Holds, Limits, ListedTubes, OneOf, Shown, TubeRow
from tintop.rules.checking import Sense, check_alike, check_word, facts_named
from tintop.rules.expression import Amount, Expression, Named
from tintop.rules.facts import Fact, FactKey, FactKind, Station, Tube
from tintop.rules.writing_expressions import write_expression
from tintop.rules.writing_facts import read_fact
from tintop.store.documents.written import Table, shown
from tintop.store.rule_books.document import A_FACT, EXPRESSION, FACTS, ClauseTable, ExpiresTable
from tintop.store.rule_books.reading import Reading
from tintop.units import display_unit

_LIMITS = ("at_least", "at_most", "recommended_at_least", "recommended_at_most")
_BESIDE = {
    "value": (*_LIMITS, "one_of"),
    "holds": ("recommended",),
    "tube": ("tubes", "by", "rows"),
    "shown": (),
    "expires": (),
}
_CHECKS = "one of value (with limits or one_of), holds, tube, shown, or a table [clause.expires]"
_LISTED = Fact(name="tube", ask="a listed tube", kind=FactKind.TUBE, station=Station.CABIN)
_NO_END = "no end"
_ORDER_OF_EXPIRY = ("marked", "years", "months", "extended_from", "extension_years", "standard", "until")
_OF_EXPIRY: dict[ExpiryKind, tuple[tuple[str, ...], tuple[str, ...]]] = {  # needed, and allowed beside
    ExpiryKind.LABEL_YEAR: (("marked",), ("years",)),
    ExpiryKind.YEAR_MADE: (("marked", "years"), ()),
    ExpiryKind.MONTH_MADE: (("marked", "years"), ()),
    ExpiryKind.TO_THE_DAY: (("marked",), ("months", "years")),
    ExpiryKind.MONTH_END: (("marked",), ("months", "years")),
    ExpiryKind.EXTENDABLE: (("marked", "years", "extended_from", "extension_years"), ()),
    ExpiryKind.WITHDRAWN: (("standard", "until"), ()),
    ExpiryKind.LABEL_DAY: (("marked",), ()),
    ExpiryKind.NO_LIFE: (("marked",), ()),
    ExpiryKind.HOMOLOGATION_END: (("marked",), ()),
    ExpiryKind.LABEL_THERE: (("marked",), ()),
}
_WITHOUT_DATE = (ExpiryKind.NO_LIFE, ExpiryKind.HOMOLOGATION_END, ExpiryKind.LABEL_THERE)


def check_from(clause: ClauseTable, path: str, reading: Reading) -> tuple[Check | None, tuple[Named, ...]]:
    """Give the check of a clause and the facts it names; what is wrong is noted in the reading."""
    checks = [name for name in _BESIDE if _is_written(clause, name)]
    if "holds" not in checks and clause.recommended is not None:
        checks.append("holds")
    if len(checks) != 1:
        found = "no check" if not checks else f"{len(checks)} checks ({', '.join(checks)})"
        reading.refuse(path, found, f"exactly one check: {_CHECKS}")
        return None, ()
    kind = checks[0]
    for owner, fields in _BESIDE.items():
        for name in fields if owner != kind else ():
            if _is_written(clause, name):
                reading.refuse(f"{path}.{name}", f"{name} beside {kind}", f"{name} beside {owner} alone")
    if kind == "value":
        return _value_check(clause, path, reading)
    if kind == "holds":
        holds, recommended = (
            None
            if getattr(clause, name) is None
            else reading.condition(f"{path}.{name}", getattr(clause, name))
            for name in ("holds", "recommended")
        )
        return Holds(holds=holds, recommended=recommended), facts_named(holds, recommended)
    if kind == "tube":
        return _tube_check(clause, path, reading)
    if kind == "shown":
        keys = [reading.fact(f"{path}.shown", name) for name in clause.shown or []]
        facts = tuple(key for key in keys if key is not None)
        return Shown(facts=facts), _named(facts)
    return _expiry(clause.expires or ExpiresTable(), f"{path}.expires", reading)


def read_alone(table: Table, path: str, reading: Reading) -> None:
    """Note what is wrong with the expressions and facts of a clause of which other fields do not read."""
    for name, declared in type(table).model_fields.items():
        value = getattr(table, name)
        extra = declared.json_schema_extra if isinstance(declared.json_schema_extra, dict) else {}
        if isinstance(value, Table):
            read_alone(value, f"{path}.{name}", reading)
        elif extra.get("form") == EXPRESSION and value is not None:
            reading.number_or_more(f"{path}.{name}", value)
        elif extra.get("form") in (A_FACT, FACTS) and value:
            for one in [value] if isinstance(value, str) else value:
                reading.fact(f"{path}.{name}", one)


def _is_written(clause: ClauseTable, name: str) -> bool:
    return getattr(clause, name) not in (None, [])


def _named(keys: Sequence[FactKey | None]) -> tuple[Named, ...]:
    return tuple(Named(key.fact, key.each) for key in keys if key is not None)


def _value_check(
    clause: ClauseTable, path: str, reading: Reading
) -> tuple[Limits | OneOf | None, tuple[Named, ...]]:
    read = reading.number_or_more(f"{path}.value", clause.value)
    written = [name for name in _LIMITS if getattr(clause, name) is not None]
    if bool(clause.one_of) == bool(written):
        found = "limits and one_of" if written else "a value without a limit"
        reading.refuse(f"{path}.value", found, f"either a limit ({', '.join(_LIMITS)}) or one_of beside it")
    if clause.one_of:
        return _one_of(clause, path, reading, read)
    limits: dict[str, Expression] = {}
    for name in written:
        limit = reading.number_or_more(f"{path}.{name}", getattr(clause, name))
        if limit is None or read is None:
            continue
        if _lacks_unit(read, limit, f"{path}.{name}", reading):
            continue
        if limit[0] == read[0]:
            found = f"{shown(getattr(clause, name))}, the value itself"
            reading.refuse(f"{path}.{name}", found, "a figure it is to be set against")
        elif _are_alike(read[1], limit[1], f"{path}.{name}", reading):
            limits[name] = limit[0]
    _refuse_crossed(limits, path, reading)
    if read is None:
        return None, ()
    _refuse_exact(read[0], limits, path, reading)
    return Limits(value=read[0], **limits), facts_named(read[0], *limits.values())


def _are_alike(value: Sense, limit: Sense, path: str, reading: Reading) -> bool:
    def check(where: str) -> bool:
        check_alike(value, limit, where)
        return True

    return bool(reading.checked(path, "", check))


def _lacks_unit(
    value: tuple[Expression, Sense], limit: tuple[Expression, Sense], path: str, reading: Reading
) -> bool:
    """Note a plain number as limit of a value that has a unit."""
    figure, sense = limit
    unit = next((f.unit for f in _facts(value[0], reading) if f.unit and f.quantity == value[1].quantity), "")
    unit = unit or (display_unit(value[1].quantity) if value[1].quantity else "")
    if not isinstance(figure, Amount) or sense.dimension or not value[1].dimension or not unit:
        return False
    found = f"{figure.written} without a unit beside {value[1]}"
    reading.refuse(path, found, "a figure with its unit", f'Write "{figure.written} {unit}".')
    return True


def _facts(expression: Expression, reading: Reading) -> list[Fact]:
    return [reading.facts[named.fact] for named in facts_named(expression)]


def _refuse_exact(value: Expression, limits: dict[str, Expression], path: str, reading: Reading) -> None:
    """A measured figure has a ±, so that exactly one figure can never be proven of it."""
    uncertain = [fact for fact in _facts(value, reading) if fact.error > 0.0]
    for start in ("", "recommended_"):
        least, most = limits.get(f"{start}at_least"), limits.get(f"{start}at_most")
        if uncertain and isinstance(least, Amount) and isinstance(most, Amount) and least.value == most.value:
            reading.refuse(
                f"{path}.{start}at_least",
                f"exactly {least.written} of {uncertain[0].name}, which is measured with a ±: "
                "it can never be proven",
                "a tolerance",
                f'Write value = "abs({write_expression(value)} - {least.written})" with '
                f"{start}at_most = the tolerance.",
            )


def _refuse_crossed(limits: dict[str, Expression], path: str, reading: Reading) -> None:
    for low in ("at_least", "recommended_at_least"):
        for high in ("at_most", "recommended_at_most"):
            least, most = limits.get(low), limits.get(high)
            if isinstance(least, Amount) and isinstance(most, Amount) and least.value > most.value:
                found = f"{low} {least.written} above {high} {most.written}"
                reading.refuse(f"{path}.{low}", found, "a lower limit below the upper one")


def _one_of(
    clause: ClauseTable, path: str, reading: Reading, read: tuple[Expression, Sense] | None
) -> tuple[OneOf | None, tuple[Named, ...]]:
    if read is None:
        return None, ()
    expression, sense = read
    if sense.kind not in (FactKind.TEXT, FactKind.CHOICE):
        reading.refuse(f"{path}.value", str(sense), "a fact of kind text or choice beside one_of")
        return None, ()
    for word in clause.one_of or []:
        _check_word(expression, word, f"{path}.one_of", reading)
    return OneOf(value=expression, words=tuple(clause.one_of or [])), facts_named(expression)


def _check_word(expression: Expression, word: str, path: str, reading: Reading) -> None:
    if isinstance(expression, Named):
        fact = reading.facts[expression.fact]
        reading.checked(path, "", lambda where: check_word(word, fact, where))


def _tube_check(
    clause: ClauseTable, path: str, reading: Reading
) -> tuple[ListedTubes | None, tuple[Named, ...]]:
    tube = reading.fact(f"{path}.tube", clause.tube or "", (FactKind.TUBE,))
    if bool(clause.tubes) == bool(clause.rows) or bool(clause.rows) != bool(clause.by):
        reading.refuse(f"{path}.tube", "a tube beside no one list", "either tubes, or by and rows, beside it")
        return None, ()
    by: tuple[Expression, Sense] | None = None
    rows: list[TubeRow] = []
    if clause.by:
        by = reading.number_or_more(f"{path}.by", clause.by)
        for place, row in enumerate(clause.rows, 1):
            place_path = f"{path}.rows.{place}"
            reading.check_table(row, place_path)
            up_to = _up_to(row.up_to, place_path, by, place == len(clause.rows), reading)
            rows.append(_row(up_to, row.tubes or [], f"{place_path}.tubes", reading))
        _refuse_out_of_order(rows, path, reading)
    else:
        rows.append(_row(None, clause.tubes or [], f"{path}.tubes", reading))
    if tube is None:
        return None, ()
    quantity = by[0] if by else None
    named = (*_named([tube]), *facts_named(quantity))
    return ListedTubes(tube=Named(tube.fact, tube.each), rows=tuple(rows), by=quantity), named


def _up_to(
    raw: object, path: str, by: tuple[Expression, Sense] | None, is_last: bool, reading: Reading
) -> Expression | None:
    if raw is None:
        if not is_last:
            reading.refuse(path, "a row without up_to", "up_to in every row but the last")
        return None
    read = reading.number_or_more(f"{path}.up_to", raw)
    if read is not None and by is not None:
        _are_alike(by[1], read[1], f"{path}.up_to", reading)
    if read is not None and not isinstance(read[0], Amount):
        reading.refuse(f"{path}.up_to", shown(raw), "a figure with its unit")
        return None
    return read[0] if read else None


def _row(up_to: Expression | None, texts: Sequence[str], path: str, reading: Reading) -> TubeRow:
    tubes = [(text, _tube(text, path, reading)) for text in texts]
    good = [(text, tube) for text, tube in tubes if tube is not None]
    return TubeRow(
        up_to=up_to, tubes=tuple(tube for _, tube in good), written=tuple(text for text, _ in good)
    )


def _tube(text: str, path: str, reading: Reading) -> Tube | None:
    tube = reading.checked(path, "", lambda where: read_fact(_LISTED, text, where)[0])
    return tube if isinstance(tube, Tube) else None


def _refuse_out_of_order(rows: Sequence[TubeRow], path: str, reading: Reading) -> None:
    figures = [row.up_to for row in rows if isinstance(row.up_to, Amount)]
    for place, (one, other) in enumerate(pairwise(figures), 2):
        if other.value <= one.value:
            found = f"up to {other.written} after up to {one.written}"
            reading.refuse(f"{path}.rows.{place}", found, "rows in rising order")


def _expiry(table: ExpiresTable, path: str, reading: Reading) -> tuple[Expiry | None, tuple[Named, ...]]:
    known = len(reading.problems)
    reading.check_table(table, path)
    if len(reading.problems) > known:
        return None, ()
    kind = ExpiryKind(str(table.kind))
    needed, allowed = _OF_EXPIRY[kind]
    for name in _ORDER_OF_EXPIRY:
        is_written = getattr(table, name) is not None
        if name in needed and not is_written:
            reading.refuse(f"{path}.{name}", "nothing", f"{name} for kind {kind!s}")
        elif is_written and name not in needed and name not in allowed:
            reading.refuse(
                f"{path}.{name}", f"{name} for kind {kind!s}", f"{_listed((*needed, *allowed))} for it"
            )
    if "months" in allowed and table.years is None and table.months is None:
        reading.refuse(f"{path}.months", "nothing", f"months or years for kind {kind!s}")
    for name in ("years", "months", "extension_years"):
        number = getattr(table, name)
        if number is not None and not 0 < number <= (1200 if name == "months" else 100):
            reading.refuse(f"{path}.{name}", number, "a whole number from 1 to 100 years")
    marked = extended = None
    if table.marked is not None:
        has_no_date = kind in _WITHOUT_DATE
        marked = reading.fact(f"{path}.marked", table.marked, () if has_no_date else (FactKind.MARKED,))
    if table.extended_from is not None:
        extended = reading.fact(f"{path}.extended_from", table.extended_from, (FactKind.MARKED,))
    earliest = [
        reading.fact(f"{path}.earliest_of", name, (FactKind.MARKED,)) for name in table.earliest_of or []
    ]
    standard = None
    if table.standard is not None:
        standard = reading.fact(f"{path}.standard", table.standard, (FactKind.TEXT, FactKind.CHOICE))
    until = _until(table, path, standard, reading)
    expiry = Expiry(
        kind=kind,
        marked=marked,
        years=table.years or 0,
        months=table.months or 0,
        earliest_of=tuple(key for key in earliest if key is not None),
        extended_from=extended,
        extension_years=table.extension_years or 0,
        standard=standard,
        until=until,
    )
    return expiry, _named([marked, standard, extended, *earliest])


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names) or "no field but kind"


def _until(
    table: ExpiresTable, path: str, standard: FactKey | None, reading: Reading
) -> dict[str, date | None] | None:
    if table.until is None:
        return None
    until: dict[str, date | None] = {}
    for word, day in table.until.items():
        if standard is not None:
            _check_word(Named(standard.fact, standard.each), word, f"{path}.until", reading)
        if type(day) is date:
            until[word] = day
        elif day == _NO_END:
            until[word] = None
        else:
            expected = f'a day such as 2028-12-31 without quotes, or "{_NO_END}"'
            cure = did_you_mean(day, [_NO_END])
            reading.refuse(f"{path}.until", f"{shown(day)} for {shown(word)}", expected, cure)
    return until
