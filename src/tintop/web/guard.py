"""The door of the page: refuses foreign hosts, foreign posts, oversized bodies and unpaired devices."""

from collections.abc import Mapping
from http.cookies import CookieError, SimpleCookie
from urllib.parse import quote

from starlette.datastructures import MutableHeaders
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from tintop.garage.keeper import Garage
from tintop.web.security import COOKIE, HEADERS, Role, device_of, is_known_host, is_local, is_same_origin

LARGEST_FORM = 512_000
LARGEST_UPLOAD = 12_000_000
_OPEN_PATHS = ("/pair", "/static/", "/manifest.webmanifest", "/icon.svg", "/icon-192.png", "/icon-512.png")
_SAFE_METHODS = frozenset({"GET", "HEAD"})


class TooLarge(Exception):
    """The body of a request grew beyond its bound."""


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
        headers = {name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]}
        refused = self._refusal(scope, headers)
        if refused is not None:
            await refused(scope, receive, _with_headers(send, scope["path"]))
            return
        most = LARGEST_UPLOAD if scope["path"] == "/papers/originals" else LARGEST_FORM
        try:
            await self._app(scope, _bounded(receive, most), _with_headers(send, scope["path"]))
        except TooLarge:
            answer = PlainTextResponse(f"Found more than {most // 1000} kB; expected less.", status_code=413)
            await answer(scope, receive, _with_headers(send, scope["path"]))

    def _refusal(self, scope: Scope, headers: Mapping[str, str]) -> Response | None:
        host = headers.get("host", "")
        if not is_known_host(host, self._host_names):
            return PlainTextResponse("This address does not name the laptop that serves the page.", 421)
        path, method = scope["path"], scope["method"]
        if method not in _SAFE_METHODS:
            if method != "POST":
                return PlainTextResponse("Found a method that is not used here.", 405)
            if not is_same_origin(dict(headers)):
                return PlainTextResponse(
                    "This form did not come from tintop's own page; nothing was done.", 403
                )
            length = headers.get("content-length", "0")
            most = LARGEST_UPLOAD if path == "/papers/originals" else LARGEST_FORM
            if not length.isdecimal() or int(length) > most:
                return PlainTextResponse(f"Found more than {most // 1000} kB; expected less.", 413)
        state = scope.setdefault("state", {})
        client = scope["client"][0] if scope.get("client") else ""
        if is_local(client, host):
            state.update(role=Role.OWNER, who=self._garage.settings.owner or "owner", device="")
            return None
        device = self._device(headers)
        if device is not None:
            identifier, name, role = device
            state.update(role=role, who=name, device=identifier)
            return None
        state.update(role=Role.READER, who="", device="")
        if path.startswith(_OPEN_PATHS):
            return None
        if method in _SAFE_METHODS and "text/html" in headers.get("accept", ""):
            return RedirectResponse(f"/pair?then={quote(path)}", status_code=303)
        return PlainTextResponse("This device is not paired with the laptop.", 401)

    def _device(self, headers: Mapping[str, str]) -> tuple[str, str, Role] | None:
        try:
            cookie = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
        except CookieError:
            return None
        identifier = device_of(cookie.value, self._garage.secret) if cookie else None
        found = self._garage.device(identifier) if identifier else None
        return (found.identifier, found.name, Role(found.role)) if found else None


def _bounded(receive: Receive, most: int) -> Receive:
    taken = 0

    async def bounded() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > most:
            raise TooLarge
        return message

    return bounded


def _with_headers(send: Send, path: str) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            if not path.startswith("/static/"):
                headers.setdefault("Cache-Control", "no-store" if path.startswith("/pair") else "no-cache")
        await send(message)

    return sending
