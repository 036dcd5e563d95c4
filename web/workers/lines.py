"""Lines that are told before an answer: the answer then comes as the last of them."""

import asyncio
import gzip
import json

from starlette.types import Send

from web.http.problems import Problem
from web.workers.messages import Answered

LINES = "application/x-ndjson"


class Lines:
    """Sends what a worker tells as it comes. Nothing is sent before the first line, so that an answer
    without lines is sent as it is."""

    def __init__(self, send: Send) -> None:
        self._send = send
        self._queue: asyncio.Queue[bytes | None] = asyncio.Queue()
        self._begun = False

    def put(self, line: bytes) -> None:
        """One line more; called on the event loop."""
        self._queue.put_nowait(line)

    async def run(self) -> None:
        """Send the lines until the end of them."""
        while (line := await self._queue.get()) is not None:
            await self._more(line)

    async def end(self, running: "asyncio.Future[None]") -> None:
        """Wait until all that was put in is sent."""
        self._queue.put_nowait(None)
        await running

    async def send_last(self, answer: "asyncio.Future[Answered]") -> None:
        """The answer; after lines a refusal is a line too. Raises the Problem where nothing was sent."""
        if not self._begun:
            await send_answer(answer.result(), self._send)
            return
        try:
            last = _plain(answer.result())
        except Problem as problem:
            last = json.dumps({"refused": problem.detail}).encode() + b"\n"
        await self._send({"type": "http.response.body", "body": last})

    async def _more(self, line: bytes) -> None:
        if not self._begun:
            self._begun = True
            headers = [(b"content-type", LINES.encode()), (b"x-accel-buffering", b"no")]
            await self._send({"type": "http.response.start", "status": 200, "headers": headers})
        await self._send({"type": "http.response.body", "body": line, "more_body": True})


def _plain(answer: Answered) -> bytes:
    """The body as it was before it was compressed: the lines before it went out as they are."""
    zipped = (b"content-encoding", b"gzip") in answer.headers
    return gzip.decompress(answer.body) if zipped else answer.body


async def send_answer(answer: Answered, send: Send) -> None:
    """A whole answer."""
    await send({"type": "http.response.start", "status": answer.status, "headers": list(answer.headers)})
    await send({"type": "http.response.body", "body": answer.body})
