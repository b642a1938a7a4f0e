"""The page in a real browser: a demo garage served on a free port, Chromium with the outside shut off."""

import os
import shutil
import socket
import threading
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page, Route, sync_playwright

from tintop.garage.keeper import Garage
from tintop.store.demo_garage import write_demo_garage
from tintop.web.app import make_app
from tintop.web.security import COOKIE, sign

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
TODAY = date(2026, 6, 9)
WIDE, PHONE = {"width": 1400, "height": 900}, {"width": 390, "height": 844}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    if CHROMIUM is None:
        here = Path(__file__).parent
        for item in items:
            if item.path.is_relative_to(here):
                item.add_marker(pytest.mark.skip(reason="no Chromium on this machine"))


class Served:
    """A garage served from a thread of its own; can be stopped and started again on the same port."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self.start()

    def start(self) -> None:
        self.garage = Garage.open(self.folder)
        self.garage.today = lambda: TODAY
        app = make_app(self.garage, host_names=frozenset({"phone.localhost"}))
        config = uvicorn.Config(
            app, host="127.0.0.1", port=self.port, log_level="error", timeout_graceful_shutdown=1
        )
        self.server = uvicorn.Server(config)
        self.thread = threading.Thread(target=self.server.run, daemon=True)
        self.thread.start()
        while not self.server.started:
            self.thread.join(0.02)

    def stop(self) -> None:
        self.server.should_exit = True
        self.thread.join(10)

    def phone_address(self) -> str:
        return f"http://phone.localhost:{self.port}"

    def cookie(self, name: str, role: str) -> dict[str, str]:
        device = self.garage.store.add_device(name, role)
        value = sign(device.identifier, self.garage.secret)
        return {"name": COOKIE, "value": value, "url": self.phone_address()}


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("garages") / "demo"
    write_demo_garage(folder, TODAY).close()
    return folder


@pytest.fixture
def served(demo_folder: Path, tmp_path: Path) -> Iterator[Served]:
    folder = tmp_path / "garage"
    shutil.copytree(demo_folder, folder)
    found = Served(folder)
    yield found
    found.stop()


@pytest.fixture(scope="session")
def looked_at(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One garage for all tests that only look; lap and race of its next event are predicted."""
    folder = tmp_path_factory.mktemp("looked-at") / "garage"
    shutil.copytree(demo_folder, folder)
    found = Served(folder)
    meeting = found.garage.next_meeting()
    assert meeting is not None
    found.garage.predict(meeting)
    yield found
    found.stop()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser for one file of tests: while it is open no other event loop can run in this thread."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"]
        )
        yield found
        found.close()


class Watched:
    """A browser context whose requests to anywhere but the laptop are refused and remembered."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.strangers: list[str] = []
        self.complaints: list[str] = []
        context.route("**/*", self._let)

    def _let(self, route: Route) -> None:
        address = route.request.url
        if address.split("/")[2].split(":")[0] in ("127.0.0.1", "phone.localhost"):
            route.fallback()
        else:
            self.strangers.append(address)
            route.abort()

    def page(self) -> Page:
        page = self.context.new_page()
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on(
            "console",
            lambda message: self.complaints.append(message.text) if message.type == "error" else None,
        )
        return page


@pytest.fixture
def watch(browser: Browser) -> Iterator["Watching"]:
    found = Watching(browser)
    yield found
    found.close()


class Watching:
    """Opens watched contexts and closes them all."""

    def __init__(self, browser: Browser) -> None:
        self._browser = browser
        self._open: list[BrowserContext] = []

    def __call__(self, cookie: dict[str, str] | None = None, **options: object) -> Watched:
        context = self._browser.new_context(**options)  # type: ignore[arg-type]
        if cookie:
            context.add_cookies([cookie])  # type: ignore[list-item]
        self._open.append(context)
        return Watched(context)

    def close(self) -> None:
        for context in self._open:
            context.close()


def axe_source() -> str:
    """The accessibility checker's script, from where npm put it."""
    place = os.environ.get("AXE_CORE", "")
    if not place or not Path(place).exists():
        pytest.skip("no axe-core on this machine: set AXE_CORE to its axe.min.js")
    return Path(place).read_text(encoding="utf-8")
