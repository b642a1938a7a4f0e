"""Serving the page: opens the garage, listens, and lets go of everything when interrupted."""

import contextlib
import socket
import threading
import webbrowser
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from tintop.errors import refuse
from tintop.garage.keeper import Garage
from tintop.web.app import make_app

if TYPE_CHECKING:
    from types import FrameType

    from fastapi import FastAPI
    from uvicorn import Server

_LOCAL = "127.0.0.1"
_EVERYWHERE = "0.0.0.0"
_BACKUP_SECONDS = 3600


def serve(
    folder: Path | str,
    *,
    port: int,
    is_network: bool = False,
    opens_browser: bool = True,
    tell: Callable[[str], None] = lambda _words: None,
) -> None:
    """Serve a garage until interrupted; BadInput when it cannot be opened or the port is taken."""
    listening = _listen(_EVERYWHERE if is_network else _LOCAL, port)
    with listening:
        garage = Garage.open(folder)
        names = network_names() if is_network else frozenset()
        outside = next((name for name in sorted(names) if name[:1].isdigit()), "")
        address = f"http://{outside}:{port}" if outside else ""
        app = make_app(garage, host_names=names, address=address)
        server = server_of(app)
        here = f"http://{_LOCAL}:{port}/"
        tell(f"{garage.settings.title}: {here}")
        if address:
            tell(f"Phones on this network: {address}/ (pair them on the page {here}devices)")
        elif is_network:
            tell("No network was found; phones cannot reach this laptop.")
        tell("Stop with Ctrl+C.")
        if opens_browser:
            threading.Thread(target=_open_when_up, args=(server, here), daemon=True).start()
        threading.Thread(target=start_predictions, args=(garage,), daemon=True).start()
        is_over = threading.Event()
        watching = threading.Thread(target=watch, args=(garage, is_over), daemon=True)
        watching.start()
        with contextlib.suppress(KeyboardInterrupt):
            server.run(sockets=[listening])
        is_over.set()
        watching.join()
        garage.close()


def watch(garage: Garage, is_over: threading.Event) -> None:
    """Notice every second what was edited outside, and back up when that is due, until it is over."""
    from tintop.errors import TintopError

    seconds = 0
    while not is_over.wait(1.0):
        seconds += 1
        with contextlib.suppress(TintopError):
            garage.look_outside()
            if seconds % _BACKUP_SECONDS == 0:
                garage.store.back_up_if_due()


def server_of(app: "FastAPI") -> "Server":
    """The server of an application: believes no header about who calls, speaks plain HTTP alone."""
    import uvicorn

    from tintop.web.connections import Connection

    config = uvicorn.Config(
        app,
        http=Connection,
        ws="none",
        log_level="warning",
        access_log=False,
        timeout_graceful_shutdown=1,
        server_header=False,
        proxy_headers=False,
    )

    class Serving(uvicorn.Server):
        """Ends the live streams when it is told to end, so that nothing has to be torn off."""

        def handle_exit(self, sig: int, frame: "FrameType | None") -> None:
            """Begin to end."""
            app.state.garage.say_goodbye()
            super().handle_exit(sig, frame)

    return Serving(config)


def start_predictions(garage: Garage) -> None:
    """Begin on lap and race of the next event, so that they stand there when they are looked at."""
    from tintop.errors import TintopError

    meeting = garage.next_meeting()
    if meeting is not None:
        with contextlib.suppress(TintopError):
            garage.start_predicting(meeting)


def network_names() -> frozenset[str]:
    """Names and addresses this laptop answers to on its network; asks nothing outside for them."""
    found = set(_addresses())
    host = socket.gethostname().lower()
    return frozenset({*found, *((host, f"{host}.local") if host else ())} if found else ())


def _addresses() -> Iterator[str]:
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(
            ("192.0.2.1", 9)
        )  # an address kept for documents: no packet is sent, only a route is looked up
        address = probe.getsockname()[0]
        if not address.startswith("127."):
            yield address
    with contextlib.suppress(OSError):
        for each in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            address = str(each[4][0])
            if not address.startswith("127."):
                yield address


def _listen(host: str, port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(128)
    except OSError as error:
        listening.close()
        raise refuse(
            f"port {port}",
            error.strerror or "a port that cannot be used",
            "a free port",
            f"Another page may be served already; try --port {port + 1 if port < 65535 else 8047}.",
        ) from None
    return listening


def _open_when_up(server: object, address: str) -> None:
    import time

    for _ in range(100):
        if getattr(server, "started", False):
            webbrowser.open(address)
            return
        time.sleep(0.05)
