"""A worker process: takes requests from its pipe, one at a time, and gives answers back."""

import asyncio
import gc
import os
import signal
from dataclasses import replace
from multiprocessing.connection import Connection

from starlette.types import ASGIApp

from web.settings import Settings
from web.workers.messages import Answered, Asked, Loaded, Told, answer_of

NO_LIMIT_S = 24 * 3600.0
"""The deadline is kept by who asked, who ends the process."""
NICENESS = 10
"""How far a process that computes stands back for those that listen, where the system knows of it."""


def serve(pipe: "Connection[Answered | Told | Loaded, Asked]", settings: Settings) -> None:
    """Tell that all is loaded, then answer until the pipe is closed from the other end; lines that a route
    tells go before its answer."""
    from web.app import create_app

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        os.nice(NICENESS)
    app = create_app(replace(settings, workers=0, answer_s=NO_LIMIT_S))
    app.state.service = replace(app.state.service, tell=lambda line: pipe.send(Told(line)))
    # What was loaded stays: no search for garbage need go through it again.
    gc.freeze()
    pipe.send(Loaded())
    asyncio.run(_answer(app, pipe))


async def _answer(app: ASGIApp, pipe: "Connection[Answered | Told | Loaded, Asked]") -> None:
    """One request after another on one loop, so that the thread in which routes compute is kept."""
    while True:
        try:
            asked = pipe.recv()
        except (EOFError, OSError):
            return
        pipe.send(await answer_of(app, asked))
