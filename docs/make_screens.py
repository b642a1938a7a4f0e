"""Pictures of the page for docs/page.md: wide, on a phone, dark and printed.

`python docs/make_screens.py` makes the demo's garage as of a fixed day, serves it to Chromium and writes
`docs/pictures/page_*.png`, each reduced to 64 colours.
"""

import shutil
import socket
import tempfile
import threading
from datetime import date
from pathlib import Path

import uvicorn
from PIL import Image
from playwright.sync_api import sync_playwright

from tintop.garage.answers import keep_answers
from tintop.garage.keeper import Garage
from tintop.store.demo_garage import write_demo_garage
from tintop.web.app import make_app

PICTURES = Path(__file__).parent / "pictures"
TODAY = date(2026, 6, 9)
PAGES = {
    "home": "/",
    "legal": "/legal",
    "walk": "/legal/walk",
    "dates": "/legal/dates",
    "car": "/car",
    "lap": "/lap",
    "race": "/race",
    "run_sheet": "/events/larkmoor/run-sheet/larkmoor-practice",
}
WIDE, PHONE = {"width": 1400, "height": 900}, {"width": 390, "height": 844}


def main() -> None:
    """Write every picture."""
    with tempfile.TemporaryDirectory() as place:
        garage = Garage(write_demo_garage(Path(place) / "demo", TODAY), today=lambda: TODAY)
        meeting = garage.next_meeting()
        assert meeting is not None
        garage.predict(meeting)
        keep_answers(garage, meeting)
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        server = uvicorn.Server(
            uvicorn.Config(make_app(garage), port=port, log_level="error", timeout_graceful_shutdown=1)
        )
        serving = threading.Thread(target=server.run, daemon=True)
        serving.start()
        while not server.started:
            serving.join(0.02)
        photograph(f"http://127.0.0.1:{port}")
        server.should_exit = True
        serving.join(10)


def photograph(address: str) -> None:
    """Take every page wide and on a phone; home and lap also dark, the run sheet also as printed."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        for size, viewport in (("wide", WIDE), ("phone", PHONE)):
            for name, path in PAGES.items():
                page = browser.new_page(viewport=viewport)
                page.goto(address + path)
                page.wait_for_timeout(600)
                take(page, f"{name}_{size}")
                page.close()
        for name in ("home", "lap"):
            page = browser.new_page(viewport=WIDE, color_scheme="dark")
            page.goto(address + PAGES[name])
            page.wait_for_timeout(600)
            take(page, f"{name}_dark")
            page.close()
        page = browser.new_page(viewport={"width": 794, "height": 1123})
        page.goto(address + PAGES["car"])
        page.emulate_media(media="print")
        page.wait_for_timeout(300)
        take(page, "car_printed")
        browser.close()


def take(page: object, name: str) -> None:
    """Write what is on the screen, in few colours."""
    target = PICTURES / f"page_{name}.png"
    page.screenshot(path=target)  # type: ignore[attr-defined]
    with Image.open(target) as picture:
        picture.convert("RGB").quantize(64).save(target, optimize=True)


if __name__ == "__main__":
    main()
