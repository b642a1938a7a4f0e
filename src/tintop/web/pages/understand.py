"""What a text means while it is typed: a small answer beside its field; nothing is written."""

import re

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from tintop.errors import BadInput
from tintop.web.page import Visitor
from tintop.web.typed_form import hand_of
from tintop.web.understanding import Found, sentence_of, understand

router = APIRouter()
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,59}")
_LONGEST = 20_000


@router.get("/understand")
def understood(visit: Visitor, request: Request, kind: str = "", text: str = "", name: str = "") -> Response:
    """Say what a text means in a field of a kind, or what is asked, or what is wrong with it."""
    found: Found | None = None
    problem = ""
    try:
        if len(text) <= _LONGEST and text.strip():
            found = understand(kind, text.strip(), hand_of(visit.garage), name)
    except BadInput as error:
        problem = sentence_of(error)
    template = request.app.state.templates.get_template("understood.html")
    place = name if _NAME.fullmatch(name) else "field"
    return HTMLResponse(template.render(found=found, name=place, problem=problem).strip())
