"""No request may be too long, too large or too slow, whatever it claims of itself."""

import asyncio
import threading
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from starlette.testclient import TestClient
from starlette.types import Message, Scope

from billet import ToolFault
from web.app import create_app
from web.calculation import Calculator
from web.http.address import encode
from web.http.problems import Problem
from web.settings import Settings

JSON = {"content-type": "application/json"}


def problem_of(answer: Any) -> dict[str, Any]:
    assert answer.headers["content-type"] == "application/problem+json"
    body: dict[str, Any] = answer.json()
    assert set(body) == {"type", "title", "status", "detail", "errors"}
    assert body["status"] == answer.status_code
    return body


def test_a_body_of_64_kib_is_read_and_one_byte_more_is_not(client: TestClient) -> None:
    at_limit = b'{"title": "' + b"a" * (65536 - 13) + b'"}'
    assert client.post("/api/plan", content=at_limit, headers=JSON).status_code == 422
    over = client.post("/api/plan", content=at_limit + b" ", headers=JSON)
    assert over.status_code == 413
    assert "64 KiB" in problem_of(over)["detail"]


def test_three_megabytes_are_refused(client: TestClient) -> None:
    assert client.post("/api/plan", content=b"x" * 3_000_000, headers=JSON).status_code == 413
    assert client.post("/design", data={"title": "x" * 3_000_000}).status_code == 413
    assert client.post("/upload", files={"file": b"x" * 3_000_000}).status_code == 413


def test_a_body_in_parts_without_a_length_is_counted(client: TestClient) -> None:
    def parts() -> Iterator[bytes]:
        for _ in range(70):
            yield b"x" * 1024

    answer = client.post("/api/plan", content=parts(), headers=JSON)
    assert "content-length" not in answer.request.headers
    assert answer.status_code == 413


def test_of_an_endless_body_only_so_much_is_taken(settings: Settings) -> None:
    """The sender never stops; the service does."""
    taken = 0
    sent: list[Message] = []

    async def receive() -> Message:
        nonlocal taken
        taken += 65536
        return {"type": "http.request", "body": b"x" * 65536, "more_body": True}

    async def send(message: Message) -> None:
        sent.append(message)

    scope: Scope = {
        "type": "http",
        "method": "POST",
        "path": "/api/plan",
        "raw_path": b"/api/plan",
        "query_string": b"",
        "headers": [(b"content-type", b"application/json"), (b"content-length", b"2")],
        "http_version": "1.1",
        "scheme": "http",
        "server": ("test", 80),
        "client": ("test", 1),
        "root_path": "",
        "asgi": {"version": "3.0"},
    }
    asyncio.run(create_app(settings)(scope, receive, send))
    assert sent[0]["status"] == 413
    assert taken < 9 * 1024 * 1024


@pytest.mark.parametrize("path", ["/", "/plan", "/plan.json", "/api/steels", "/static/docs.js"])
def test_an_address_over_4_kib_is_refused(client: TestClient, path: str) -> None:
    assert client.get(f"{path}?x=" + "a" * 4095).status_code == 414
    assert client.get(f"{path}?x=" + "a" * 60_000).status_code == 414
    assert client.get(f"{path}?x=" + "a" * 4000).status_code != 414


def test_a_path_may_not_be_endless(client: TestClient) -> None:
    assert client.get("/steels/" + "a" * 2000).status_code == 414


def test_an_answer_that_takes_too_long_is_given_up(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on = threading.Event()

    def slow(self: Calculator, mapping: Any) -> Any:
        go_on.wait(20)
        raise AssertionError("nobody waits for this")

    monkeypatch.setattr(Calculator, "report", slow)
    with TestClient(create_app(replace(settings, answer_s=0.2)), raise_server_exceptions=False) as client:
        answer = client.post("/api/plan", json={})
        go_on.set()
        assert answer.status_code == 503
        assert problem_of(answer)["detail"] == "no answer within 0.2 seconds"
        assert answer.headers["retry-after"] == "10"
        assert "content-security-policy" in answer.headers
        assert client.get("/api/steels?q=1084").status_code == 200


def test_a_law_that_the_tool_broke_is_told_as_its_own_fault(
    client: TestClient,
    monkeypatch: pytest.MonkeyPatch,
    recipe: dict[str, Any],
    caplog: pytest.LogCaptureFixture,
) -> None:
    def broken(self: Calculator, mapping: Any) -> Any:
        raise ToolFault("a fire added carbon, which none does")

    monkeypatch.setattr(Calculator, "report", broken)
    answer = client.post("/api/plan", json=recipe)
    assert answer.status_code == 422
    assert "a fault of the tool, not of your recipe: a fire added carbon" in problem_of(answer)["detail"]
    assert "a fire added carbon" in caplog.text and recipe["title"] not in caplog.text
    page = client.get("/plan", params={"r": encode(recipe)})
    assert page.status_code == 422 and "a fault of the tool, not of your recipe" in page.text


def test_only_so_many_are_computed_at_once(
    settings: Settings, monkeypatch: pytest.MonkeyPatch, recipe: dict[str, Any]
) -> None:
    running, go_on = threading.Event(), threading.Event()

    def slow(mapping: Any) -> Any:
        running.set()
        go_on.wait(20)
        raise Problem(422, "enough")

    monkeypatch.setattr("web.calculation.plan", slow)
    calculator = Calculator(replace(settings, calculations_at_once=1, wait_for_a_place_s=0.05))

    def first_bar() -> None:
        with pytest.raises(Problem, match="enough"):
            calculator.report(recipe)

    first = threading.Thread(target=first_bar)
    first.start()
    assert running.wait(5)
    with pytest.raises(Problem) as busy:
        calculator.report({"title": "another"})
    go_on.set()
    first.join(5)
    assert busy.value.status == 429
    assert busy.value.headers["Retry-After"]


def test_a_place_is_given_back_after_a_refusal(settings: Settings) -> None:
    calculator = Calculator(replace(settings, calculations_at_once=1, wait_for_a_place_s=0.05))
    for _ in range(3):
        with pytest.raises(Problem) as refused:
            calculator.report_or_problem({})
        assert refused.value.status == 422


def test_reports_are_kept_and_the_oldest_fall_out(settings: Settings, recipe: dict[str, Any]) -> None:
    calculator = Calculator(replace(settings, kept_reports=2))
    first = calculator.report(recipe)
    assert calculator.report(dict(reversed(recipe.items()))) is first
    calculator.report({**recipe, "title": "second"})
    calculator.report({**recipe, "title": "third"})
    assert calculator.report(recipe) is not first


@pytest.mark.parametrize(
    "content",
    [
        b"[" * 20_000,
        b'{"a":' * 10_000,
        b"1" * 5000,
        b'{"stack": {"width_mm": ' + b"1" * 5000 + b"}}",
        b'{"format": NaN}',
        b'{"stack": {"width_mm": Infinity, "count": -Infinity}}',
        b'{"title": "\\ud800"}',
        b'{"steps": [{"do": "weld", "minutes": 1e999}]}',
        b"null",
        b'"recipe"',
        b"\xff\x00",
        b"",
    ],
    ids=lambda content: content[:12].decode("latin-1"),
)
def test_hostile_json_is_refused_in_words(client: TestClient, content: bytes) -> None:
    answer = client.post("/api/plan", content=content, headers=JSON)
    assert answer.status_code in (400, 422)
    assert problem_of(answer)["errors"]
    assert len(answer.content) < 5000


def test_nan_and_infinity_are_refused_with_their_place(client: TestClient, recipe: dict[str, Any]) -> None:
    import json

    recipe["stack"]["width_mm"] = float("nan")
    recipe["steps"][1]["minutes"] = float("inf")
    answer = client.post("/api/plan", content=json.dumps(recipe), headers=JSON)
    assert answer.status_code == 422
    assert [e["where"] for e in problem_of(answer)["errors"]] == ["stack.width_mm", "steps[1].minutes"]
