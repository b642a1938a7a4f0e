"""Phones: the laptop shows a code, a phone sends it back once, the laptop may revoke it."""

import io
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import Response

from tintop.errors import BadInput, refuse
from tintop.web.page import Owner, Visitor, go_to, problems_of, show
from tintop.web.pages.shell import local_address
from tintop.web.security import COOKIE, SESSION_SECONDS, Role, sign

router = APIRouter()
_LONGEST_NAME = 40


@router.get("/devices")
def devices(visit: Owner, request: Request) -> Response:
    """The paired phones, how to pair another, and the code in force."""
    code = request.app.state.pairing.latest()
    address = request.app.state.address
    return show(
        visit,
        "devices.html",
        devices=visit.garage.store.devices(),
        code=code,
        address=address,
        picture=_picture(f"{address}/pair?code={code.code}") if code and address else "",
    )


@router.post("/devices/codes")
def new_code(visit: Owner, request: Request, role: Annotated[str, Form()]) -> Response:
    """Make a fresh code; the page of phones shows it."""
    if role not in (Role.CREW, Role.READER):
        raise refuse("role", repr(role), "crew or reader")
    request.app.state.pairing.new_code(Role(role))
    return go_to("/devices")


@router.post("/devices/{identifier}/revoke")
def revoke(visit: Owner, identifier: str) -> Response:
    """Turn a phone away from now on."""
    visit.garage.revoke(identifier)
    return go_to("/devices")


@router.get("/pair")
def pair_form(visit: Visitor, code: str = "", then: str = "/") -> Response:
    """Where a phone types the code."""
    return show(visit, "pair.html", code=code[:20], name="", then=local_address(then), problems={})


@router.post("/pair")
def pair(
    visit: Visitor,
    request: Request,
    code: Annotated[str, Form()] = "",
    name: Annotated[str, Form()] = "",
    then: Annotated[str, Form()] = "/",
) -> Response:
    """Pair a phone that knows the code."""
    name = " ".join(name.split())
    client = request.client.host if request.client else ""
    try:
        if not name or len(name) > _LONGEST_NAME or not name.isprintable():
            raise refuse("name", repr(name[:60]), f"a name of 1 to {_LONGEST_NAME} letters for this phone")
        role = request.app.state.pairing.use(code, client)
    except BadInput as error:
        return show(
            visit,
            "pair.html",
            status=422,
            code=code[:20],
            name=name[:_LONGEST_NAME],
            then=local_address(then),
            problems=problems_of(error),
        )
    device = visit.garage.pair(name, "crew" if role is Role.CREW else "reader")
    answer = go_to(local_address(then))
    answer.set_cookie(
        COOKIE,
        sign(device.identifier, visit.garage.secret),
        max_age=SESSION_SECONDS,
        httponly=True,
        samesite="strict",
    )
    return answer


def _picture(address: str) -> str:
    import segno

    found = io.BytesIO()
    segno.make(address, error="m").save(found, kind="svg", scale=6, border=4, xmldecl=False, svgns=True)
    return found.getvalue().decode()
