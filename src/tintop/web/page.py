"""What every page shares: who visits, how a template is shown, how a form is read and answered.

A page is one file in `pages` with a `router`, one template, and a line in `MENU` if it has one of its own.
A form posts to its own address; when it is refused the same page comes back (422) with the sentences and
everything that was typed, when it is saved the visitor is sent on (303) with `?saved=` the entry's number.
"""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.exceptions import HTTPException

from tintop.errors import BadInput, TintopError
from tintop.garage.keeper import Garage
from tintop.web.saved_together import saved_together, words_together
from tintop.web.security import Role

MENU = (
    ("/", "Next event"),
    ("/legal", "Legal"),
    ("/car", "Car"),
    ("/lap", "Lap"),
    ("/race", "Race"),
    ("/bench", "Bench"),
    ("/events", "Events"),
    ("/ready", "Lives and jobs"),
    ("/costs", "Money"),
    ("/circuits", "Circuits"),
    ("/papers", "Papers"),
    ("/history", "Logbook"),
    ("/calculators", "Calculators"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """One request: the garage, and who looks or writes."""

    request: Request
    garage: Garage
    role: Role
    who: str
    device: str

    @property
    def may_write(self) -> bool:
        """Whether this visitor may write entries."""
        return self.role.may_write

    @property
    def is_known(self) -> bool:
        """Whether this is the laptop or a paired device; anybody else sees nothing of the garage."""
        return self.role is Role.OWNER or bool(self.device)


def visit_of(request: Request) -> Visit:
    """The visitor of a request, as the guard found him."""
    state = request.state
    return Visit(
        request=request,
        garage=request.app.state.garage,
        role=state.role,
        who=state.who,
        device=state.device,
    )


def writing(visit: Annotated[Visit, Depends(visit_of)]) -> Visit:
    """The visitor, who must be allowed to write."""
    if not visit.may_write:
        raise HTTPException(403, "This device was paired as a reader: it may look, not write.")
    return visit


def owning(visit: Annotated[Visit, Depends(visit_of)]) -> Visit:
    """The visitor, who must sit at the laptop itself."""
    if visit.role is not Role.OWNER:
        raise HTTPException(403, "Only the laptop itself may do this.")
    return visit


Visitor = Annotated[Visit, Depends(visit_of)]
Writer = Annotated[Visit, Depends(writing)]
Owner = Annotated[Visit, Depends(owning)]


def show(visit: Visit, template: str, status: int = 200, **values: Any) -> HTMLResponse:
    """Show a template with what every page needs."""
    templates = visit.request.app.state.templates
    saved = visit.request.query_params.get("saved", "")
    is_number = visit.may_write and saved.isdecimal() and len(saved) < 10
    book = visit.garage.book
    entry = book.entry(int(saved)) if is_number else None
    entry = entry if entry is not None and book.stands(entry.number) else None
    content = templates.get_template(template).render(
        visit=visit,
        garage=visit.garage,
        menu=MENU,
        path=visit.request.url.path,
        static=visit.request.app.state.static_address,
        saved=entry,
        saved_words=words_together(book, saved_together(book, entry)) if entry else "",
        works=visit.garage.workshop.works() if visit.is_known else (),
        notices=visit.garage.store.notices if visit.role is Role.OWNER else (),
        new_key=new_key,
        **values,
    )
    return HTMLResponse(content, status_code=status)


def new_key() -> str:
    """A key for one form shown: sent twice, it writes once."""
    return uuid.uuid4().hex


async def typed(request: Request) -> dict[str, str]:
    """What was typed into a form, by field; BadInput for anything but plain text fields."""
    form = await request.form(max_files=4, max_fields=300)
    return {
        name: value.replace("\r\n", "\n").strip() for name, value in form.items() if isinstance(value, str)
    }


Typed = Annotated[dict[str, str], Depends(typed)]


def problems_of(error: TintopError) -> dict[str, str]:
    """Sentences by field, "" for what concerns the whole form."""
    if not isinstance(error, BadInput):
        return {"": str(error)}
    found: dict[str, str] = {}
    for problem in error.problems:
        words = f"Found {problem.found}; expected {problem.expected}. {problem.cure}".strip()
        found[problem.where] = f"{found[problem.where]} {words}" if problem.where in found else words
    return found


def go_to(address: str, saved: int | None = None, **query: str) -> Response:
    """Send the visitor on after something was saved."""
    parameters: Mapping[str, str] = {**({"saved": str(saved)} if saved else {}), **query}
    return RedirectResponse(f"{address}?{urlencode(parameters)}" if parameters else address, status_code=303)
