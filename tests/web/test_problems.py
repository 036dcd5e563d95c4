"""Refusals: one body, the same words on pages, the headers of the framework kept."""

import logging
from typing import Any

import pytest
from starlette.testclient import TestClient

from web.calculation import Calculator
from web.http.address import encode
from web.http.json_answer import JsonAnswer
from web.http.security import HEADERS

PAGE = {"accept": "text/html,application/xhtml+xml"}


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/api/nothing", 404),
        ("GET", "/api/plan", 405),
        ("DELETE", "/api/steels", 405),
        ("POST", "/plan.json", 405),
        ("GET", "/plan.json", 400),
        ("GET", "/plan.json?r=%20", 400),
        ("POST", "/api/plan", 415),
        ("GET", "/api/state", 422),
    ],
)
def test_the_interface_refuses_with_one_body(client: TestClient, method: str, path: str, status: int) -> None:
    answer = client.request(method, path)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"
    body = answer.json()
    assert set(body) == {"type", "title", "status", "detail", "errors"}
    assert body["status"] == status
    assert body["detail"]


def test_a_wrong_method_is_told_the_right_one(client: TestClient) -> None:
    assert client.get("/api/plan").headers["allow"] == "POST"
    assert "GET" in client.delete("/plan").headers["allow"]


def test_a_bad_recipe_lists_its_faults(client: TestClient, recipe: dict[str, Any]) -> None:
    recipe["steps"][0]["minutes"] = "twelve"
    recipe["steels"]["dark"] = 1084
    answer = client.post("/api/plan", json=recipe)
    assert answer.status_code == 422
    assert answer.headers["content-type"] == "application/problem+json"
    assert {error["where"] for error in answer.json()["errors"]} == {"steps[0].minutes", "steels.dark"}
    assert all(set(error) == {"where", "message"} for error in answer.json()["errors"])


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""]
)
def test_other_content_is_not_taken(client: TestClient, kind: str) -> None:
    answer = client.post("/api/plan", content=b"{}", headers={"content-type": kind} if kind else {})
    assert answer.status_code == 415


def test_json_with_a_charset_is_json(client: TestClient, recipe: dict[str, Any]) -> None:
    import json

    headers = {"content-type": "Application/JSON; charset=utf-8"}
    assert client.post("/api/plan", content=json.dumps(recipe), headers=headers).status_code == 200


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("/nothing", 404),
        ("/plan", 400),
        ("/plan?r=abc", 400),
        ("/sheet/forge", 400),
        ("/steels/zzz", 404),
        ("/design?units=ell", 400),
        ("/recipes/none", 404),
    ],
)
def test_pages_are_refused_as_pages(client: TestClient, path: str, status: int) -> None:
    answer = client.get(path, headers=PAGE)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert "<h1" in answer.text


def test_the_page_of_a_refusal_has_the_words_of_the_interface(client: TestClient) -> None:
    told = client.get("/plan.json?r=abcd").json()
    assert told["detail"] in client.get("/plan?r=abcd", headers=PAGE).text


def test_a_program_that_asks_for_json_gets_it_from_pages_too(client: TestClient) -> None:
    answer = client.get("/plan?r=abc", headers={"accept": "application/json"})
    assert answer.headers["content-type"] == "application/problem+json"


def test_what_comes_in_does_not_come_out_as_markup(client: TestClient, recipe: dict[str, Any]) -> None:
    evil = "<script>alert(1)</script>"
    recipe["title"] = evil
    recipe["sheet"]["maker"] = evil
    recipe["steps"][0]["note"] = evil
    recipe["steels"] = {evil[:40]: "1084", "bright": '"><img src=x>'}
    for path in ("/design", "/plan"):
        assert evil not in client.get(path, params={"r": encode(recipe)}).text
    for path in (f"/steels?q={evil}", f"/steels/{evil}", f"/state?steel={evil}&temperature={evil}"):
        assert evil not in client.get(path).text


def test_an_unexpected_fault_is_logged_and_not_shown(
    client: TestClient,
    recipe: dict[str, Any],
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    def broken(self: Calculator, mapping: Any) -> Any:
        raise RuntimeError("a secret of the house")

    monkeypatch.setattr(Calculator, "report", broken)
    with caplog.at_level(logging.ERROR, "web"):
        answer = client.post("/api/plan", json=recipe)
        page = client.get("/plan", params={"r": encode(recipe)}, headers=PAGE)
    assert answer.status_code == page.status_code == 500
    assert answer.headers["content-type"] == "application/problem+json"
    assert "secret" not in answer.text + page.text
    assert "a secret of the house" in caplog.text
    assert answer.headers["content-security-policy"]


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/"),
        ("GET", "/nothing"),
        ("GET", "/plan.json"),
        ("POST", "/api/plan"),
        ("GET", "/static/docs.js"),
        ("DELETE", "/"),
        ("GET", "/?" + "a" * 5000),
        ("GET", "/openapi.json"),
        ("GET", "/docs"),
    ],
)
def test_security_headers_stand_on_every_answer(client: TestClient, method: str, path: str) -> None:
    answer = client.request(method, path)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value
    policy = answer.headers["content-security-policy"]
    assert "unsafe" not in policy and "http" not in policy
    assert policy.startswith(
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src"
    )
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert answer.headers["cross-origin-opener-policy"] == "same-origin"


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/design",
        "/steels",
        "/steels/1084",
        "/methods",
        "/glossary",
        "/state",
        "/pyrometer",
        "/docs",
    ],
)
def test_pages_hold_nothing_inline_and_nothing_foreign(client: TestClient, path: str) -> None:
    page = client.get(path).text
    assert " style=" not in page
    assert "<style" not in page
    assert "<script>" not in page
    assert " onclick=" not in page and " onload=" not in page
    assert 'src="http' not in page and "src='http" not in page
    assert '<link rel="stylesheet" href="http' not in page


def test_no_answer_holds_a_number_that_json_has_not() -> None:
    assert JsonAnswer({"steel": "NaN", "wt": [0.25, None]}).body == b'{"steel":"NaN","wt":[0.25,null]}'
    for figure in (float("nan"), float("inf")):
        with pytest.raises(ValueError, match="not JSON compliant"):
            JsonAnswer({"wt": figure})
