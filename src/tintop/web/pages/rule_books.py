"""Rule books: those shipped and your copies, clause by clause, copied, changed and compared."""

from contextlib import suppress

from fastapi import APIRouter
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import Conflict, TintopError
from tintop.garage.inspection import inspected_by
from tintop.garage.keeper import RULE_BOOKS, Garage
from tintop.garage.rule_books import based_on, facts_of, own_books
from tintop.logbook.proof_entries import ProofRecorded
from tintop.rules.book import Clause, RuleBook
from tintop.rules.changes import ClauseChange, Turned, changes, touched
from tintop.rules.writing_checks import check_lines
from tintop.store.rule_books.copying import copy_text, has_changed_since, new_book_text
from tintop.store.rule_books.load import load_books
from tintop.store.rule_books.shipped import shipped_ids, shipped_text
from tintop.web.book_view import ListedBook, listed_books, one_book
from tintop.web.legal_view import read_words
from tintop.web.page import Owner, Typed, Visit, Visitor, go_to, show
from tintop.web.typed_form import TypedForm, short_name
from tintop.web.verify_view import verify_words
from tintop.web.writing import form_of

router = APIRouter()
_MOST_REVISIONS = 20


@router.get("/rule-books")
def rule_books(visit: Visitor) -> Response:
    """Every rule book, shipped and own."""
    return _list(visit, form_of(visit.garage, {}))


@router.post("/rule-books")
def begin(visit: Owner, given: Typed) -> Response:
    """Begin a new book: a commented text in the garage, opened to be written."""
    form = form_of(visit.garage, given)
    title = form.words("title", needed=True)
    ids = [listed.id for listed in listed_books(visit.garage)]
    builds_on = form.choice("builds_on", ("", *ids))
    name = short_name(title, ids)
    if form.is_good:
        try:
            text = new_book_text(
                name, title, (builds_on,) if builds_on else (), visit.garage.today().isoformat()
            )
            document = f"{RULE_BOOKS}/{name}.toml"
            visit.garage.save_document(document, text, based_on=None, who=visit.who, why="begun")
            return go_to(f"/documents/{document}")
        except TintopError as error:
            form.refuse_all(error)
    return _list(visit, form, status=422)


@router.get("/rule-books/{id}")
def rule_book(visit: Visitor, id: str, text: str = "", verified: str = "") -> Response:
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
        check_lines=check_lines,
        read_words=read_words,
        document=f"{RULE_BOOKS}/{id}.toml",
        may_edit=visit.role.value == "owner",
        has_changed=has_changed_since(id, own_books(visit.garage).get(id, "")),
        noted=_noted(listed, verified),
        **verify_words(visit),
    )


def _noted(listed: ListedBook, verified: str) -> Clause | None:
    """The clause whose figure was noted as read just now."""
    found = listed.book.clause(verified.rpartition(":")[2]) if listed.book is not None else None
    return found if found is not None and found.is_verified else None


def _list(visit: Visit, form: TypedForm, status: int = 200) -> Response:
    books, own = listed_books(visit.garage), own_books(visit.garage)
    changed = {id for id, text in own.items() if has_changed_since(id, text)}
    choices = [(listed.id, listed.title) for listed in books]
    return show(
        visit, "rule_books.html", status=status, books=books, choices=choices, changed=changed, form=form
    )


@router.post("/rule-books/{id}/copy")
def copy(visit: Owner, id: str, given: Typed) -> Response:
    """Put a copy of a shipped book into the garage, to be edited; it then takes the shipped one's place.

    On to the copy there is, if there is one already; to the line of a clause, if one is named.
    """
    name = f"{RULE_BOOKS}/{id}.toml"
    if id not in shipped_ids() and id not in own_books(visit.garage):
        raise HTTPException(404)
    if id not in own_books(visit.garage):
        with suppress(Conflict):
            visit.garage.save_document(
                name,
                copy_text(id),
                based_on=based_on(visit.garage, id),
                who=visit.who,
                why="copied from the shipped book",
            )
    book = one_book(id, own_books(visit.garage)).book
    clause = book.clause(given.get("clause", "")) if book is not None else None
    return go_to(f"/documents/{name}", None, **({"line": str(clause.line)} if clause is not None else {}))


@router.get("/rule-books/{id}/changes")
def changed(visit: Visitor, id: str, old: str = "", new: str = "") -> Response:
    """What changed between two editions of a book, and what of the car comes out differently by it."""
    texts = editions(visit.garage, id)
    names = tuple(texts)
    if not names:
        raise HTTPException(404)
    old, new = old if old in texts else names[max(len(names) - 2, 0)], new if new in texts else names[-1]
    found: tuple[ClauseChange, ...] = ()
    turned: tuple[Turned, ...] = ()
    problem = ""
    try:
        found = changes(_book(visit, id, texts[old]), _book(visit, id, texts[new]))
        turned = _turned(visit, id, texts[old], texts[new])
    except TintopError as error:
        problem = str(error)
    return show(
        visit,
        "rule_book_changes.html",
        listed=one_book(id, own_books(visit.garage)),
        old=old,
        new=new,
        names=names,
        changes=found,
        turned=turned,
        problem=problem,
        recorded={proof.fact for _entry, proof in visit.garage.book.of(ProofRecorded)},
        facts=facts_of(visit.garage),
        meeting=visit.garage.next_meeting(),
    )


def editions(garage: Garage, id: str) -> dict[str, str]:
    """The texts of a book by the words for its editions: as shipped, then each revision of the own copy."""
    found = {"shipped": shipped_text(id)} if id in shipped_ids() else {}
    if id in own_books(garage):
        revisions = garage.store.revisions(f"{RULE_BOOKS}/{id}.toml", most=_MOST_REVISIONS)
        found |= {f"revision {each.number}": each.text for each in reversed(revisions)}
    return found


def _book(visit: Visit, id: str, text: str) -> RuleBook:
    return load_books([id], {**own_books(visit.garage), id: text})[0][-1]


def _turned(visit: Visit, id: str, old: str, new: str) -> tuple[Turned, ...]:
    """What of the next event's findings comes out differently; none where its books do not bring this one."""
    meeting = visit.garage.next_meeting()
    if meeting is None or not meeting.rule_books:
        return ()
    before, after = (
        inspected_by(visit.garage, meeting.rule_books, {id: text}, meeting.first_day, meeting.last_day)
        for text in (old, new)
    )
    return touched(before.inspection, after.inspection)
