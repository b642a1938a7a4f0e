"""What surrounds the pages: live stream, work under way, manifest and icons for a phone's home screen."""

import asyncio
import io
import json
from collections.abc import AsyncIterator
from functools import cache
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import FileResponse, PlainTextResponse, Response, StreamingResponse

from tintop.garage.keeper import Change
from tintop.web.page import Visit, Visitor, Writer, go_to

router = APIRouter()
_HEARTBEAT_SECONDS = 15.0
_GATHER_SECONDS = 0.15  # changes that come together are told together


@router.get("/live")
async def live(visit: Visitor) -> Response:
    """Tell a page of every change, as server-sent events, while its device stays paired."""
    return StreamingResponse(
        _told(visit), media_type="text/event-stream", headers={"X-Accel-Buffering": "no"}
    )


async def _told(visit: Visit) -> AsyncIterator[str]:
    loop = asyncio.get_running_loop()
    queue: asyncio.Queue[int] = asyncio.Queue()

    def hear(change: Change) -> None:
        loop.call_soon_threadsafe(queue.put_nowait, change.number)

    end = visit.garage.subscribe(hear)
    try:
        yield f"retry: 1000\n\nevent: change\ndata: {visit.garage.changes}\n\n"
        while True:
            try:
                number: int | None = await asyncio.wait_for(queue.get(), _HEARTBEAT_SECONDS)
                await asyncio.sleep(_GATHER_SECONDS)
            except TimeoutError:
                number = None
            while not queue.empty():
                number = queue.get_nowait()
            is_turned_away = bool(visit.device) and visit.garage.device(visit.device) is None
            if is_turned_away or visit.garage.is_closing:
                return
            yield ": still here\n\n" if number is None else f"event: change\ndata: {number}\n\n"
    finally:
        end()


@router.post("/works/{identifier}/stop")
def stop(visit: Writer, identifier: int, back: Annotated[str, Form()] = "/") -> Response:
    """Stop a piece of work."""
    visit.garage.workshop.stop(identifier)
    return go_to(local_address(back))


def local_address(address: str) -> str:
    """An address of this page's own, or home for any other."""
    is_ours = address.startswith("/") and not address.startswith("//") and "\\" not in address
    return address if is_ours and address.isprintable() else "/"


@router.get("/manifest.webmanifest")
def manifest(visit: Visitor) -> Response:
    """What a phone needs to put the page on its home screen; a stranger is not told the garage's name."""
    content: dict[str, Any] = {
        "name": visit.garage.settings.title if visit.is_known else "tintop",
        "short_name": "tintop",
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "background_color": "#fcfbf7",
        "theme_color": "#1d1c1a",
        "icons": [
            {"src": "/icon-192.png", "sizes": "192x192", "type": "image/png"},
            {"src": "/icon-512.png", "sizes": "512x512", "type": "image/png"},
            {"src": "/icon.svg", "sizes": "any", "type": "image/svg+xml"},
        ],
    }
    return Response(json.dumps(content), media_type="application/manifest+json")


@router.get("/icon.svg")
def icon() -> Response:
    """The sign of tintop: a saloon's roof from above."""
    drawing = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64"><rect width="64" height="64" rx="12" '
        'fill="#1d1c1a"/><rect x="19" y="7" width="26" height="50" rx="9" fill="#fcfbf7"/>'
        '<path d="M22 24h20l-2-6H24zM23 45h18l2 6H21z" fill="#1d1c1a"/></svg>'
    )
    return Response(drawing, media_type="image/svg+xml")


@router.get("/icon-{size}.png")
def icon_picture(size: int) -> Response:
    """The same sign as a picture of 192 or 512 points."""
    if size not in (192, 512):
        return PlainTextResponse("There is no such picture here.", 404)
    return Response(_drawn(size), media_type="image/png")


@cache
def _drawn(size: int) -> bytes:
    from PIL import Image, ImageDraw

    unit = size / 64.0
    image = Image.new("RGB", (size, size), "#1d1c1a")
    draw = ImageDraw.Draw(image)
    draw.rounded_rectangle([19 * unit, 7 * unit, 45 * unit, 57 * unit], 9 * unit, "#fcfbf7")
    for shape in (((22, 24), (42, 24), (40, 18), (24, 18)), ((23, 45), (41, 45), (43, 51), (21, 51))):
        draw.polygon([(x * unit, y * unit) for x, y in shape], "#1d1c1a")
    found = io.BytesIO()
    image.save(found, "PNG")
    return found.getvalue()


@router.get("/service-worker.js")
def service_worker(request: Request) -> Response:
    """Keeps the look and the scripts on the laptop, and says so when nothing serves."""
    folder = request.app.state.static_folder
    return FileResponse(folder / "service-worker.js", media_type="text/javascript")
