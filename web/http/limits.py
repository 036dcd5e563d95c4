"""What no request may exceed: length of the address, size of the body, time for an answer."""

import asyncio
import logging
from dataclasses import dataclass

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from web.http.problems import Problem

DRAINED_BYTES = 8 * 1024 * 1024
log = logging.getLogger("web")


@dataclass(frozen=True)
class AddressLimit:
    """414 for an address longer than it may be (the server below takes 70 000 characters)."""

    app: ASGIApp
    query_bytes: int
    path_bytes: int

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            if len(scope.get("query_string", b"")) > self.query_bytes:
                raise Problem(414, f"an address may carry {self.query_bytes} bytes after the ?")
            if len(scope.get("raw_path") or scope["path"].encode()) > self.path_bytes:
                raise Problem(414, f"the path of an address may be {self.path_bytes} bytes long")
        await self.app(scope, receive, send)


@dataclass(frozen=True)
class BodyLimit:
    """413 for a body over the limit, counted while it streams: its announced length proves nothing; 408
    for one that is not in after `body_s`.

    The body is held here and handed on whole. Of a body too large the rest is read and dropped, to
    8 MiB, so that the sender gets to read the answer.
    """

    app: ASGIApp
    body_bytes: int
    body_s: float

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        try:
            async with asyncio.timeout(self.body_s):
                body = await self._read(receive)
        except TimeoutError:
            rule = f"the body of a request must be here within {self.body_s:g} seconds"
            raise Problem(408, rule, headers={"Connection": "close"}) from None
        if body is None:
            return
        handed = False

        async def replay() -> Message:
            nonlocal handed
            if handed:
                return await receive()
            handed = True
            return {"type": "http.request", "body": body, "more_body": False}

        await self.app(scope, replay, send)

    async def _read(self, receive: Receive) -> bytes | None:
        """The whole body; None when the sender went away. Raises Problem 413."""
        parts: list[bytes] = []
        size = 0
        more = True
        while more and size <= DRAINED_BYTES:
            message = await receive()
            if message["type"] == "http.disconnect":
                return None
            part = message.get("body", b"")
            size += len(part)
            if size <= self.body_bytes:
                parts.append(part)
            more = message.get("more_body", False)
        if size > self.body_bytes:
            raise Problem(413, f"a body may be {self.body_bytes // 1024} KiB long")
        return b"".join(parts)


@dataclass(frozen=True)
class TimeLimit:
    """503 when an answer takes too long. What computes in a process of its own is ended then; a
    calculation in a thread of this one is left to end by itself, and what it answers is dropped."""

    app: ASGIApp
    answer_s: float

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        started = expired = False

        async def guarded(message: Message) -> None:
            nonlocal started
            if not expired:
                started = True
                await send(message)

        task = asyncio.ensure_future(self.app(scope, receive, guarded))
        try:
            done, _ = await asyncio.wait({task}, timeout=self.answer_s)
            if done or started:
                await task
                return
        except asyncio.CancelledError:
            task.cancel()
            raise
        expired = True
        task.add_done_callback(_forget)
        task.cancel()
        raise Problem(503, f"no answer within {self.answer_s:g} seconds", headers={"Retry-After": "10"})


def _forget(task: "asyncio.Future[None]") -> None:
    if not task.cancelled() and task.exception() is not None:
        log.warning("a calculation given up has failed", exc_info=task.exception())
