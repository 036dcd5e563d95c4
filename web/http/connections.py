"""Connections that are not kept open for nothing: slow heads, readers that do not read, too many at once."""

import asyncio
from typing import Any

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_S = 10.0
"""A head that has not come in whole by then is not waited for."""
READER_S = 30.0
"""So long may a reader take nothing of what is sent."""
BACKLOG = 64
"""Connections taken in at once; none of them is counted before all are taken."""
SPARE_DESCRIPTORS = 64
"""Files, pipes and sockets beside those of visitors."""
MOST_CONNECTIONS = 1000


def most_connections() -> int:
    """As many as there are descriptors for, at most a thousand."""
    try:
        import resource
    except ImportError:
        return MOST_CONNECTIONS
    soft = resource.getrlimit(resource.RLIMIT_NOFILE)[0]
    room = soft - SPARE_DESCRIPTORS - BACKLOG if soft != resource.RLIM_INFINITY else MOST_CONNECTIONS
    return max(16, min(MOST_CONNECTIONS, room))


class Connection(H11Protocol):
    """HTTP/1.1 as uvicorn speaks it, with a limit on how long nothing may come or go."""

    def __init__(self, *arguments: Any, **named: Any) -> None:
        super().__init__(*arguments, **named)
        self._head: asyncio.TimerHandle | None = None
        self._reader: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        if len(self.connections) > most_connections():
            transport.abort()
        else:
            self._watch()

    def connection_lost(self, exc: Exception | None) -> None:
        for timer in (self._head, self._reader):
            if timer is not None:
                timer.cancel()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        super().data_received(data)
        self._watch()

    def on_response_complete(self) -> None:
        super().on_response_complete()
        self._watch()

    def pause_writing(self) -> None:
        super().pause_writing()
        if self._reader is None:
            self._reader = self.loop.call_later(READER_S, self.transport.abort)

    def resume_writing(self) -> None:
        super().resume_writing()
        if self._reader is not None:
            self._reader.cancel()
            self._reader = None

    def _watch(self) -> None:
        """The time for a head runs from its connection, or from the answer before it, to its last byte."""
        if self.conn.their_state is h11.IDLE and not self.transport.is_closing():
            if self._head is None:
                self._head = self.loop.call_later(HEAD_S, self.transport.abort)
        elif self._head is not None:
            self._head.cancel()
            self._head = None
