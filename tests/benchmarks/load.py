"""How the service holds under load: `python tests/benchmarks/load.py [--clients 64] [--seconds 60]`.

Starts the service in a process of its own, as the command does, and beside it a bare route that sends a
page of the size of a plan. First each is asked alone, for the ratios, and the light pages with no plan
beside them; then the clients ask at once: one in four for light pages, the others for plans that nobody
has asked before, as page or as JSON.
Prints one line. Ends with 1 where anything but an answer, or a refusal with the time to come again, came.
"""

import argparse
import asyncio
import json
import os
import socket
import statistics
import subprocess
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))
LIGHT = ("/", "/steels", "/glossary", "/static/sheet.css")
RETRY = (429, 503)
LIGHT_EVERY, QUIET_SHARE = 4, 0.25
ALONE, BARE_TIMES = 25, 400
PATIENCE_S, START_S = 20.0, 120.0
TICKS, PAGE_MB = os.sysconf("SC_CLK_TCK"), os.sysconf("SC_PAGE_SIZE") / 1e6
BARE = """
import sys, uvicorn
from fastapi import FastAPI, Response
app, body = FastAPI(), b"x" * int(sys.argv[2])
@app.get("/")
def page() -> Response:
    return Response(body, media_type="text/html")
uvicorn.run(app, port=int(sys.argv[1]), log_level="error", access_log=False)
"""


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


@contextmanager
def running(command: list[str], port: int) -> Iterator[int]:
    """The process id of a service, once it listens."""
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        until = time.monotonic() + START_S
        while time.monotonic() < until:
            with socket.socket() as tried:
                if tried.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.1)
        yield process.pid
    finally:
        process.terminate()
        process.wait(15.0)


class Recipes:
    """The first example with another width each time: every plan is a new one."""

    def __init__(self) -> None:
        self._recipe = tomllib.loads(sorted((ROOT / "recipes").glob("*.toml"))[0].read_text(encoding="utf-8"))
        self._made = 0

    def new(self) -> dict[str, Any]:
        self._made += 1
        stack = {**self._recipe["stack"], "width_mm": 30.0 + self._made * 0.001}
        return {**self._recipe, "stack": stack}

    def page(self) -> str:
        from web.http.address import encode

        return f"/plan?r={encode(self.new())}"


async def request(
    port: int, method: str, path: str, body: bytes = b"", patience_s: float = PATIENCE_S
) -> tuple[int, bytes, bytes]:
    """Status, head and body of one request on a connection of its own."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    kind = "content-type: application/json\r\n" if body else ""
    length = f"content-length: {len(body)}\r\nconnection: close\r\n\r\n"
    head = f"{method} {path} HTTP/1.1\r\nhost: x\r\n{kind}{length}"
    try:
        writer.write(head.encode() + body)
        async with asyncio.timeout(patience_s):
            whole = await reader.read(-1)
    finally:
        writer.close()
    start, _, content = whole.partition(b"\r\n\r\n")
    return int(start.split(b" ", 2)[1]), start.lower(), content


async def alone(pid: int, ask: Callable[[], Awaitable[Any]], times: int = ALONE) -> float:
    """Processor time of the service for one of some calls one after another, ms; two do not count.

    Processor time, because other work on the machine makes no difference to it.
    """
    for _ in range(2):
        await ask()
    began_s = family(pid).processor_s
    for _ in range(times):
        await ask()
    return (family(pid).processor_s - began_s) / times * 1000.0


class Load:
    """The clients, and what they were answered."""

    def __init__(self, port: int, seconds: float) -> None:
        self.port, self.until = port, time.monotonic() + seconds
        self.recipes = Recipes()
        self.statuses: Counter[int] = Counter()
        self.wrong: list[str] = []
        self.light_ms: list[float] = []
        self.plan_ms: list[float] = []

    async def client(self, number: int) -> None:
        asked = number
        while time.monotonic() < self.until:
            asked += 1
            if number % LIGHT_EVERY == 0:
                await self.ask(self.light_ms, "GET", LIGHT[asked % len(LIGHT)])
                await asyncio.sleep(0.1)
            elif asked % 2:
                await self.ask(self.plan_ms, "GET", self.recipes.page())
            else:
                body = json.dumps(self.recipes.new()).encode()
                await self.ask(self.plan_ms, "POST", "/api/plan", body)

    async def ask(self, taken: list[float], method: str, path: str, body: bytes = b"") -> None:
        began = time.perf_counter()
        try:
            status, head, _ = await request(self.port, method, path, body)
        except (OSError, IndexError, ValueError) as error:
            self.wrong.append(f"{path[:20]}: {error!r}")
            return
        self.statuses[status] += 1
        if status == 200:
            taken.append((time.perf_counter() - began) * 1000.0)
        elif status not in RETRY or b"retry-after" not in head:
            self.wrong.append(f"{path[:20]}: {status}")
        else:
            await asyncio.sleep(0.5)


@dataclass(frozen=True)
class Family:
    """What a process and all its children take."""

    mb: float
    processor_s: float


def family(pid: int) -> Family:
    """Read from /proc, so on Linux only."""
    parents: dict[int, int] = {}
    taken: dict[int, tuple[float, float]] = {}
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            fields = (entry / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue
        parents[int(entry.name)] = int(fields[1])
        ticks = sum(int(field) for field in fields[11:15])
        taken[int(entry.name)] = (int(fields[21]) * PAGE_MB, ticks / TICKS)

    def of_family(one: int) -> bool:
        while one > 1 and one != pid:
            one = parents.get(one, 0)
        return one == pid

    members = [what for one, what in taken.items() if of_family(one)]
    return Family(sum(mb for mb, _ in members), sum(seconds for _, seconds in members))


async def measured(
    port: int, bare_port: int, pid: int, bare_pid: int, clients: int, seconds: float
) -> tuple[str, bool]:
    """The line, and whether all was as it should be."""
    recipes = Recipes()
    kept = recipes.page()
    floor = await alone(bare_pid, lambda: request(bare_port, "GET", "/"), BARE_TIMES)
    new_page = await alone(pid, lambda: request(port, "GET", recipes.page()))
    kept_page = await alone(pid, lambda: request(port, "GET", kept), BARE_TIMES)
    new_json = await alone(
        pid, lambda: request(port, "POST", "/api/plan", json.dumps(recipes.new()).encode())
    )
    quiet = Load(port, seconds * QUIET_SHARE)
    await asyncio.gather(*(quiet.client(number) for number in range(0, clients, LIGHT_EVERY)))
    alone_ms = statistics.quantiles(quiet.light_ms, n=100)
    before_mb = family(pid).mb
    load = Load(port, seconds)
    await asyncio.gather(*(load.client(number) for number in range(clients)))
    after_mb = family(pid).mb
    light = statistics.quantiles(load.light_ms, n=100)
    plans = statistics.quantiles(load.plan_ms, n=100)
    statuses = ", ".join(f"{count} of {status}" for status, count in sorted(load.statuses.items()))
    line = (
        f"{clients} clients, {seconds:g} s: {load.statuses[200] / seconds:.1f} answers/s "
        f"({len(load.plan_ms) / seconds:.1f} new plans), {statuses}, {len(load.wrong)} wrong; "
        f"light p50 {light[49]:.0f} p99 {light[98]:.0f} ms "
        f"(no plans: {alone_ms[49]:.0f} and {alone_ms[98]:.0f}), "
        f"plan p50 {plans[49]:.0f} p99 {plans[98]:.0f} ms; {before_mb:.0f} to {after_mb:.0f} MB; "
        f"bare route {floor:.2f} ms, new page x {new_page / floor:.0f}, kept x {kept_page / floor:.1f}, "
        f"new JSON x {new_json / floor:.0f}"
    )
    return line + "".join(f"\n{wrong}" for wrong in load.wrong[:5]), not load.wrong


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--clients", type=int, default=64)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--page-bytes", type=int, default=133_000, help="size of the bare page")
    parser.add_argument("service", nargs="*", help="what is given to billet-web beside")
    asked = parser.parse_args()
    port, bare_port = free_port(), free_port()
    command = [sys.executable, "-m", "web", "--port", str(port), *asked.service]
    bare = [sys.executable, "-c", BARE, str(bare_port), str(asked.page_bytes)]
    with running(command, port) as pid, running(bare, bare_port) as bare_pid:
        line, right = asyncio.run(measured(port, bare_port, pid, bare_pid, asked.clients, asked.seconds))
    sys.stdout.write(line + "\n")
    return 0 if right else 1


if __name__ == "__main__":
    raise SystemExit(main())
