"""What the form "I have read this figure" asks about a clause and its book."""

from datetime import date
from typing import Any

from tintop.rules.book import RuleBook
from tintop.rules.writing_checks import check_lines
from tintop.rules.writing_expressions import write_expression
from tintop.store.rule_books.copying import has_changed_since
from tintop.store.rule_books.verifying import edition_read
from tintop.web.hand_memory import who_of
from tintop.web.page import Visit


def last_edition(book: RuleBook) -> str:
    """The edition in which a figure of the book was verified last; "" while none was."""
    read = [
        (clause.verified_on or date.min, place, edition)
        for place, clause in enumerate(book.clauses)
        if (edition := edition_read(clause.source))
    ]
    return max(read)[2] if read else ""


def seen_revision(book: RuleBook) -> str:
    """The revision of the garage's copy that a book was read from; "" for one as shipped."""
    return book.digest if book.is_own_copy else ""


def verify_words(visit: Visit) -> dict[str, Any]:
    """What the template of the form asks; who read it is offered as who wrote last, or the owner by name."""
    who = who_of(visit)
    return {
        "figure_of": lambda clause: check_lines(clause.check),
        "condition_of": lambda clause: write_expression(clause.applies_if) if clause.applies_if else "",
        "last_edition": last_edition,
        "seen_revision": seen_revision,
        "has_changed_since": has_changed_since,
        "reader": visit.garage.settings.owner or who if who == visit.who else who,
    }
