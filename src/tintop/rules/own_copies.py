"""How a garage's own copy of a shipped book departs from it, and by how much it is milder."""

from collections.abc import Iterable, Iterator
from datetime import date

from tintop.rules.book import (
    Check,
    Clause,
    Departure,
    Expiry,
    Holds,
    Limits,
    ListedTubes,
    OneOf,
    Read,
    RuleBook,
    Severity,
    Shown,
)
from tintop.rules.changes import Change, ClauseChange, changes
from tintop.rules.expression import Amount, Expression

_SEVEREST_FIRST = tuple(Severity)
_SET_ASIDE = ("waives", "replaces")  # what a clause does to one of a book below that may ease it


def departure_of(own: RuleBook, shipped: RuleBook) -> Departure:
    """Count the clauses that differ, and those of them that ask for less."""
    found = changes(shipped, own)
    was = {clause.id: clause for clause in shipped.clauses}
    now = {clause.id: clause for clause in own.clauses}
    milder = [one for one in found if _is_eased(one, was.get(one.id), now.get(one.id))]
    days = (own.valid_from, own.valid_to) != (shipped.valid_from, shipped.valid_to)
    return Departure(differing=len(found), milder=len(milder), has_other_days=days)


def own_copies_in_words(books: Iterable[RuleBook]) -> str:
    """Say which books are the owner's copies of shipped ones, and how they differ; empty without any."""
    said = [
        f"{book.title} ({departure_in_words(book.departure)})" for book in books if book.departure is not None
    ]
    if not said:
        return ""
    return f"By your own cop{'y' if len(said) == 1 else 'ies'} of {'; '.join(said)}."


def departure_in_words(departure: Departure) -> str:
    """Say how a copy differs: "3 clauses differ from the book as shipped, 1 of them milder"."""
    count, days = departure.differing, "other days in force"
    if not count:
        return days if departure.has_other_days else "no clause differs from the book as shipped"
    words = f"{count} clause{' differs' if count == 1 else 's differ'} from the book as shipped"
    if departure.milder:
        words += f", {departure.milder} of them milder" if count > 1 else ", and is milder"
    return f"{words}; {days}" if departure.has_other_days else words


def _is_eased(change: ClauseChange, was: Clause | None, now: Clause | None) -> bool:
    if change.change is Change.ADDED:
        return now is not None and now.act in _SET_ASIDE
    return was is not None and is_milder(was, now)


def is_milder(was: Clause, now: Clause | None) -> bool:
    """Whether a clause asks for less than it did in anything that can be told apart; None: it is gone."""
    return now is None or any(_easings(was, now))


def _easings(was: Clause, now: Clause) -> Iterator[bool]:
    yield _SEVEREST_FIRST.index(now.severity) > _SEVEREST_FIRST.index(was.severity)
    yield was.read is Read.MEMORY and now.read is not Read.MEMORY
    yield now.applies_if is not None and now.applies_if != was.applies_if
    yield bool(was.proof) and (not now.proof or not set(now.proof) <= set(was.proof))
    yield was.wants_photograph and not now.wants_photograph
    yield was.renewed_after_accident and not now.renewed_after_accident
    yield now.act in _SET_ASIDE and (now.act, now.on) != (was.act, was.on)
    yield _is_check_eased(was.check, now.check)


def _is_check_eased(was: Check | None, now: Check | None) -> bool:
    """Whether a check may let more through: of another kind or value it may."""
    match was, now:
        case Limits(), Limits():
            if was.value != now.value:
                return True
            return any(
                _is_limit_eased(getattr(was, name), getattr(now, name), is_least="least" in name)
                for name in ("at_least", "at_most", "recommended_at_least", "recommended_at_most")
            )
        case OneOf(), OneOf():
            return was.value != now.value or not set(now.words) <= set(was.words)
        case Expiry(), Expiry():
            return _is_life_eased(was, now)
        case Shown(), Shown():
            return not set(was.facts) <= set(now.facts)
        case (Holds(), Holds()) | (ListedTubes(), ListedTubes()):
            return was != now
        case _:
            return was is not None and was != now


def _is_limit_eased(was: Expression | None, now: Expression | None, *, is_least: bool) -> bool:
    if was is None or was == now:
        return False
    if isinstance(was, Amount) and isinstance(now, Amount):
        return now.value < was.value if is_least else now.value > was.value
    return True


def _is_life_eased(was: Expiry, now: Expiry) -> bool:
    if (was.kind, was.marked, was.standard) != (now.kind, now.marked, now.standard):
        return True
    if 12 * now.years + now.months > 12 * was.years + was.months:
        return True
    if not set(was.earliest_of) <= set(now.earliest_of):
        return True
    if (now.extended_from, now.extension_years) != (was.extended_from, was.extension_years):
        return now.extended_from is not None
    ends, later = was.until or {}, now.until or {}
    return any(_day(end) > _day(ends.get(name, date.min)) for name, end in later.items())


def _day(end: date | None) -> date:
    return date.max if end is None else end
