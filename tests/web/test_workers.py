"""Answers made in worker processes: the same as in one process, shared, ended in time, fair."""

import asyncio
import os
import re
import signal
import threading
import time
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, replace
from typing import Any

import pytest
from starlette.testclient import TestClient

from web.app import create_app
from web.http.address import encode
from web.http.problems import Problem
from web.settings import Settings
from web.workers.kept import Kept
from web.workers.line import Line
from web.workers.messages import Answered, Asked
from web.workers.pool import Pool
from web.workers.worker import Ended, Worker

PATIENT_S = 60.0


def asked(path: str = "/plan", query: str = "", body: bytes = b"") -> Asked:
    return Asked("GET", path, "", query.encode(), (), body)


@pytest.fixture(scope="module")
def in_workers(settings: Settings) -> Iterator[TestClient]:
    patient = replace(settings, workers=2, answer_s=PATIENT_S, wait_for_a_place_s=PATIENT_S)
    with TestClient(create_app(patient), raise_server_exceptions=False, follow_redirects=False) as started:
        yield started


def digits_of_print(text: str) -> str:
    """Numbers of many digits to twelve: workers sum on one thread, and the last digits follow the threads."""
    return re.sub(r"-?\d+\.\d{9,}(?:e-?\d+)?", lambda found: f"{float(found[0]):.12g}", text)


@pytest.mark.parametrize("path", ["/plan", "/plan.json", "/study", "/uncertainty", "/sheet/forge", "/design"])
def test_answers_are_those_of_one_process(
    in_workers: TestClient, client: TestClient, recipe: dict[str, Any], path: str
) -> None:
    address = {"r": encode(recipe)}
    there, here = in_workers.get(path, params=address), client.get(path, params=address)
    assert (there.status_code, digits_of_print(there.text)) == (200, digits_of_print(here.text))
    assert there.headers["content-security-policy"] == here.headers["content-security-policy"]
    assert there.headers.get("link") == here.headers.get("link")
    assert in_workers.get(path, params=address).content == there.content


def test_the_first_page_shows_the_same_bars(in_workers: TestClient, client: TestClient) -> None:
    """Each process shows the answers that it has so far; the bars and their links are the same."""
    there, here = (re.findall(r'href="(recipes/\w+)"', one.get("/").text) for one in (in_workers, client))
    assert there == here and len(here) >= 14


@pytest.mark.parametrize(
    "path",
    ["/health", "/steels", "/static/sheet.css", "/recipes/three_winds", "/nowhere", "/plan", "/state"],
)
def test_light_answers_and_refusals_are_those_of_one_process(
    in_workers: TestClient, client: TestClient, path: str
) -> None:
    for _ in range(2):
        there, here = in_workers.get(path), client.get(path)
        assert (there.status_code, there.content) == (here.status_code, here.content)


def test_forms_files_and_refused_recipes_pass(in_workers: TestClient, recipe: dict[str, Any]) -> None:
    assert in_workers.post("/api/plan", json=recipe).status_code == 200
    assert in_workers.post("/api/plan", json={}).status_code == 422
    assert in_workers.post("/upload", files={"file": b"format = 1"}).status_code == 303
    assert in_workers.post("/design", data={"action": "plan"}).status_code in (200, 303)
    assert in_workers.head("/plan", params={"r": encode(recipe)}).content == b""
    plain = in_workers.get("/steels", headers={"accept-encoding": "gzip;q=0"})
    assert "content-encoding" not in plain.headers


@dataclass
class Told:
    """What stands in for the processes: each request ends when it is told to."""

    begun: list[Asked]
    ended: list[Worker]
    slow: bool = True
    ends: int = 0
    lines: int = 0
    """Lines told before each answer, one in a fiftieth of a second."""


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> Told:
    told = Told([], [])

    def answer(self: Worker, asked: Asked, tell: Callable[[bytes], None]) -> Answered:
        told.begun.append(asked)
        for number in range(told.lines):
            time.sleep(0.02)
            tell(b"%d" % number)
        while told.slow and self not in told.ended:
            time.sleep(0.005)
        if self in told.ended:
            told.ended.remove(self)
            raise Ended
        return Answered(200, (), asked.query)

    monkeypatch.setattr(Worker, "answer", answer)

    def end(self: Worker) -> None:
        told.ends += 1
        told.ended.append(self)

    monkeypatch.setattr(Worker, "end", end)
    monkeypatch.setattr(Worker, "start", lambda self: None)
    return told


@asynccontextmanager
async def pool_of(settings: Settings, **changed: Any) -> AsyncIterator[Pool]:
    pool = Pool(replace(settings, workers=1, **changed))
    try:
        yield pool
    finally:
        pool.close()


async def until(condition: Any) -> None:
    async with asyncio.timeout(20.0):
        while not condition():
            await asyncio.sleep(0.005)


def test_what_is_asked_by_many_at_once_is_computed_once(settings: Settings, told: Told) -> None:
    async def run() -> None:
        async with pool_of(settings) as pool:
            many = [asyncio.ensure_future(pool.answer(asked(query="r=a"), str(n))) for n in range(200)]
            await until(lambda: told.begun)
            told.slow = False
            answers = await asyncio.gather(*many)
            again = await pool.answer(asked(query="r=a"), "later")
            assert all(answer is answers[0] for answer in [*answers, again])
            assert len(told.begun) == 1

    asyncio.run(run())


def test_what_is_overdue_is_ended_and_told(settings: Settings, told: Told) -> None:
    async def run() -> None:
        async with pool_of(settings, answer_s=0.05) as pool:
            with pytest.raises(Problem, match="no answer within") as overdue:
                await pool.answer(asked(), "a")
            assert (overdue.value.status, overdue.value.headers["Retry-After"]) == (503, "10")
            told.slow = False
            assert (await pool.answer(asked(query="r=b"), "a")).body == b"r=b"

    asyncio.run(run())


def test_each_line_told_gives_the_whole_time_again(settings: Settings, told: Told) -> None:
    async def run() -> None:
        async with pool_of(settings, answer_s=0.25) as pool:
            told.lines, told.slow = 25, False
            heard: list[bytes] = []
            answer = await pool.answer(asked(query="r=a"), "a", heard.append)
            assert answer.body == b"r=a" and heard == [b"%d" % n for n in range(25)]
            told.lines, told.slow = 1, True
            with pytest.raises(Problem, match="no answer within"):
                await pool.answer(asked(query="r=b"), "a", heard.append)

    asyncio.run(run())


def test_what_nobody_waits_for_is_ended_after_a_while(settings: Settings, told: Told) -> None:
    async def run() -> None:
        async with pool_of(settings, left_alone_s=0.05) as pool:
            first = asyncio.ensure_future(pool.answer(asked(query="r=a"), "a"))
            second = asyncio.ensure_future(pool.answer(asked(query="r=b"), "a"))
            await until(lambda: told.begun)
            second.cancel()
            first.cancel()
            await asyncio.sleep(0.0)
            back = asyncio.ensure_future(pool.answer(asked(query="r=a"), "a"))
            await asyncio.sleep(0.1)
            assert told.ends == 0
            back.cancel()
            await until(lambda: told.ends)
            assert [one.query for one in told.begun] == [b"r=a"]

    asyncio.run(run())


def test_who_waits_too_long_is_turned_away(settings: Settings, told: Told) -> None:
    async def run() -> None:
        async with pool_of(settings, wait_for_a_place_s=0.05) as pool:
            first = asyncio.ensure_future(pool.answer(asked(query="r=a"), "a"))
            await until(lambda: told.begun)
            with pytest.raises(Problem) as busy:
                await pool.answer(asked(query="r=b"), "b")
            assert (busy.value.status, busy.value.headers["Retry-After"]) == (429, "5")
            told.slow = False
            await first

    asyncio.run(run())


def test_a_real_process_is_ended_within_its_time_and_another_takes_its_place(
    settings: Settings, recipe: dict[str, Any]
) -> None:
    async def run() -> None:
        async with pool_of(settings, answer_s=PATIENT_S) as pool:
            first = await pool.answer(asked("/plan.json", f"r={encode(recipe)}"), "a")
            assert first.status == 200
            worker = pool._workers[0]
            assert worker._process is not None and worker._process.pid is not None
            os.kill(worker._process.pid, signal.SIGSTOP)
            pool._settings = replace(settings, answer_s=0.3)
            changed = {**recipe, "title": "another"}
            with pytest.raises(Problem, match=r"no answer within 0.3 seconds"):
                await pool.answer(asked("/plan.json", f"r={encode(changed)}"), "a")
            pool._settings = replace(settings, answer_s=PATIENT_S)
            again = await pool.answer(asked("/plan.json", f"r={encode(changed)}"), "a")
            assert b"another" in again.body
            killed = asyncio.ensure_future(pool.answer(asked("/plan", f"r={encode(recipe)}"), "a"))
            await until(lambda: worker.recipe == encode(recipe).encode())
            assert worker._process is not None and worker._process.pid is not None
            assert os.getpriority(os.PRIO_PROCESS, worker._process.pid) > os.getpriority(os.PRIO_PROCESS, 0)
            os.kill(worker._process.pid, signal.SIGKILL)
            with pytest.raises(Problem, match="ended before it answered, as happens") as died:
                await killed
            assert (died.value.status, died.value.headers["Retry-After"]) == (503, "10")

    asyncio.run(run())


def test_right_after_the_start_the_first_plan_waits_for_a_process(
    settings: Settings, told: Told, monkeypatch: pytest.MonkeyPatch
) -> None:
    loaded = threading.Event()
    monkeypatch.setattr(Worker, "start", lambda self: loaded.wait(20.0))

    async def run() -> None:
        async with pool_of(settings) as pool:
            assert pool.is_started
            pool.start()
            assert not pool.is_started
            first = asyncio.ensure_future(pool.started())
            await asyncio.sleep(0.05)
            assert not first.done()
            loaded.set()
            await first
            assert pool.is_started

    asyncio.run(run())


@dataclass(eq=False)
class Waits:
    client: str
    number: int = 0


def test_clients_take_turns() -> None:
    line: Line[Waits] = Line(10)
    for number in range(3):
        line.add(Waits("many", number))
    line.add(Waits("one"))
    gone = [line.next(lambda _: True) for _ in range(4)]
    assert [(w.client, w.number) for w in gone if w] == [("many", 0), ("one", 0), ("many", 1), ("many", 2)]
    assert line.next(lambda _: True) is None
    assert len(line) == 0


def test_where_the_line_is_full_who_has_most_in_it_loses_his_last() -> None:
    line: Line[Waits] = Line(3)
    many = [Waits("many", number) for number in range(3)]
    assert [line.add(each) for each in many] == [None] * 3
    assert line.add(Waits("one")) is many[2]
    more = Waits("many", 4)
    assert line.add(more) is more
    assert len(line) == 3


def test_who_may_not_go_keeps_his_place() -> None:
    line: Line[Waits] = Line(3)
    first, second = Waits("a", 1), Waits("b", 2)
    line.add(first)
    line.add(second)
    assert line.next(lambda waits: waits is second) is second
    assert line.next(lambda _: False) is None
    assert line.next(lambda _: True) is first


def test_answers_are_kept_to_so_many_bytes_and_faults_are_not() -> None:
    kept = Kept(25_000)
    for number in range(4):
        kept.keep(asked(query=f"r={number}"), Answered(200, (), b"x" * 9_000))
    for status in (429, 500, 503):
        kept.keep(asked(query=f"s={status}"), Answered(status, (), b""))
        assert kept.look_up(asked(query=f"s={status}")) is None
    assert [kept.look_up(asked(query=f"r={n}")) is not None for n in range(4)] == [False, False, True, True]
