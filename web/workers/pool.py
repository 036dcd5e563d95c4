"""The worker processes and who waits for them."""

import asyncio
from collections import deque
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field

from web.http.problems import Problem
from web.settings import Settings
from web.workers.kept import Kept
from web.workers.line import Line
from web.workers.messages import Answered, Asked
from web.workers.worker import Ended, Worker, process_context

Tell = Callable[[bytes], None]
BUSY = "too many bars are being computed; try again"
DIED = (
    "the process that computed this ended before it answered, as happens where a machine "
    "runs out of memory; try again"
)


def _load(worker: Worker) -> None:
    """Start a process; one that cannot be had is started again by the first who needs it."""
    with suppress(Ended, EOFError, OSError):
        worker.start()


def _busy() -> Problem:
    return Problem(429, BUSY, headers={"Retry-After": "5"})


@dataclass(eq=False)
class Job:
    """One request, how many wait for its answer, and who hears what is done meanwhile."""

    asked: Asked
    client: str
    recipe: bytes
    answer: "asyncio.Future[Answered]"
    askers: int = 0
    listeners: list[Tell] = field(default_factory=list)
    worker: Worker | None = None
    timers: list[asyncio.TimerHandle] = field(default_factory=list)
    ended_here: bool = False
    """Whether its worker was ended by the pool: overdue, or left alone."""

    def end(self) -> None:
        """End the worker that is at it."""
        if self.worker is not None:
            self.ended_here = True
            self.worker.end()


class Pool:
    """Answers requests in worker processes. All of it runs on the event loop, but the waiting on pipes.

    Equal requests share one answer. A recipe is at one worker at a time, and goes to the one that had it
    last where that is free, because its plan is kept there. A worker is ended when its answer is overdue,
    and when nobody has waited for it for `left_alone_s`.
    """

    def __init__(self, settings: Settings) -> None:
        self._settings = settings
        context = process_context()
        self._workers = [Worker(context, settings) for _ in range(settings.workers)]
        self._idle = deque(self._workers)
        self._threads = ThreadPoolExecutor(settings.workers, "worker")
        self._jobs: dict[Asked, Job] = {}
        self._line: Line[Job] = Line(settings.most_waiting)
        self.kept = Kept(settings.kept_answers_bytes)
        self._running: set[asyncio.Task[None]] = set()
        self._starting: list[asyncio.Future[object]] = []

    def start(self) -> None:
        """Begin to start the processes; light pages are answered meanwhile."""
        loop = asyncio.get_running_loop()
        self._starting = [loop.run_in_executor(self._threads, _load, worker) for worker in self._workers]

    @property
    def is_started(self) -> bool:
        """Whether a process has loaded the program; so too where none was asked to."""
        return not self._starting or any(one.done() for one in self._starting)

    async def started(self) -> None:
        """Wait until a process has loaded the program, `start_s` at most."""
        if not self.is_started:
            most_s = self._settings.start_s
            await asyncio.wait(self._starting, timeout=most_s, return_when=asyncio.FIRST_COMPLETED)

    def close(self) -> None:
        """End the processes."""
        for worker in self._workers:
            worker.close()
        self._threads.shutdown(wait=False, cancel_futures=True)

    async def answer(self, asked: Asked, client: str, tell: Tell | None = None) -> Answered:
        """The answer, kept or computed; `tell` is called with the lines told before it.

        Raises Problem 429 where too many wait, 503 where it is overdue.
        """
        kept = self.kept.look_up(asked)
        if kept is not None:
            return kept
        job = self._jobs.get(asked) or self._joined(asked, client)
        job.askers += 1
        job.listeners += [tell] if tell else []
        try:
            return await asyncio.shield(job.answer)
        finally:
            job.askers -= 1
            if not job.askers:
                self._left_alone(job)

    def _joined(self, asked: Asked, client: str) -> Job:
        loop = asyncio.get_running_loop()
        job = self._jobs[asked] = Job(asked, client, asked.recipe, loop.create_future())
        job.timers.append(loop.call_later(self._settings.wait_for_a_place_s, self._turn_away, job))
        leaves = self._line.add(job)
        if leaves is not None:
            self._settle(leaves, _busy())
        self._dispatch()
        return job

    def _turn_away(self, job: Job) -> None:
        self._line.remove(job)
        self._settle(job, _busy())

    def _left_alone(self, job: Job) -> None:
        """Nobody waits any more: out of the line, or ended in a while if nobody comes back to it."""
        if job.answer.done():
            return
        if job.worker is None:
            self._line.remove(job)
            self._settle(job, _busy())
            return
        end = asyncio.get_running_loop().call_later
        job.timers.append(end(self._settings.left_alone_s, lambda: None if job.askers else job.end()))

    def _heard(self, job: Job, line: bytes) -> None:
        """Hand a line on. Who tells how far it is has the whole time again until its next line."""
        if job.askers and not job.answer.done():
            for timer in job.timers:
                timer.cancel()
            job.timers = [asyncio.get_running_loop().call_later(self._settings.answer_s, job.end)]
        for tell in job.listeners:
            tell(line)

    def _settle(self, job: Job, outcome: Answered | Problem) -> None:
        """Give all who wait for a job their answer."""
        for timer in job.timers:
            timer.cancel()
        self._jobs.pop(job.asked, None)
        if isinstance(outcome, Problem):
            job.answer.set_exception(outcome)
            job.answer.exception()
        else:
            job.answer.set_result(outcome)

    def _dispatch(self) -> None:
        while self._idle:
            job = self._line.next(self._may_go)
            if job is None:
                return
            worker = next((w for w in self._idle if w.recipe == job.recipe), self._idle[0])
            self._idle.remove(worker)
            worker.recipe, job.worker = job.recipe, worker
            job.timers.pop().cancel()
            task = asyncio.ensure_future(self._run(job, worker))
            self._running.add(task)
            task.add_done_callback(self._running.discard)

    def _may_go(self, job: Job) -> bool:
        """A recipe that is at a worker waits for that one."""
        return all(worker in self._idle or worker.recipe != job.recipe for worker in self._workers)

    async def _run(self, job: Job, worker: Worker) -> None:
        loop = asyncio.get_running_loop()
        job.timers.append(loop.call_later(self._settings.answer_s, job.end))

        def heard(line: bytes) -> None:
            loop.call_soon_threadsafe(self._heard, job, line)

        outcome: Answered | Problem
        try:
            found = await loop.run_in_executor(self._threads, worker.answer, job.asked, heard)
            self.kept.keep(job.asked, found)
            outcome = found
        except Ended:
            told = f"no answer within {self._settings.answer_s:g} seconds" if job.ended_here else DIED
            outcome = Problem(503, told, headers={"Retry-After": "10"})
        self._settle(job, outcome)
        self._idle.append(worker)
        self._dispatch()
