"""Who may do what: the laptop is the owner, paired devices are crew or readers, others may only pair."""

import re
import secrets
import threading
import time
from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from ipaddress import ip_address

from itsdangerous import BadData, URLSafeTimedSerializer

from tintop.errors import refuse

COOKIE = "tintop_device"
SESSION_SECONDS = 30 * 24 * 3600
CODE_SECONDS = 300
_CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
_LOCAL_NAMES = frozenset({"localhost", "127.0.0.1", "[::1]"})
_HOST = re.compile(r"([a-z0-9._-]+|\[[0-9a-f:.]+\])(:[0-9]{1,5})?")
_FORM = re.compile(
    r"(application/x-www-form-urlencoded|multipart/form-data; ?boundary=\S{1,200})(; ?charset=utf-8)?",
    re.IGNORECASE,
)

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
        "manifest-src 'self'; worker-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(), microphone=(), payment=()",
}


class Role(StrEnum):
    """What a visitor may do: everything, write entries, or look."""

    OWNER = "owner"
    CREW = "crew"
    READER = "reader"

    @property
    def may_write(self) -> bool:
        """Whether entries may be written."""
        return self in (Role.OWNER, Role.CREW)


@dataclass(frozen=True, slots=True, kw_only=True)
class PairingCode:
    """A code to be used once, and until when (monotonic seconds)."""

    code: str
    role: Role
    until: float


@dataclass(slots=True, kw_only=True)
class Pairing:
    """The one-time codes in force, and how often wrong ones were tried; `clock` counts seconds."""

    clock: Callable[[], float] = time.monotonic
    most_wrong_a_minute: int = 5
    most_wrong_by_all: int = 20
    _codes: dict[str, PairingCode] = field(default_factory=dict)
    _wrong: dict[str, deque[float]] = field(default_factory=dict)
    _turn: threading.Lock = field(default_factory=threading.Lock)

    def new_code(self, role: Role) -> PairingCode:
        """Give a fresh code for a role, good for five minutes and one device."""
        code = "".join(secrets.choice(_CODE_LETTERS) for _ in range(8))
        found = PairingCode(code=code, role=role, until=self.clock() + CODE_SECONDS)
        with self._turn:
            self._forget()
            self._codes[code] = found
        return found

    def latest(self) -> PairingCode | None:
        """The newest code still in force."""
        with self._turn:
            self._forget()
            return max(self._codes.values(), key=lambda found: found.until, default=None)

    def use(self, code: str, address: str) -> Role:
        """Use up a code; BadInput when it is wrong or old, or too many wrong ones came."""
        with self._turn:
            return self._use(code, address)

    def _use(self, code: str, address: str) -> Role:
        self._forget()
        mine = self._wrong.get(address, deque())
        everyone = sum(len(tries) for tries in self._wrong.values())
        if len(mine) >= self.most_wrong_a_minute or everyone >= self.most_wrong_by_all:
            raise refuse("code", "too many wrong codes in the last minute", "a pause of a minute")
        found = self._codes.pop("".join(code.upper().split()), None)
        if found is None:
            self._wrong.setdefault(address, deque()).append(self.clock())
            raise refuse(
                "code",
                "a code that is not in force",
                "the eight letters the laptop shows, within five minutes",
            )
        return found.role

    def _forget(self) -> None:
        now = self.clock()
        self._codes = {code: found for code, found in self._codes.items() if found.until > now}
        for address in list(self._wrong):
            tries = self._wrong[address]
            while tries and tries[0] < now - 60.0:
                tries.popleft()
            if not tries:
                del self._wrong[address]


def sign(device: str, secret: str) -> str:
    """Give the cookie of a paired device."""
    return str(URLSafeTimedSerializer(secret, salt="device").dumps(device))


def device_of(cookie: str, secret: str) -> str | None:
    """Give the device a cookie names, or none when it is forged or has expired."""
    try:
        found = URLSafeTimedSerializer(secret, salt="device").loads(cookie, max_age=SESSION_SECONDS)
    except BadData:
        return None
    return found if isinstance(found, str) else None


def is_local(client: str, host: str) -> bool:
    """Whether a request comes from this machine and was addressed to it by a local name."""
    try:
        is_loopback = ip_address(client).is_loopback
    except ValueError:
        return False
    return is_loopback and _name_of(host) in _LOCAL_NAMES


def is_known_host(host: str, names: frozenset[str]) -> bool:
    """Whether the Host header names this laptop; others are refused, so that no foreign name leads here."""
    return _name_of(host) in _LOCAL_NAMES | names


def is_same_origin(headers: Mapping[str, str]) -> bool:
    """Whether a request that writes comes from our own pages.

    Browsers send Sec-Fetch-Site or Origin with every post; a request with neither is refused.
    """
    site = headers.get("sec-fetch-site")
    if site is not None and site != "same-origin":
        return False
    origin = headers.get("origin")
    if origin is None:
        return site == "same-origin"
    return origin.lower() == f"http://{headers.get('host', '')}".lower()


def is_foreign_fetch(headers: Mapping[str, str]) -> bool:
    """Whether another site's page asks for something of ours, other than by sending its visitor here."""
    if headers.get("sec-fetch-site", "none") in ("none", "same-origin"):
        return False
    return (headers.get("sec-fetch-mode"), headers.get("sec-fetch-dest")) != ("navigate", "document")


def is_form(headers: Mapping[str, str]) -> bool:
    """Whether a body is a form as our own pages send it, in UTF-8 and not packed, or no body at all."""
    kind = headers.get("content-type", "")
    is_empty = not kind and headers.get("content-length", "0") == "0"
    return "content-encoding" not in headers and (is_empty or _FORM.fullmatch(kind) is not None)


def _name_of(host: str) -> str | None:
    found = _HOST.fullmatch(host.lower())
    return found[1] if found else None
