"""How books lie on one another: order, what is refused, and that tightening never loosens."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspections import EVENT, found, proven
from tintop.errors import BadInput
from tintop.rules.book import Clause, Limits, Read, RuleBook, Severity
from tintop.rules.cautions import CAUTIONS
from tintop.rules.evidence import Evidence
from tintop.rules.expression import Amount, Compared, Named
from tintop.rules.facts import Fact, FactKind, Station
from tintop.rules.findings import WORST_FIRST, Finding, Ruling
from tintop.rules.inspect import inspect
from tintop.rules.stack import stacked

BORE = Fact(
    name="eye.bore", ask="Bore", kind=FactKind.NUMBER, station=Station.OUTSIDE, quantity="length", unit="mm"
)
DRY = Fact(name="event.dry", ask="Dry event", kind=FactKind.YES_NO, station=Station.PAPERS)
FACTS = {BORE.name: BORE, DRY.name: DRY}
IF_DRY = Named("event.dry")


def least(millimetres: float) -> Limits:
    return Limits(
        value=Named("eye.bore"), at_least=Amount(millimetres / 1e3, "length", f"{millimetres:g} mm")
    )


def clause(id: str, check: Limits | None, **more: object) -> Clause:
    given = {"severity": Severity.STOPS, "read": Read.READ, **more}
    return Clause(
        id=id,
        group="towing",
        title="Tow eye",
        requirement="A bore.",
        reference="art. 1",
        check=check,
        **given,
    )


def book(id: str, *clauses: Clause, on: tuple[str, ...] = (), **more: object) -> RuleBook:
    given = {"valid_from": date(2026, 1, 1), "cautions": (f"of {id}",), **more}
    return RuleBook(
        id=id,
        title=f"Book {id}",
        edition="2026",
        jurisdiction="invented",
        builds_on=on,
        clauses=clauses,
        **given,
    )


BASE = book("base", clause("eye", least(60.0)))


def ruled(*books: RuleBook, bore: str = "62 mm", dry: str = "") -> Finding:
    written = {"eye.bore": bore} | ({"event.dry": dry} if dry else {})
    inspection = inspect(stacked(books), FACTS, proven(FACTS, written), EVENT, EVENT)
    return found(inspection, "eye")


def test_a_book_lies_on_those_it_builds_on():
    series = book("series", on=("club",))
    club = book("club", on=("base",))
    bulletin = book("bulletin", on=("series", "road"))
    stack = stacked((bulletin, series, BASE, book("road"), club))
    assert [one.id for one in stack.books] == ["base", "club", "series", "road", "bulletin"]
    assert stack.cautions == (*CAUTIONS, "of base", "of club", "of series", "of road", "of bulletin")


def on_base(one: Clause, *others: Clause, on: tuple[str, ...] = ("base",)) -> tuple[RuleBook, ...]:
    return BASE, book("s", one, *others, on=on)


@pytest.mark.parametrize(
    ("books", "words"),
    [
        ((book("a", on=("b",)), book("b", on=("a",))), ["circle", "a on b on a"]),
        ((book("a", on=("b",)),), ["'b'", "not at hand"]),
        ((BASE, BASE), ["twice"]),
        (on_base(clause("x", least(1.0), act="tightens", on="base:ey")), ["not in base"]),
        (on_base(clause("x", least(1.0), act="tightens", on="base:eye"), on=()), ["builds_on"]),
        (
            on_base(clause("x", least(1.0)), clause("y", None, act="waives", on="s:x")),
            ["Change the clause itself"],
        ),
    ],
)
def test_books_that_do_not_fit_are_refused(books, words):
    with pytest.raises(BadInput) as refusal:
        stacked(books)
    for word in words:
        assert word in str(refusal.value)


def test_a_tighter_clause_decides_and_is_named():
    series = book("series", clause("eye", least(70.0), act="tightens", on="base:eye"), on=("base",))
    finding = ruled(BASE, series, bore="62 mm")
    assert (finding.ruling, finding.decided_by, finding.id) == (Ruling.FAIL, "series:eye", "base:eye")
    assert [heard.clause for heard in finding.heard] == ["series:eye", "base:eye"]
    assert ruled(BASE, series, bore="55 mm").ruling is Ruling.FAIL
    assert ruled(BASE, series, bore="71 mm").decided_by == "series:eye"  # the one it is nearest to


def test_a_clause_that_replaces_takes_the_place():
    series = book("series", clause("eye", least(50.0), act="replaces", on="base:eye"), on=("base",))
    assert ruled(BASE, series, bore="55 mm").ruling is Ruling.PASS
    assert ruled(BASE, series, bore="45 mm").decided_by == "series:eye"
    later = book("later", clause("eye", least(52.0), act="replaces", on="series:eye"), on=("series",))
    finding = ruled(BASE, series, later, bore="55 mm")
    assert [heard.clause for heard in finding.heard] == ["later:eye"]


def test_a_waived_clause_does_not_apply_and_says_by_which():
    bulletin = book("bulletin", clause("no-eye", None, act="waives", on="base:eye"), on=("base",))
    finding = ruled(BASE, bulletin, bore="10 mm")
    assert finding.ruling is Ruling.NOT_APPLICABLE
    assert finding.decided_by == "bulletin:no-eye"
    assert "waived by bulletin:no-eye" in finding.reason


def test_what_tightens_stands_when_the_lower_one_is_waived():
    series = book("series", clause("eye", least(70.0), act="tightens", on="base:eye"), on=("base",))
    bulletin = book("bulletin", clause("no-eye", None, act="waives", on="base:eye"), on=("series",))
    finding = ruled(BASE, series, bulletin, bore="62 mm")
    assert (finding.ruling, finding.decided_by) == (Ruling.FAIL, "series:eye")


def test_a_waiver_from_memory_waives_nothing():
    waiver = clause("no-eye", None, act="waives", on="base:eye", read=Read.MEMORY)
    assert ruled(BASE, book("bulletin", waiver, on=("base",)), bore="10 mm").ruling is Ruling.FAIL
    confirmed = replace(waiver, verified_on=date(2026, 2, 1), verified_by="Robin")
    waived = ruled(BASE, book("bulletin", confirmed, on=("base",)), bore="10 mm")
    assert waived.ruling is Ruling.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("dry", "ruling", "decided_by"),
    [
        ("yes", Ruling.NOT_APPLICABLE, "bulletin:act"),
        ("no", Ruling.FAIL, "base:eye"),
        ("", Ruling.FAIL, "base:eye"),
    ],
)
def test_a_waiver_on_a_condition_waives_only_when_it_holds(dry, ruling, decided_by):
    waiver = clause("act", None, act="waives", on="base:eye", applies_if=IF_DRY)
    finding = ruled(BASE, book("bulletin", waiver, on=("base",)), bore="10 mm", dry=dry)
    assert (finding.ruling, finding.decided_by) == (ruling, decided_by)


@pytest.mark.parametrize(("dry", "ruling"), [("yes", Ruling.PASS), ("no", Ruling.FAIL), ("", Ruling.FAIL)])
def test_what_replaces_on_a_condition_replaces_only_when_it_holds(dry, ruling):
    series = clause("act", least(50.0), act="replaces", on="base:eye", applies_if=IF_DRY)
    finding = ruled(BASE, book("series", series, on=("base",)), bore="55 mm", dry=dry)
    assert finding.ruling is ruling


def test_an_open_condition_is_not_proven_and_says_what_to_record():
    finding = ruled(book("base", clause("eye", least(60.0), applies_if=IF_DRY)))
    assert finding.ruling is Ruling.NOT_PROVEN
    assert "Dry event" in finding.to_do


def test_a_clause_for_other_cars_does_not_apply():
    finding = ruled(book("base", clause("eye", least(60.0), applies_if=IF_DRY)), dry="no")
    assert finding.ruling is Ruling.NOT_APPLICABLE
    assert finding.reason == "Tow eye: Dry event: no"
    wide = Compared(">", Named("eye.bore"), Amount(0.1, "length", "100 mm"))
    finding = ruled(book("base", clause("eye", least(60.0), applies_if=wide)))
    assert finding.reason == "Tow eye: only where Bore is more than 100 mm; Bore: 62 mm"


def test_an_edition_not_in_force_is_not_proven():
    old = book("old", valid_from=date(2025, 1, 1), valid_to=date(2025, 12, 31))
    inspection = inspect(stacked((old,)), FACTS, Evidence(proven={}, fallen={}), EVENT, EVENT)
    (finding,) = inspection.findings
    assert (finding.ruling, finding.leaves_open) == (Ruling.NOT_PROVEN, True)
    assert "31 December 2025" in finding.reason


MILLIMETRES = st.integers(1, 200).map(float)


@given(MILLIMETRES, st.lists(MILLIMETRES, max_size=4), MILLIMETRES)
def test_tightening_never_loosens(base, tighter, bore):
    books = [book("b0", clause("eye", least(base)))]
    last = Ruling.PASS
    for number, limit in enumerate([None, *tighter]):
        if limit is not None:
            below = books[-1].id
            act = clause("eye", least(limit), act="tightens", on=f"{below}:eye")
            books.append(book(f"b{number}", act, on=(below,)))
        finding = ruled(*books, bore=f"{bore:g} mm")
        if limit is not None:
            assert WORST_FIRST.index(finding.ruling) <= WORST_FIRST.index(last)
        last = finding.ruling
    assert (last is Ruling.PASS) == (bore >= max([base, *tighter]))


@given(st.permutations(["base", "club", "series", "bulletin"]))
def test_the_order_books_are_named_in_changes_nothing_where_they_are_linked(order):
    books = {
        "base": BASE,
        "club": book("club", clause("eye", least(61.0), act="tightens", on="base:eye"), on=("base",)),
        "series": book("series", clause("eye", least(50.0), act="replaces", on="club:eye"), on=("club",)),
        "bulletin": book("bulletin", clause("off", None, act="waives", on="base:eye"), on=("series",)),
    }
    finding = ruled(*(books[id] for id in order), bore="55 mm")
    assert [heard.clause for heard in finding.heard] == ["series:eye"]
    assert finding.ruling is Ruling.PASS
