"""Hands the requests that take computing to the workers, and sends again what was answered before."""

import asyncio
from collections.abc import Sequence
from dataclasses import dataclass

from starlette.routing import BaseRoute, Match
from starlette.types import ASGIApp, Receive, Scope, Send

from web.workers.lines import Lines, send_answer
from web.workers.messages import Answered, Asked, answer_of, read_asked
from web.workers.pool import Pool


@dataclass(frozen=True)
class Started:
    """Lets what matches one of `computing` wait, right after the start, until there is a process for it: that
    wait is no part of the time for an answer."""

    app: ASGIApp
    pool: Pool
    computing: Sequence[BaseRoute]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if not self.pool.is_started and scope["type"] == "http" and _is_one_of(scope, self.computing):
            await self.pool.started()
        await self.app(scope, receive, send)


@dataclass(frozen=True)
class InWorkers:
    """What matches one of `computing` is answered by the pool, what matches one of `lasting` by the
    application once for all, everything else by the application each time."""

    app: ASGIApp
    pool: Pool
    computing: Sequence[BaseRoute]
    lasting: Sequence[BaseRoute]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
        elif _is_one_of(scope, self.computing):
            await self._compute(scope, receive, send)
        elif _is_one_of(scope, self.lasting):
            answer = await self._look_up(await read_asked(scope, receive), scope["app"])
            await send_answer(answer, send)
        else:
            await self.app(scope, receive, send)

    async def _compute(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Ask the pool, and let go of it where the asker hangs up."""
        asked = await read_asked(scope, receive)
        client = scope["client"][0] if scope.get("client") else ""
        lines = Lines(send)
        answer = asyncio.ensure_future(self.pool.answer(asked, client, lines.put))
        gone = asyncio.ensure_future(_hung_up(receive))
        telling = asyncio.ensure_future(lines.run())
        try:
            await asyncio.wait({answer, gone}, return_when=asyncio.FIRST_COMPLETED)
            if answer.done():
                await lines.end(telling)
                await lines.send_last(answer)
        finally:
            for task in (answer, gone, telling):
                task.cancel()

    async def _look_up(self, asked: Asked, application: object) -> Answered:
        kept = self.pool.kept.look_up(asked)
        if kept is None:
            kept = await answer_of(self.app, asked, {"app": application})
            self.pool.kept.keep(asked, kept)
        return kept


def _is_one_of(scope: Scope, routes: Sequence[BaseRoute]) -> bool:
    return any(route.matches(scope)[0] is Match.FULL for route in routes)


async def _hung_up(receive: Receive) -> None:
    while (await receive())["type"] != "http.disconnect":
        pass
