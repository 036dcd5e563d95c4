"""One worker process as seen from the process that listens."""

import multiprocessing
import os
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from multiprocessing.context import BaseContext
from multiprocessing.process import BaseProcess

from web.settings import Settings
from web.workers.messages import Answered, Asked, Loaded, Told
from web.workers.process import serve

PRELOADED = ["web.workers.preloaded"]
THREADS_OF_LIBRARIES = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


def process_context() -> BaseContext:
    """Processes forked from one that has loaded everything and runs no thread; spawned where that is not had.

    A worker is one of several: more threads in each would only wait for each other.
    """
    for name in THREADS_OF_LIBRARIES:
        os.environ.setdefault(name, "1")
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(PRELOADED)
    return context


class Ended(Exception):
    """The process ended before it answered."""


class Worker:
    """A process that answers one request at a time; where it has ended, another takes its place.

    `answer` and `start` block and belong to one thread; `end` may be called from any.
    """

    def __init__(self, context: BaseContext, settings: Settings) -> None:
        self._context, self._settings = context, settings
        self._process: BaseProcess | None = None
        self._pipe: Connection[Asked, Answered | Told | Loaded] | None = None
        self._lock = threading.Lock()
        self._closed = threading.Event()
        self._unwanted = False
        self.recipe: bytes | None = None

    def start(self) -> "Connection[Asked, Answered | Told | Loaded]":
        """The pipe to a living process that has loaded all. Raises Ended once the worker is closed, EOFError
        or OSError where the process died while it was loading."""
        with self._lock:
            if self._closed.is_set():
                raise Ended
            if self._pipe is not None and self._process is not None and self._process.is_alive():
                return self._pipe
            self._pipe, theirs = self._context.Pipe()
            self._process = self._context.Process(  # type: ignore[attr-defined]
                target=serve, args=(theirs, self._settings), name="billet-web worker", daemon=True
            )
            self._process.start()
            theirs.close()
            if not self._pipe.poll(self._settings.start_s):
                self._process.kill()
            self._pipe.recv()
            if self._closed.is_set():
                self._process.kill()
            return self._pipe

    def answer(self, asked: Asked, tell: Callable[[bytes], None] = lambda _: None) -> Answered:
        """What the process answers; `tell` is called with each line before. Raises Ended where it ended
        meanwhile."""
        self._unwanted = False
        try:
            pipe = self.start()
            if self._unwanted:
                raise Ended
            pipe.send(asked)
            while not isinstance(found := pipe.recv(), Answered):
                if isinstance(found, Told):
                    tell(found.line)
            return found
        except (EOFError, OSError):
            self.end()
            raise Ended from None

    def end(self) -> None:
        """End the process at once, whatever it is at. One that is only being started is left to start, and
        gets no request."""
        self._unwanted = True
        if self._lock.acquire(blocking=False):
            if self._process is not None:
                self._process.kill()
            self._process = None
            self._lock.release()

    def close(self) -> None:
        """End it for good."""
        self._closed.set()
        self.end()
