"""Hands the requests that take computing to the workers, and lets go of what nobody waits for."""

import asyncio
from collections.abc import Sequence
from dataclasses import dataclass

from starlette.routing import BaseRoute, Match
from starlette.types import ASGIApp, Receive, Scope, Send

from web.workers.messages import Answered, read_asked
from web.workers.pool import Pool


@dataclass(frozen=True)
class InWorkers:
    """What matches one of `routes` is answered by the pool; all else by the application itself."""

    app: ASGIApp
    pool: Pool
    routes: Sequence[BaseRoute]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http" or not self._computes(scope):
            await self.app(scope, receive, send)
            return
        asked = await read_asked(scope, receive)
        client = scope["client"][0] if scope.get("client") else ""
        answer = asyncio.ensure_future(self.pool.answer(asked, client))
        gone = asyncio.ensure_future(_hung_up(receive))
        try:
            await asyncio.wait({answer, gone}, return_when=asyncio.FIRST_COMPLETED)
            if answer.done():
                await _send(answer.result(), send)
        finally:
            answer.cancel()
            gone.cancel()

    def _computes(self, scope: Scope) -> bool:
        return any(route.matches(scope)[0] is Match.FULL for route in self.routes)


async def _hung_up(receive: Receive) -> None:
    while (await receive())["type"] != "http.disconnect":
        pass


async def _send(answer: Answered, send: Send) -> None:
    await send({"type": "http.response.start", "status": answer.status, "headers": list(answer.headers)})
    await send({"type": "http.response.body", "body": answer.body})
