"""Where the page listens, and under which names."""

import socket

import pytest

from tintop.errors import BadInput
from tintop.web import serving


class Listened(Exception):
    pass


@pytest.mark.parametrize(("is_network", "host"), [(False, "127.0.0.1"), (True, "0.0.0.0")])
def test_it_listens_on_the_laptop_alone_unless_told_otherwise(monkeypatch, tmp_path, is_network, host):
    def listen(where: str, _port: int) -> socket.socket:
        raise Listened(where)

    monkeypatch.setattr(serving, "_listen", listen)
    with pytest.raises(Listened, match=f"^{host}$"):
        serving.serve(tmp_path, port=8046, is_network=is_network)
    with pytest.raises(Listened, match=r"^127\.0\.0\.1$"):
        serving.serve(tmp_path, port=8046)


def test_a_taken_port_is_said_with_the_next_one(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(BadInput, match=f"{port}.*--port"):
            serving.serve(tmp_path, port=port)


@pytest.mark.parametrize(
    ("name", "expected"),
    [("Shed", {"192.168.4.2", "shed", "shed.local"}), ("", {"192.168.4.2"})],
)
def test_on_the_network_it_answers_to_its_own_names_alone(monkeypatch, name, expected):
    monkeypatch.setattr(serving, "_addresses", lambda: iter(["192.168.4.2"]))
    monkeypatch.setattr(socket, "gethostname", lambda: name)
    assert serving.network_names() == expected


def test_without_a_network_it_answers_to_no_more_names(monkeypatch):
    monkeypatch.setattr(serving, "_addresses", lambda: iter([]))
    assert serving.network_names() == frozenset()
