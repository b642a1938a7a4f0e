"""How lives and thicknesses are said to stand: nothing of the rules, and nothing unseen, reads as a pass."""

import pytest

from books import HOUR, Writer, limit, on
from tintop.logbook.entries import Basis, Counter, PartFailed, PartInspected
from tintop.logbook.lives import Life, lives
from tintop.logbook.stands import Grade, Stands, look_words, stands_of, worst_of

DAY = on("2026-06-01")
YEARS = 3652.0


def life(basis: Basis, counter: Counter, action: str = "replace", *, looked: bool = False) -> Life:
    """A harness made and fitted in January, far from its limit."""
    book = Writer()
    amount = YEARS if counter is Counter.AGE else 50 * HOUR
    of = (limit(counter, amount, basis, action),)
    book.part("2026-01-01", "harness", made=on("2026-01-01"), limits=of)
    book.fit("2026-01-02", "harness")
    if looked:
        book.write("2026-03-07", PartInspected(part="harness"))
    (found,) = lives(book.book, DAY)
    return found


@pytest.mark.parametrize("counter", [Counter.AGE, Counter.RUNNING])
@pytest.mark.parametrize("action", ["replace", "inspect"])
@pytest.mark.parametrize("looked", [False, True])
def test_no_limit_of_the_rules_is_ticked(counter, action, looked):
    stands = stands_of(life(Basis.RULE, counter, action, looked=looked))
    assert (stands.grade, stands.sign) == (Grade.PLAIN, "·")
    assert "good" not in stands.words


def test_an_age_by_the_rules_is_in_date_by_the_label_only():
    assert stands_of(life(Basis.RULE, Counter.AGE)).words == "in date by the label, not inspected"


def test_what_is_to_be_looked_at_is_ticked_only_once_it_was():
    unseen = life(Basis.MAKER, Counter.RUNNING, "inspect")
    seen = life(Basis.MAKER, Counter.RUNNING, "inspect", looked=True)
    assert (stands_of(unseen).sign, look_words(unseen)) == ("·", "never looked at")
    assert (stands_of(seen).sign, look_words(seen)) == ("✓", "last looked at Sat 7 March")


def test_a_limit_of_the_maker_is_within_its_limit():
    assert stands_of(life(Basis.MAKER, Counter.RUNNING)) == Stands(
        grade=Grade.GOOD, words="within its limit", rank=11
    )


def test_a_failed_part_is_the_worst_of_all():
    book = Writer()
    book.part("2026-01-01", "hoses", limits=(limit(Counter.RUNNING, HOUR),))
    book.part("2026-01-01", "belt", limits=(limit(Counter.RUNNING, HOUR),))
    for part in ("hoses", "belt"):
        book.fit("2026-01-02", part)
    book.run("2026-02-01", "race", hours=2)
    book.write("2026-02-02", PartFailed(part="hoses", what="braid showing"))
    found = lives(book.book, DAY)
    assert [each.part for each in found] == ["hoses", "belt"]
    worst = worst_of(reversed(found))
    assert worst is not None
    assert (worst.words, worst.sign) == ("failed", "✗")
    assert worst_of([]) is None
