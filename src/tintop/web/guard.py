"""The door of the page: refuses foreign hosts, foreign posts, oversized bodies and unpaired devices."""

import asyncio
from collections.abc import Iterable, Mapping
from urllib.parse import quote

from starlette.datastructures import MutableHeaders
from starlette.requests import cookie_parser
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from tintop.garage.keeper import Garage
from tintop.web.security import (
    COOKIE,
    HEADERS,
    Role,
    device_of,
    is_foreign_fetch,
    is_form,
    is_known_host,
    is_local,
    is_same_origin,
)

LARGEST_PAIRING = 4_000
LARGEST_FORM = 512_000
LARGEST_UPLOAD = 12_000_000
FORM_SECONDS, UPLOAD_SECONDS = 30.0, 180.0
_UPLOADS = ("/papers/originals", "/legal/proofs")
_PAIRING = "/pair"
_OPEN_PATHS = frozenset({_PAIRING, "/manifest.webmanifest", "/icon.svg", "/icon-192.png", "/icon-512.png"})
_SAFE_METHODS = frozenset({"GET", "HEAD"})
_TOLD_ONCE = frozenset(
    {
        "host",
        "origin",
        "cookie",
        "content-length",
        "content-type",
        "sec-fetch-site",
        "sec-fetch-mode",
        "sec-fetch-dest",
    }
)


class Refused(Exception):
    """A request that goes no further, and what it is answered with."""

    def __init__(self, words: str, status: int) -> None:
        self.answer: Response = PlainTextResponse(words, status)


class _Gone(Exception):
    """Whoever sent the request went away before it was whole."""


class Guard:
    """ASGI middleware that lets in who may come in, and says who it is in `request.state`."""

    def __init__(self, app: ASGIApp, garage: Garage, host_names: frozenset[str] = frozenset()) -> None:
        self._app = app
        self._garage = garage
        self._host_names = host_names

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        answering = _Answering(send, scope["path"])
        try:
            receive = await self._let_in(scope, receive)
            await self._app(scope, receive, answering)
        except Refused as refused:
            if scope["method"] not in _SAFE_METHODS and not _is_known(scope):
                refused.answer.headers["Connection"] = "close"  # a stranger's body is not read to its end
            await refused.answer(scope, receive, answering)
        except _Gone:
            return
        except Exception:
            if not answering.has_begun:
                words = "tintop failed at this; what was saved before is safe. Its terminal says more."
                await PlainTextResponse(words, 500)(scope, receive, answering)
            raise

    async def _let_in(self, scope: Scope, receive: Receive) -> Receive:
        """Give what the page reads the request from; Refused for one that may not come in."""
        headers = _told(scope["headers"])
        path, is_writing = scope["path"], scope["method"] not in _SAFE_METHODS
        if not is_known_host(headers.get("host", ""), self._host_names):
            raise Refused("This address does not name the laptop that serves the page.", 421)
        if is_writing and scope["method"] != "POST":
            raise Refused("Found a method that is not used here.", 405)
        if is_writing and not is_same_origin(headers):
            raise Refused("This form did not come from tintop's own page; nothing was done.", 403)
        if not is_writing and is_foreign_fetch(headers):
            raise Refused("Another site asked for this behind your back; nothing was given.", 403)
        self._identify(scope, headers)
        if not _is_known(scope) and not _is_open(path):
            refused = Refused("This device is not paired with the laptop.", 401)
            if not is_writing and "text/html" in headers.get("accept", ""):
                refused.answer = RedirectResponse(f"{_PAIRING}?then={quote(path)}", status_code=303)
            raise refused
        if not is_writing:
            return receive
        if not scope["state"]["role"].may_write and path != _PAIRING:
            raise Refused("This device was paired as a reader: it may look, not write.", 403)
        if not is_form(headers):
            raise Refused("Found something else than a form; expected one sent by tintop's own page.", 415)
        seconds = UPLOAD_SECONDS if path in _UPLOADS else FORM_SECONDS
        return await _whole(receive, headers.get("content-length", "0"), _most(path), seconds)

    def _identify(self, scope: Scope, headers: Mapping[str, str]) -> None:
        state = scope.setdefault("state", {})
        client = scope["client"][0] if scope.get("client") else ""
        if is_local(client, headers.get("host", "")):
            state.update(role=Role.OWNER, who=self._garage.settings.owner or "owner", device="")
            return
        state.update(role=Role.READER, who="", device="")
        cookie = cookie_parser(headers.get("cookie", "")).get(COOKIE, "")
        identifier = device_of(cookie, self._garage.secret) if cookie else None
        found = self._garage.device(identifier) if identifier else None
        if found:
            state.update(role=Role(found.role), who=found.name, device=found.identifier)


def _told(pairs: Iterable[tuple[bytes, bytes]]) -> dict[str, str]:
    """Headers by name; Refused where one that matters here is told twice."""
    found: dict[str, str] = {}
    for name, value in ((name.decode("latin-1"), value.decode("latin-1")) for name, value in pairs):
        if name in found and name in _TOLD_ONCE:
            raise Refused(f"Found the header {name} twice; expected it once.", 400)
        found[name] = value
    return found


def _is_known(scope: Scope) -> bool:
    state = scope.get("state", {})
    return state.get("role") is Role.OWNER or bool(state.get("device"))


def _is_open(path: str) -> bool:
    return path in _OPEN_PATHS or path.startswith("/static/")


def _most(path: str) -> int:
    if path in _UPLOADS:
        return LARGEST_UPLOAD
    return LARGEST_PAIRING if path == _PAIRING else LARGEST_FORM


async def _whole(receive: Receive, told: str, most: int, seconds: float) -> Receive:
    """Read a body to its end and give it again as one; Refused when it is too large or too slow."""
    size = f"{most / 1e6:.0f} MB" if most >= 1_000_000 else f"{most // 1000} kB"
    too_large = Refused(f"Found more than {size}; expected less. Nothing was kept.", 413)
    if not (told.isascii() and told.isdecimal() and len(told) < 12 and int(told) <= most):
        raise too_large
    body, is_whole = bytearray(), False
    try:
        async with asyncio.timeout(seconds):
            while not is_whole:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise _Gone
                body += message.get("body", b"")
                if len(body) > most:
                    raise too_large
                is_whole = not message.get("more_body", False)
    except TimeoutError:
        raise Refused(f"Found a form still on its way after {seconds:.0f} s; send it again.", 408) from None
    waiting: list[Message] = [{"type": "http.request", "body": bytes(body), "more_body": False}]

    async def again() -> Message:
        return waiting.pop() if waiting else await receive()

    return again


class _Answering:
    """Sends an answer with the headers every answer carries, and knows whether it has begun."""

    def __init__(self, send: Send, path: str) -> None:
        self._send = send
        self._path = path
        self.has_begun = False

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.has_begun = True
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            if not self._path.startswith("/static/"):
                headers.setdefault("Cache-Control", "no-store" if self._path == _PAIRING else "no-cache")
        await self._send(message)
