"""Figures from memory as they stand on a day: one verified later is not verified yet."""

from dataclasses import replace
from datetime import date

from tintop.rules.book import Clause, Read, RuleBook
from tintop.rules.stack import Stack


def book_on(book: RuleBook, day: date) -> RuleBook:
    """Give a book as verified by the end of a day."""
    if not any(is_early(clause, day) for clause in book.clauses):
        return book
    return replace(book, clauses=tuple(_clause_on(clause, day) for clause in book.clauses))


def stack_on(stack: Stack, day: date) -> Stack:
    """Give a stack as verified by the end of a day."""
    books = {book.id: book_on(book, day) for book in stack.books}
    if all(book is books[book.id] for book in stack.books):
        return stack
    requirements = tuple(
        replace(
            requirement,
            placed=tuple(
                replace(placed, book=books[placed.book.id], clause=_clause_on(placed.clause, day))
                for placed in requirement.placed
            ),
        )
        for requirement in stack.requirements
    )
    return replace(stack, books=tuple(books.values()), requirements=requirements)


def is_early(clause: Clause, day: date) -> bool:
    """Whether a clause says it was verified on a day that is yet to come."""
    return clause.read is Read.MEMORY and clause.verified_on is not None and clause.verified_on > day


def _clause_on(clause: Clause, day: date) -> Clause:
    return replace(clause, verified_on=None, verified_by="") if is_early(clause, day) else clause
