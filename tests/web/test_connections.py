"""The server on a real socket: many connections, bodies without end, requests that never become whole."""

import contextlib
import socket
import threading
import time
from collections.abc import Iterator

import pytest

from tintop.web import connections
from tintop.web.app import make_app
from tintop.web.serving import server_of

PHONE = "127.0.0.2"  # on this machine, and yet not the address the laptop calls itself from


@pytest.fixture
def port(garage, monkeypatch) -> Iterator[int]:
    monkeypatch.setattr(connections, "_is_of_the_laptop", lambda address: address == "127.0.0.1")
    listening = socket.create_server(("0.0.0.0", 0))
    server = server_of(make_app(garage))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started:
        thread.join(0.01)
    yield listening.getsockname()[1]
    server.should_exit = True
    thread.join(10)


@pytest.fixture
def hasty(monkeypatch) -> None:
    monkeypatch.setattr(connections, "ARRIVAL_SECONDS", 0.3)


def call(port: int, address: str = PHONE) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), timeout=10, source_address=(address, 0))


def said(connection: socket.socket) -> bytes:
    """All that is answered until the other side closes."""
    found = b""
    with contextlib.suppress(ConnectionError):
        while part := connection.recv(65536):
            found += part
    return found


def request(lines: bytes, port: int) -> bytes:
    return lines.replace(b"HOST", b"127.0.0.1:%d" % port)


def test_the_laptop_is_served(port):
    with call(port, "127.0.0.1") as connection:
        connection.sendall(request(b"GET /car HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n", port))
        answer = said(connection)
    assert answer.startswith(b"HTTP/1.1 200 OK\r\n")
    assert b"\r\nserver:" not in answer.lower()


def test_one_address_cannot_take_every_connection(port):
    with contextlib.ExitStack() as open_ones:
        held = [open_ones.enter_context(call(port)) for _ in range(connections.MOST_OF_ONE_ADDRESS)]
        with call(port) as one_more:
            assert said(one_more) == b""
        for address in ("127.0.0.3", "127.0.0.1"):
            with call(port, address) as other:
                other.sendall(
                    request(b"GET /icon.svg HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n", port)
                )
                assert said(other).startswith(b"HTTP/1.1 200")
        held[0].settimeout(0.05)
        with pytest.raises(TimeoutError):
            held[0].recv(1)


def test_the_network_together_cannot_shut_the_laptop_out(port, monkeypatch):
    monkeypatch.setattr(connections, "MOST_OF_THE_NETWORK", 10)
    with contextlib.ExitStack() as open_ones:
        for each in range(10):
            open_ones.enter_context(call(port, f"127.0.1.{each + 1}"))
        with call(port, "127.0.2.1") as one_more:
            assert said(one_more) == b""
        with call(port, "127.0.0.1") as laptop:
            laptop.sendall(request(b"GET /car HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n", port))
            assert said(laptop).startswith(b"HTTP/1.1 200")


@pytest.mark.parametrize("begun", [b"", b"GET / HTTP/1.1\r\n", b"GET / HTTP/1.1\r\nHost: x\r\nX-Slow: "])
def test_a_request_that_never_becomes_whole_is_hung_up_on(port, hasty, begun):
    with call(port) as connection:
        connection.sendall(begun)
        assert said(connection) == b""


def test_a_request_begun_late_on_an_open_connection_is_hung_up_on_too(port, hasty):
    with call(port) as connection:
        connection.sendall(request(b"GET /icon.svg HTTP/1.1\r\nHost: HOST\r\n\r\n", port))
        assert connection.recv(65536).startswith(b"HTTP/1.1 200")
        with pytest.raises(ConnectionError):
            for letter in b"GET /" + b"a" * 200:
                connection.sendall(bytes([letter]))
                time.sleep(0.02)


def test_ten_gigabytes_of_a_stranger_are_not_read(port):
    head = b"POST /papers/originals HTTP/1.1\r\nHost: evil\r\nContent-Length: 10000000000\r\n\r\n"
    with call(port) as connection:
        connection.sendall(head)
        answer = said(connection)
    assert answer.startswith(b"HTTP/1.1 421") and b"connection: close" in answer.lower()


def test_what_follows_a_refused_request_is_not_listened_to_for_ever(port, hasty):
    head = (
        b"POST /costs HTTP/1.1\r\nHost: HOST\r\nOrigin: http://HOST\r\n"
        b"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 10000000000\r\n\r\n"
    )
    with call(port, "127.0.0.1") as connection:
        connection.sendall(request(head, port))
        assert connection.recv(65536).startswith(b"HTTP/1.1 413")
        with pytest.raises(ConnectionError):
            for _ in range(200):  # a drop each fiftieth of a second
                connection.sendall(b"a")
                time.sleep(0.02)


@pytest.mark.parametrize(
    "lines",
    [
        b"GET / HTTP/1.1\r\nHost: HOST\r\nX: " + b"a" * 1_000_000 + b"\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: HOST\r\n" + b"X: a\r\n" * 200_000 + b"\r\n",
        b"GET /?" + b"a" * 1_000_000 + b" HTTP/1.1\r\nHost: HOST\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: HOST\r\nHost: HOST\r\n\r\n",
        b"GET / HTTP/1.1\r\n\r\n",
        b"POST /costs HTTP/1.1\r\nHost: HOST\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\nabcde",
        b"POST /costs HTTP/1.1\r\nHost: HOST\r\nContent-Length: -5\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: HOST\r\nX: a\r\n b\x00\r\n\r\n",
        b"\x16\x03\x01\x02\x00",
        b"\r\n" * 50_000,
    ],
    ids=["long", "many", "address", "two hosts", "no host", "two lengths", "length", "fold", "tls", "empty"],
)
def test_a_malformed_request_is_refused_and_the_page_goes_on(port, lines):
    with call(port, "127.0.0.1") as connection:
        with contextlib.suppress(OSError):
            connection.sendall(request(lines, port))
            connection.shutdown(socket.SHUT_WR)
        answer = said(connection)
    assert answer == b"" or answer.startswith((b"HTTP/1.1 400", b"HTTP/1.1 421"))
    assert b"Traceback" not in answer
    test_the_laptop_is_served(port)


def test_a_path_cannot_climb_out_of_the_static_files(port, garage):
    static = make_app(garage).state.static_address.encode()
    for climb in (
        b"/../../app.py",
        b"/..%2f..%2fapp.py",
        b"/%2e%2e/%2e%2e/app.py",
        b"/..%5c..%5capp.py",
        b"//etc/passwd",
        b"/%00",
        b"/live.js%00.css",
        b"/....//....//app.py",
        b"/" + b"a" * 5000,
    ):
        with call(port) as connection:
            line = b"GET %s%s HTTP/1.1\r\nHost: HOST\r\nConnection: close\r\n\r\n" % (static, climb)
            connection.sendall(request(line, port))
            answer = said(connection)
        assert answer.split(b"\r\n")[0] in (b"HTTP/1.1 404 Not Found", b"HTTP/1.1 401 Unauthorized"), climb


def test_an_upgrade_leads_nowhere(port):
    lines = (
        b"GET /live HTTP/1.1\r\nHost: evil\r\nConnection: Upgrade, close\r\nUpgrade: websocket\r\n"
        b"Sec-WebSocket-Key: x3JJHMbDL1EzLkh9GBhXDw==\r\nSec-WebSocket-Version: 13\r\n\r\n"
    )
    with call(port) as connection:
        connection.sendall(lines)
        assert said(connection).startswith(b"HTTP/1.1 421")


def test_the_server_believes_nobody_about_who_calls(garage):
    config = server_of(make_app(garage)).config
    assert config.proxy_headers is False
    assert config.access_log is False  # what is asked for stands in no log, so nothing can be put into one
    assert config.http is connections.Connection
