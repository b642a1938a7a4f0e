"""The live stream, as a device holds it open: told of changes, ended when the device is revoked."""

import asyncio

import pytest
from test_guard import visitor

from tintop.web.page import Visit
from tintop.web.pages import shell
from tintop.web.security import Role


def visit_of(garage, device: str) -> Visit:
    return Visit(request=None, garage=garage, role=Role.CREW, who="Kim", device=device)  # type: ignore[arg-type]


def test_a_change_is_told_once_to_all_that_listen(garage, monkeypatch):
    monkeypatch.setattr(shell, "_GATHER_SECONDS", 0.01)

    async def listening() -> list[str]:
        streams = [shell._told(visit_of(garage, "")) for _ in range(3)]
        first = [await anext(stream) for stream in streams]
        assert all("event: change" in words for words in first)
        device = garage.pair("Kim", "crew")
        garage.revoke(device.identifier)
        told = [await asyncio.wait_for(anext(stream), 5) for stream in streams]
        for stream in streams:
            await stream.aclose()
        return told

    assert asyncio.run(listening()) == [f"event: change\ndata: {garage.changes}\n\n"] * 3
    assert not garage._listeners


def test_the_open_stream_of_a_revoked_phone_ends_at_once(garage, monkeypatch):
    monkeypatch.setattr(shell, "_GATHER_SECONDS", 0.01)

    async def listening() -> None:
        gone, stays = garage.pair("Gone", "crew"), garage.pair("Stays", "reader")
        ending, going_on = (shell._told(visit_of(garage, each.identifier)) for each in (gone, stays))
        await anext(ending)
        await anext(going_on)
        garage.revoke(gone.identifier)
        with pytest.raises(StopAsyncIteration):
            await asyncio.wait_for(anext(ending), 5)
        assert "event: change" in await asyncio.wait_for(anext(going_on), 5)
        await going_on.aclose()

    asyncio.run(listening())
    assert not garage._listeners


def test_a_quiet_stream_says_that_it_is_still_there(garage, monkeypatch):
    monkeypatch.setattr(shell, "_HEARTBEAT_SECONDS", 0.01)

    async def listening() -> str:
        stream = shell._told(visit_of(garage, ""))
        await anext(stream)
        beat = await asyncio.wait_for(anext(stream), 5)
        await stream.aclose()
        return beat

    assert asyncio.run(listening()) == ": still here\n\n"


def test_a_stream_asked_for_and_never_read_leaves_nobody_listening(garage):
    async def asked() -> None:
        for _ in range(50):
            await shell.live(visit_of(garage, ""))

    asyncio.run(asked())
    assert not garage._listeners


def test_a_stranger_hears_nothing(garage):
    assert visitor(garage, Accept="text/event-stream").get("/live").status_code == 401
