"""Over a real connection: slow heads, bodies and readers are cut, idle ones closed, too many turned away."""

import logging
import os
import re
import resource
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest
import uvicorn

from web.app import create_app
from web.http import connections
from web.http.access_log import WithoutQuestions, keep_recipes_out_of_the_log
from web.http.address import encode
from web.settings import Settings, settings_from, usual_workers

ROOT = Path(__file__).resolve().parent.parent.parent
WAIT_S = 20.0
CUT_S = 0.4


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


def open_to(port: int) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), timeout=WAIT_S)


def answer_to(port: int, request: bytes, patience_s: float = WAIT_S) -> bytes:
    with open_to(port) as connection:
        connection.settimeout(patience_s)
        connection.sendall(request)
        return to_end(connection)


def to_end(connection: socket.socket) -> bytes:
    parts = []
    try:
        while part := connection.recv(65536):
            parts.append(part)
    except ConnectionResetError:
        pass
    return b"".join(parts)


@pytest.fixture
def server(settings: Settings, monkeypatch: pytest.MonkeyPatch) -> Iterator[uvicorn.Server]:
    """A service whose patience is short."""
    monkeypatch.setattr(connections, "HEAD_S", CUT_S)
    monkeypatch.setattr(connections, "READER_S", CUT_S)
    monkeypatch.setattr(connections, "most_connections", lambda: 20)
    found = free_port()
    config = uvicorn.Config(
        create_app(replace(settings, body_s=CUT_S)),
        port=found, http=connections.Connection, log_level="error", timeout_keep_alive=1,
    )  # fmt: skip
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + WAIT_S
    while not server.started and time.monotonic() < until:
        time.sleep(0.02)
    yield server
    server.should_exit = True
    thread.join(WAIT_S)


@pytest.fixture
def port(server: uvicorn.Server) -> int:
    return server.config.port


GET = b"GET /health HTTP/1.1\r\nhost: x\r\n\r\n"


@pytest.mark.parametrize("begun", [b"", b"GET /he", b"GET /health HTTP/1.1\r\nhost: x\r\n", GET + b"GET /he"])
def test_a_head_that_does_not_come_is_not_waited_for(port: int, begun: bytes) -> None:
    began = time.monotonic()
    told = answer_to(port, begun)
    assert CUT_S / 2 < time.monotonic() - began < WAIT_S / 2
    assert told.count(b"200 OK") == begun.count(GET)


def test_a_head_in_drops_is_cut_too(port: int) -> None:
    with open_to(port) as connection, pytest.raises((BrokenPipeError, ConnectionResetError)):
        for _ in range(100):
            connection.sendall(b"GET /"[:1])
            time.sleep(0.05)


def test_a_body_that_does_not_come_is_refused(port: int) -> None:
    head = b"POST /api/plan HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n"
    told = answer_to(port, head + b"content-length: 100\r\n\r\n{")
    assert told.startswith(b"HTTP/1.1 408 ")
    assert b"must be here within 0.4 seconds" in told


def test_a_reader_that_does_not_read_is_let_go(server: uvicorn.Server) -> None:
    large = b"GET /static/vendor/swagger/swagger-ui-bundle.js HTTP/1.1\r\nhost: x\r\n\r\n"
    with open_to(server.config.port) as connection:
        connection.sendall(large * 20)
        until = time.monotonic() + WAIT_S
        while server.server_state.total_requests == 0 or server.server_state.connections:
            assert time.monotonic() < until
            time.sleep(0.05)


def test_idle_connections_beyond_the_most_are_closed_and_pages_go_on(port: int) -> None:
    with ExitStack() as stack:
        idle = [stack.enter_context(open_to(port)) for _ in range(60)]
        closed = [each for each in idle[30:] if to_end(each) == b""]
        assert len(closed) == 30
        time.sleep(2 * CUT_S)
        assert b"200 OK" in answer_to(port, GET)


@dataclass
class Served:
    port: int
    pid: int
    log: Path


@contextmanager
def served(tmp_path: Path, *arguments: str, descriptors: int | None = None) -> Iterator[Served]:
    """The command itself, with all warnings errors, in its own processes."""
    port, log = free_port(), tmp_path / "log"

    def limited() -> None:
        if descriptors is not None:
            resource.setrlimit(resource.RLIMIT_NOFILE, (descriptors, descriptors))

    with log.open("wb") as stream:
        running = subprocess.Popen(
            [sys.executable, "-W", "error", "-m", "web", "--port", str(port), *arguments],
            cwd=ROOT, stdout=stream, stderr=stream, preexec_fn=limited,
        )  # fmt: skip
        try:
            until = time.monotonic() + 4 * WAIT_S
            while True:
                try:
                    answer_to(port, GET.replace(b"host: x", b"host: x\r\nconnection: close"))
                    break
                except ConnectionRefusedError:
                    assert time.monotonic() < until and running.poll() is None, log.read_text()
                    time.sleep(0.1)
            yield Served(port, running.pid, log)
        finally:
            running.terminate()
            running.wait(WAIT_S)


def get(path: str, *headers: str) -> bytes:
    return "\r\n".join([f"GET {path} HTTP/1.1", "host: x", "connection: close", *headers, "", ""]).encode()


def test_it_holds_with_few_descriptors_and_many_idle_connections(tmp_path: Path) -> None:
    with served(tmp_path, "--workers", "0", descriptors=256) as service, ExitStack() as stack:
        for _ in range(300):
            try:
                stack.enter_context(open_to(service.port))
            except OSError:
                break
        began, spent = time.monotonic(), processor_s(service.pid)
        time.sleep(1.0)
        assert processor_s(service.pid) - spent < 0.5 * (time.monotonic() - began)
        assert service.log.stat().st_size < 100_000
        until = time.monotonic() + WAIT_S
        while b"200 OK" not in answered_or_nothing(service.port):
            assert time.monotonic() < until
            time.sleep(0.2)


def answered_or_nothing(port: int) -> bytes:
    try:
        return answer_to(port, get("/health"))
    except OSError:
        return b""


def processor_s(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def test_workers_answer_end_with_the_service_and_no_recipe_is_logged(
    tmp_path: Path, recipe: dict[str, Any]
) -> None:
    coded = encode(recipe)
    with served(tmp_path, "--workers", "2") as service:
        told = answer_to(service.port, get(f"/plan.json?r={coded}"), 4 * WAIT_S)  # waits for a process
        assert told.startswith(b"HTTP/1.1 200 ")
        family = children_of(service.pid)
        assert len(family) >= 3
    logged = service.log.read_text()
    assert '"GET /plan.json HTTP/1.1" 200' in logged
    assert coded[:40] not in logged
    assert "Traceback" not in logged
    until = time.monotonic() + WAIT_S
    while any(lives(pid) for pid in family):
        assert time.monotonic() < until
        time.sleep(0.1)


def children_of(pid: int) -> set[int]:
    """All that were started by a process, and by those."""
    told = subprocess.run(["ps", "-eo", "pid=,ppid="], capture_output=True, text=True, check=True).stdout
    parents = {int(one): int(parent) for one, parent in (line.split() for line in told.splitlines())}
    found, more = set[int](), {pid}
    while more:
        more = {one for one, parent in parents.items() if parent in more}
        found |= more
    return found


def lives(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def test_it_is_shown_under_a_path_by_a_proxy(tmp_path: Path) -> None:
    """The proxy takes the path away and says who asks; what it is not told to believe it does not."""
    with served(tmp_path, "--workers", "0", "--prefix", "/billet", "--proxy", "127.0.0.1") as service:
        for path in ("/", "/steels", "/static/sheet.css", "/design", "/health"):
            told = answer_to(service.port, get(path, "x-forwarded-for: 192.0.2.7"))
            assert told.startswith(b"HTTP/1.1 200 "), path
    assert '192.0.2.7:0 - "GET' in service.log.read_text()


def test_recipes_stay_out_of_the_log_whatever_the_rest() -> None:
    keep_recipes_out_of_the_log()
    keep_recipes_out_of_the_log()
    filters = [f for f in logging.getLogger("uvicorn.access").filters if isinstance(f, WithoutQuestions)]
    assert len(filters) == 1
    args = ("127.0.0.1:1", "GET", "/plan?r=abc&units=inch", "1.1", 200)
    record = logging.LogRecord("uvicorn.access", logging.INFO, "", 0, '%s "%s %s HTTP/%s" %d', args, None)
    assert filters[0].filter(record)
    assert record.getMessage() == '127.0.0.1:1 "GET /plan HTTP/1.1" 200'
    plain = logging.LogRecord("uvicorn.access", logging.INFO, "", 0, "started", None, None)
    assert filters[0].filter(plain) and plain.getMessage() == "started"


def test_a_process_manager_sets_it_by_the_environment(tmp_path: Path) -> None:
    url = "https://forge.example"
    told = {"BILLET_RECIPES": str(tmp_path), "BILLET_PUBLIC_URL": url, "BILLET_WORKERS": "3"}
    settings = settings_from(told)
    assert (settings.recipes, settings.public_url, settings.workers) == (tmp_path, url, 3)
    assert settings_from({}).workers == usual_workers() >= 2
    with pytest.raises(ValueError, match="BILLET_WORKERS must be a whole number"):
        settings_from({"BILLET_WORKERS": "many"})


def test_health_takes_no_plan_and_is_not_kept(client: Any) -> None:
    answer = client.get("/health")
    assert answer.json()["status"] == "ok"
    assert re.fullmatch(r"\d+\.\d+\.\d+.*", answer.json()["version"])
    assert answer.headers["cache-control"] == "no-store"
