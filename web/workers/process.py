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
GARBAGE = 20_000
"""Objects more than were there before garbage is searched for: at the usual 700 a plan's page spends 1 ms of
50 on searches that find hardly any; so many take some 6 MB."""
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
    gc.set_threshold(GARBAGE)
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
