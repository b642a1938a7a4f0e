"""Connections of the page: so many from one address, and no longer than a request takes to arrive."""

import asyncio
from ipaddress import ip_address
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

MOST_OF_ONE_ADDRESS = 24
MOST_OF_THE_NETWORK = 300
ARRIVAL_SECONDS = 15.0


class Connection(H11Protocol):
    """HTTP as uvicorn speaks it, but nobody on the network can take every connection or sit on one.

    The laptop itself is not counted: however many call from the network, its owner gets in.
    """

    _late: asyncio.TimerHandle | None = None

    def connection_made(self, transport: Any) -> None:
        """Take a connection, or turn it away where there are too many already."""
        super().connection_made(transport)
        if _is_one_too_many(self.client, list(self.connections)):
            transport.abort()
        else:
            self._expect()

    def data_received(self, data: bytes) -> None:
        """Take what arrived; a request must be whole in time, and what follows a refused one must end."""
        super().data_received(data)
        if self._is_under_way():
            self._stop_waiting()
        elif self._late is None:
            self._expect()

    def connection_lost(self, exc: Exception | None) -> None:
        """Let go of the connection."""
        self._stop_waiting()
        super().connection_lost(exc)

    def _is_under_way(self) -> bool:
        return self.cycle is not None and not self.cycle.response_complete

    def _expect(self) -> None:
        self._late = self.loop.call_later(ARRIVAL_SECONDS, self._close_if_idle)

    def _stop_waiting(self) -> None:
        if self._late is not None:
            self._late.cancel()
            self._late = None

    def _close_if_idle(self) -> None:
        self._late = None
        if not self._is_under_way():
            self.transport.close()


def _is_one_too_many(client: tuple[str, int] | None, connections: list[Any]) -> bool:
    if client is None or _is_of_the_laptop(client[0]):
        return False
    addresses = [each.client[0] for each in connections if each.client]
    network = [address for address in addresses if not _is_of_the_laptop(address)]
    return network.count(client[0]) > MOST_OF_ONE_ADDRESS or len(network) > MOST_OF_THE_NETWORK


def _is_of_the_laptop(address: str) -> bool:
    return ip_address(address).is_loopback
