"""The documents a person edits: shown, edited, every revision kept, compared and brought back."""

from typing import Annotated

from fastapi import APIRouter, Form
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, TintopError
from tintop.store.document_names import is_document_name
from tintop.store.garage_store import Revision
from tintop.store.revisions import DocumentConflict
from tintop.store.starting import starter_document
from tintop.web.comparing import Run, compared
from tintop.web.page import Owner, Visit, Visitor, go_to, show

router = APIRouter()
Text = Annotated[str, Form()]


@router.get("/documents")
def documents(visit: Visitor) -> Response:
    """Every document there is, with its last revision."""
    names = visit.garage.document_names()
    return show(
        visit,
        "documents.html",
        listed=[visit.garage.document(name) for name in names],
    )


@router.get("/documents/new")
def new_document(visit: Owner, name: str = "") -> Response:
    """Where a new document is written, its name proposed by the page that wants it."""
    name = name[:60]
    return show(visit, "document_new.html", name=name, text=starter_document(name), why="", problems=())


@router.post("/documents/new")
def add_document(visit: Owner, name: Text = "", text: Text = "", why: Text = "") -> Response:
    """Save a document nobody has saved before."""
    name = name.strip()
    try:
        visit.garage.save_document(name, _lines(text), based_on=None, who=visit.who, why=why.strip())
    except TintopError as error:
        said = _sentences(error)
        if isinstance(error, DocumentConflict):
            said = (f"There is a document {name} already; open it to change it.",)
        return show(visit, "document_new.html", status=422, name=name, text=text, why=why, problems=said)
    return go_to(f"/documents/{name}", kept="yes")


@router.get("/documents/{name:path}")
def document(
    visit: Visitor, name: str, digest: str = "", one: str = "", other: str = "", kept: str = ""
) -> Response:
    """One document as it stands, or an earlier revision, or two of them compared."""
    revisions = _revisions(visit, name)
    chosen = _of(revisions, digest) if digest else revisions[0]
    pair = (_of(revisions, one), _of(revisions, other)) if one and other else None
    return _page(visit, revisions, chosen, pair=pair, is_kept=bool(kept))


@router.post("/documents/{name:path}")
def save_document(
    visit: Owner,
    name: str,
    text: Text = "",
    seen: Text = "",
    why: Text = "",
    bring_back: Text = "",
) -> Response:
    """Save a document over the revision that was seen, or bring an earlier revision back."""
    revisions = _revisions(visit, name)
    if bring_back:
        earlier = _of(revisions, bring_back)
        written, reason = earlier.text, f"revision {earlier.number} brought back"
    else:
        base = next((each for each in revisions if each.digest == seen), None)
        written, reason = _lines(text, base.text if base else ""), why.strip()
    try:
        visit.garage.save_document(name, written, based_on=seen or None, who=visit.who, why=reason)
    except DocumentConflict as conflict:
        fresh = _revisions(visit, name)
        return _page(visit, fresh, fresh[0], status=409, typed=written, why=why, conflict=conflict.stands)
    except TintopError as error:
        fresh = _revisions(visit, name)
        return _page(
            visit,
            fresh,
            fresh[0],
            status=422,
            typed=written,
            why=why,
            based_on=seen,
            problems=_sentences(error),
        )
    return go_to(f"/documents/{name}", kept="yes")


def _page(
    visit: Visit,
    revisions: tuple[Revision, ...],
    chosen: Revision,
    status: int = 200,
    *,
    pair: tuple[Revision, Revision] | None = None,
    typed: str | None = None,
    why: str = "",
    based_on: str = "",
    conflict: Revision | None = None,
    problems: tuple[str, ...] = (),
    is_kept: bool = False,
) -> Response:
    last = revisions[0]
    differs: tuple[Run, ...] = compared(conflict.text, typed or "") if conflict else ()
    return show(
        visit,
        "document.html",
        status=status,
        name=last.name,
        last=last,
        chosen=chosen,
        revisions=revisions,
        pair=pair,
        pair_differs=compared(pair[0].text, pair[1].text) if pair else (),
        text=last.text if typed is None else typed,
        based_on=conflict.digest if conflict else based_on or last.digest,
        why=why,
        conflict=conflict,
        differs=differs,
        problems=problems,
        is_kept=is_kept,
        may_edit=visit.role.value == "owner",
    )


def _revisions(visit: Visit, name: str) -> tuple[Revision, ...]:
    if not is_document_name(name):
        raise HTTPException(404)
    try:
        visit.garage.document(name)
        return visit.garage.store.revisions(name)
    except BadInput:
        raise HTTPException(404) from None


def _of(revisions: tuple[Revision, ...], digest: str) -> Revision:
    found = next((each for each in revisions if each.digest == digest), None)
    if found is None:
        raise HTTPException(404)
    return found


def _lines(text: str, like: str = "") -> str:
    """A text as a browser sends it, with the line ends of the text it was based on."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    if like.endswith("\n") and not plain.endswith("\n"):
        plain += "\n"
    return plain.replace("\n", "\r\n") if "\r\n" in like else plain


def _sentences(error: TintopError) -> tuple[str, ...]:
    return tuple(str(problem) for problem in error.problems) if isinstance(error, BadInput) else (str(error),)
