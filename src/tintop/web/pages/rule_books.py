"""Rule books: those shipped and your copies, clause by clause, copied, changed and compared."""

from contextlib import suppress

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import Conflict
from tintop.garage.keeper import RULE_BOOKS
from tintop.garage.rule_books import own_books
from tintop.store.rule_books.copying import copy_text
from tintop.store.rule_books.shipped import shipped_ids
from tintop.web.book_view import check_words, listed_books, one_book
from tintop.web.legal_view import read_words
from tintop.web.page import Owner, Visitor, go_to, show

router = APIRouter()


@router.get("/rule-books")
def rule_books(visit: Visitor) -> Response:
    """Every rule book, shipped and own."""
    return show(visit, "rule_books.html", books=listed_books(visit.garage), problem="")


@router.get("/rule-books/{id}")
def rule_book(visit: Visitor, id: str, text: str = "") -> Response:
    """One book: its clauses with their figures and where each was read."""
    listed = one_book(id, own_books(visit.garage))
    if not listed.is_own and not listed.is_shipped:
        raise HTTPException(404)
    words = text[:100].casefold().split()
    clauses = [
        clause
        for clause in (listed.book.clauses if listed.book else ())
        if all(
            word
            in f"{clause.id} {clause.title} {clause.requirement} {clause.reference} {clause.group}".casefold()
            for word in words
        )
    ]
    groups = dict.fromkeys(clause.group for clause in clauses)
    return show(
        visit,
        "rule_book.html",
        listed=listed,
        groups=[(group, [clause for clause in clauses if clause.group == group]) for group in groups],
        unverified=sum(not clause.is_verified for clause in (listed.book.clauses if listed.book else ())),
        text=text[:100],
        check_words=check_words,
        read_words=read_words,
        document=f"{RULE_BOOKS}/{id}.toml",
        may_edit=visit.role.value == "owner",
    )


@router.post("/rule-books/{id}/copy")
def copy(visit: Owner, id: str) -> Response:
    """Put a copy of a shipped book into the garage, to be edited; it then takes the shipped one's place."""
    if id not in shipped_ids():
        raise HTTPException(404)
    name = f"{RULE_BOOKS}/{id}.toml"
    with suppress(Conflict):  # there is one already: on to it
        visit.garage.save_document(
            name, copy_text(id), based_on=None, who=visit.who, why="copied from the shipped book"
        )
    return go_to(f"/documents/{name}")
