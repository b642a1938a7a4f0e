"""The page: one application over one open garage."""

import hashlib
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import date
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, PlainTextResponse, Response
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from tintop.errors import Conflict, TintopError
from tintop.garage.keeper import Garage
from tintop.logbook.words import words_of
from tintop.web import pages
from tintop.web.formats import FILTERS
from tintop.web.guard import Guard
from tintop.web.kept import names_today
from tintop.web.page import show, visit_of
from tintop.web.security import Pairing

_HERE = Path(__file__).parent
_WORDS = {
    400: "Found a form that cannot be read; expected one sent by tintop's own page.",
    404: "There is no such page here.",
    405: "Found a method that is not used here.",
}


class _ForEver(StaticFiles):
    """Static files whose address changes with their content, kept by the browser for a year."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """Give a file of ours and let it be kept."""
        answer = await super().get_response(path, scope)
        answer.headers["Cache-Control"] = "public, max-age=31536000, immutable"
        return answer


def make_app(
    garage: Garage,
    *,
    host_names: frozenset[str] = frozenset(),
    address: str = "",
    pairing: Pairing | None = None,
) -> FastAPI:
    """Give the application; `host_names` are more names the laptop answers to, `address` what phones type."""

    @asynccontextmanager
    async def life(_app: FastAPI) -> AsyncIterator[None]:
        yield
        garage.close()

    app = FastAPI(title="tintop", docs_url=None, redoc_url=None, openapi_url=None, lifespan=life)
    app.state.garage = garage
    app.state.address = address
    app.state.pairing = pairing or Pairing()
    app.state.static_folder = _HERE / "static"
    app.state.static_address = f"/static/{_digest(_HERE / 'static')}"
    app.state.templates = _templates(garage)
    app.mount(app.state.static_address, _ForEver(directory=_HERE / "static"), name="static")
    for module in sorted(iter_modules(pages.__path__), key=lambda found: found.name):
        app.include_router(import_module(f"tintop.web.pages.{module.name}").router)
    app.add_exception_handler(TintopError, _refused)
    app.add_exception_handler(HTTPException, _not_here)
    app.add_exception_handler(RequestValidationError, _malformed)
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=5)
    app.add_middleware(Guard, garage=garage, host_names=host_names)
    return app


def _digest(folder: Path) -> str:
    digest = hashlib.sha256()
    for file in sorted(folder.rglob("*")):
        if file.is_file():
            digest.update(file.read_bytes())
    return digest.hexdigest()[:12]


def _templates(garage: Garage) -> Environment:
    environment = Environment(
        loader=FileSystemLoader(_HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    environment.filters["entry_words"] = lambda entry: words_of(entry, names_today(garage))
    today: Callable[[], date] = garage.today
    environment.globals["today"] = today
    return environment


def _wants_page(request: Request) -> bool:
    return "text/html" in request.headers.get("accept", "")


async def _refused(request: Request, error: Exception) -> Response:
    status = 409 if isinstance(error, Conflict) else 422
    return _sentence(request, str(error), status)


async def _not_here(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    words = _WORDS.get(error.status_code, str(error.detail))
    return _sentence(request, words, error.status_code)


async def _malformed(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    fields = ", ".join(str(one["loc"][-1]) for one in error.errors())
    return _sentence(request, f"Found something else than expected in: {fields}.", 422)


def _sentence(request: Request, words: str, status: int) -> Response:
    if not _wants_page(request) or not hasattr(request.state, "role"):
        return PlainTextResponse(words, status_code=status)
    page: HTMLResponse = show(visit_of(request), "refused.html", status=status, words=words)
    return page
