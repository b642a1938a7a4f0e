"""Two editions of a book: what changed, and which findings turn."""

from inspections import EVENT, book_text, clause_text, fact_text, proven, stack_of
from tintop.rules.changes import Change, changes, touched
from tintop.rules.findings import Ruling
from tintop.rules.inspect import inspect

FACTS = (
    fact_text("eye.bore", "number", 'quantity = "length"\nunit = "mm"'),
    fact_text("cage.hoop", "tube"),
    fact_text("belt.label", "marked date"),
    fact_text("belt.standard", "text"),
    fact_text("lid.opens", "yes or no"),
)
OLD = (
    clause_text("eye", 'value = "eye.bore"\nat_least = "60 mm"'),
    clause_text("hoop", 'tube = "cage.hoop"\ntubes = ["45 x 2.5 mm"]'),
    clause_text(
        "belt", '[clause.expires]\nkind = "end of the label\'s year"\nmarked = "belt.label"\nyears = 5'
    ),
    clause_text("words", 'value = "belt.standard"\none_of = ["8853/98"]'),
    clause_text("lid", 'holds = "lid.opens"'),
)
NEW = (
    clause_text(
        "eye", 'value = "eye.bore"\nat_least = "65 mm"\nat_most = "100 mm"', severity="must be mended"
    ),
    clause_text("hoop", 'tube = "cage.hoop"\ntubes = ["45 x 2.5 mm", "1.75 x 0.095 in"]'),
    clause_text("belt", '[clause.expires]\nkind = "end of the label\'s year"\nmarked = "belt.label"'),
    clause_text("words", 'value = "belt.standard"\none_of = ["8853/98"]'),
    clause_text("plate", 'shown = ["cage.hoop"]'),
)


def test_every_clause_that_changed_is_said():
    old, _ = stack_of(book_text(*FACTS, *OLD))
    new, _ = stack_of(book_text(*FACTS, *NEW))
    found = {change.id: change for change in changes(old.books[0], new.books[0])}
    assert {id: change.change for id, change in found.items()} == {
        "eye": Change.CHANGED, "hoop": Change.CHANGED, "belt": Change.CHANGED,
        "plate": Change.ADDED, "lid": Change.REMOVED,
    }  # fmt: skip
    assert found["eye"].lines == (
        "severity: stops you racing, now must be mended",
        "at least: 60 mm, now 65 mm",
        "at most: nothing, now 100 mm",
    )
    assert found["hoop"].lines == ("tubes: 45 x 2.5 mm, now 45 x 2.5 mm or 1.75 x 0.095 in",)
    assert found["belt"].lines == ("years: 5, now nothing",)
    assert found["eye"].facts == ("eye.bore",)
    assert "has to hold: lid.opens" in found["lid"].lines


def test_a_book_against_itself_changes_nothing():
    old, _ = stack_of(book_text(*FACTS, *OLD))
    assert changes(old.books[0], old.books[0]) == ()


def test_findings_that_turn_are_named_worse_ones_first():
    def look(clauses):
        stack, facts = stack_of(book_text(*FACTS, *clauses))
        evidence = proven(
            facts,
            {"eye.bore": "62 mm", "cage.hoop": "1.75 x 0.095 in", "belt.label": "2022",
             "belt.standard": "8853/98", "lid.opens": "yes"},
        )  # fmt: skip
        return inspect(stack, facts, evidence, EVENT, EVENT)

    turned = {one.id.partition(":")[2]: one for one in touched(look(OLD), look(NEW))}
    assert list(turned) == ["eye", "belt", "plate", "hoop", "lid"]
    assert turned["belt"].after is not None
    assert turned["belt"].after.ruling is Ruling.EXPIRES
    assert [one.is_worse for one in turned.values()] == [True, True, True, False, False]
    assert touched(look(OLD), look(OLD)) == ()
