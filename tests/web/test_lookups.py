"""Steels, the state of a steel, and the pyrometer."""

from html import unescape

import pytest
from starlette.testclient import TestClient

from web.pages import PyrometerQuestion
from web.routes.calculators import _surface_c


def test_steels_are_found_by_any_name(client: TestClient) -> None:
    found = client.get("/api/steels", params={"q": "1084"}).json()
    assert any(steel["designation"] == "1084" for steel in found)
    every = client.get("/api/steels").json()
    assert len(every) > 50
    assert every[0]["nominal"]
    assert client.get("/api/steels", params={"q": "no such thing"}).json() == []


def test_an_unknown_steel_is_not_there(client: TestClient) -> None:
    answer = client.get("/steels/1O84")
    assert answer.status_code == 404
    assert "1O84" in unescape(answer.text)


@pytest.mark.parametrize(
    ("question", "where"),
    [
        ("temperature=800", "steel"),
        ("steel=1084", "temperature"),
        ("steel=1084&C=0.8&temperature=800", "steel"),
        ("steel=zzz&temperature=800", "steel"),
        ("C=much&temperature=800", "C"),
        ("C=0.8&temperature=red", "temperature"),
        ("C=180&temperature=800", "C"),
        ("steel=1084&temperature=800&start=cold", "start"),
    ],
)
def test_a_question_that_cannot_be_answered(client: TestClient, question: str, where: str) -> None:
    answer = client.get(f"/api/state?{question}")
    assert answer.status_code == 422
    assert where in [error["where"] for error in answer.json()["errors"]]
    page = client.get(f"/state?{question}")
    assert page.status_code == 422
    assert answer.json()["errors"][0]["message"] in unescape(page.text)


def test_the_pyrometer_tells_the_surface(client: TestClient) -> None:
    """Set right, the reading is the surface; set too high, the surface is hotter than the reading."""
    right, _ = _surface_c(PyrometerQuestion("800", "0.85", "0.85", "0.9 um", ""))
    wrong, _ = _surface_c(PyrometerQuestion("800", "0.95", "0.85", "0.9 um", ""))
    assert right == pytest.approx(800.0, abs=0.01)
    assert wrong is not None and wrong > 801.0
    assert client.get("/pyrometer?reading=hot&set=1&true=1").status_code == 422
    assert client.get("/pyrometer?reading=800&set=0&true=1").status_code == 422
    assert client.get("/pyrometer?reading=800&set=1&true=1&band=x").status_code == 422
