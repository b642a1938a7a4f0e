"""Photographs and papers: sent in, kept by the digest of their content, and given back."""

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, UploadFile
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from tintop.errors import refuse
from tintop.logbook.entries import Draft, JobOpened, MeetingPlanned, PaperAdded, PartAdded, SessionRun
from tintop.web.page import Visit, Visitor, Writer, go_to, new_key
from tintop.web.pages.shell import local_address
from tintop.web.uploads import LARGEST, judged, plain_name, small_picture
from tintop.web.writing import write

router = APIRouter()


@router.post("/papers/originals")
def keep(
    visit: Writer,
    file: UploadFile,
    about: Annotated[str, Form()] = "",
    key: Annotated[str, Form()] = "",
    back: Annotated[str, Form()] = "/car",
) -> Response:
    """Keep a photograph or paper about a part, session, event or job; all of it, or nothing."""
    if about and about not in _known(visit):
        raise refuse("about", repr(about[:60]), "a part, session, event or job of the logbook")
    content = file.file.read(LARGEST + 1)
    kind = judged(content)
    original = visit.garage.keep_original(plain_name(file.filename or "", kind), kind, content)
    paper = PaperAdded(
        digest=original.digest,
        name=original.name,
        media_type=original.media_type,
        size=original.size,
        about=about,
    )
    draft = Draft(key=key or new_key(), day=visit.garage.today(), who=visit.who, matter=paper)
    entry = write(visit.garage, [draft], draft.key)
    return go_to(local_address(back), saved=entry.number)


@router.get("/papers/originals/{digest}")
def original(visit: Visitor, digest: str) -> Response:
    """An original as it came; papers, which may hold prices, are not for readers."""
    paper = _paper(visit, digest)
    content = visit.garage.store.original_content(paper.digest)
    is_picture = paper.media_type.startswith("image/")
    way = "inline" if is_picture else "attachment"
    return Response(content, media_type=paper.media_type, headers=_headers(f"{way}; {_named(paper.name)}"))


@router.get("/papers/originals/{digest}/small")
def small(visit: Visitor, digest: str) -> Response:
    """A photograph small enough for a page."""
    paper = _paper(visit, digest)
    if not paper.media_type.startswith("image/"):
        raise HTTPException(404)
    content = small_picture(visit.garage.store.original_content(paper.digest))
    return Response(content, media_type="image/jpeg", headers=_headers("inline"))


def _paper(visit: Visit, digest: str) -> PaperAdded:
    found = next((paper for _, paper in visit.garage.book.of(PaperAdded) if paper.digest == digest), None)
    if found is None:
        raise HTTPException(404)
    if not visit.may_write and not found.media_type.startswith("image/"):
        raise HTTPException(403, "Papers may hold prices and are not shown to readers.")
    return found


def _headers(disposition: str) -> dict[str, str]:
    return {
        "Content-Disposition": disposition,
        "X-Content-Type-Options": "nosniff",
        "Cache-Control": "private, max-age=3600",
    }


def _named(name: str) -> str:
    return f"filename*=UTF-8''{quote(name, safe='')}"


def _known(visit: Visit) -> set[str]:
    book = visit.garage.book
    return {
        *(part.part for _, part in book.of(PartAdded)),
        *(run.session for _, run in book.of(SessionRun)),
        *(meeting.meeting for _, meeting in book.of(MeetingPlanned)),
        *(job.job for _, job in book.of(JobOpened)),
    }
