"""Who writes on this device: asked once and remembered by the device itself."""

from urllib.parse import quote, unquote

from fastapi.responses import Response

from tintop.web.page import Visit

_COOKIE = "tintop_who"
_YEAR = 365 * 24 * 3600
_LONGEST = 60


def who_of(visit: Visit) -> str:
    """Who wrote last on this device, or else whose device it is."""
    told = unquote(visit.request.cookies.get(_COOKIE, ""))[:_LONGEST]
    return told if told and told.isprintable() else visit.who


def remember_who(answer: Response, who: str) -> None:
    """Let the device remember who wrote."""
    if who:
        answer.set_cookie(_COOKIE, quote(who[:_LONGEST]), max_age=_YEAR, httponly=True, samesite="strict")
