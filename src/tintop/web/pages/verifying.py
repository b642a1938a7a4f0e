"""I have read this figure: a figure from memory noted as read, in the garage's own copy of its book."""

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, Conflict, TintopError
from tintop.garage.rule_books import own_books
from tintop.garage.verifying import verify
from tintop.rules.book import Clause, Read
from tintop.web.book_view import ListedBook, one_book
from tintop.web.hand_memory import remember_who
from tintop.web.page import Owner, Typed, Visit, go_to, problems_of, show
from tintop.web.pages.shell import local_address
from tintop.web.typed_form import TypedForm
from tintop.web.verify_view import verify_words
from tintop.web.writing import form_of

router = APIRouter()


@router.get("/rule-books/{id}/verify")
def verify_page(visit: Owner, id: str, clause: str = "") -> Response:
    """The form for one clause on a page of its own."""
    listed, found = _clause(visit, id, clause)
    return _shown(visit, listed, found, form_of(visit.garage, {}))


@router.post("/rule-books/{id}/verify")
def note(visit: Owner, id: str, given: Typed) -> Response:
    """Note who read the figure, when, and in which edition; 409 when the book was changed meanwhile."""
    form = form_of(visit.garage, given)
    listed, clause = _clause(visit, id, form.text("clause"))
    day = form.day_past("day", visit.garage.today())
    by, edition = form.words("by", needed=True), form.words("edition", needed=True)
    if day is None or not form.is_good:
        return _shown(visit, listed, clause, form, status=422)
    try:
        verify(
            visit.garage,
            id,
            clause.id,
            day=day,
            by=by,
            edition=edition,
            who=visit.who,
            based_on=form.text("based_on"),
        )
    except Conflict:
        form.refuse("", _CHANGED)
        return _shown(visit, *_clause(visit, id, clause.id), form, status=409)
    except TintopError as error:
        for name, sentence in problems_of(error).items():
            form.refuse(name if name in ("by", "edition") else "", sentence)
        if isinstance(error, BadInput) and not form.problems.keys() - {""}:
            form.problems[""] = str(error)
        return _shown(visit, listed, clause, form, status=422)
    address = local_address(form.text("back") or f"/rule-books/{id}").partition("?")[0]
    event = form.text("event")
    answer = go_to(address, None, **({"event": event} if event else {}), verified=f"{id}:{clause.id}")
    remember_who(answer, by)
    return answer


_CHANGED = (
    "Nothing was noted: your copy of the book was changed meanwhile. Below is the figure as it stands now; "
    "look at it again, then note it."
)


def _clause(visit: Visit, id: str, clause: str) -> tuple[ListedBook, Clause]:
    visit.garage.look_outside()
    listed = one_book(id, own_books(visit.garage))
    found = listed.book.clause(clause) if listed.book is not None else None
    if found is None or found.read is not Read.MEMORY:
        raise HTTPException(404)
    return listed, found


def _shown(visit: Visit, listed: ListedBook, clause: Clause, form: TypedForm, status: int = 200) -> Response:
    return show(
        visit,
        "verify.html",
        status=status,
        listed=listed,
        clause=clause,
        form=form,
        **verify_words(visit),
    )
