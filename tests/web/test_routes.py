"""Every address of the service answers as the contract says."""

import re
import tomllib
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urljoin, urlsplit

import pytest
from browser_form import recipe_of
from starlette.testclient import TestClient

from web.app import create_app
from web.http.address import encode
from web.http.links import SHEET_KINDS
from web.settings import Settings

PAGES = [
    "/",
    "/design",
    "/steels",
    "/steels?q=108",
    "/steels/1084",
    "/state",
    "/methods",
    "/glossary",
    "/pyrometer",
    "/docs",
    "/state?steel=1084&temperature=800",
    "/pyrometer?reading=800&set=0.9&true=0.8",
]
WITH_RECIPE = ["/plan", "/design", *(f"/sheet/{kind}" for kind in SHEET_KINDS)]


@pytest.mark.parametrize("path", PAGES)
def test_pages_answer(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert answer.text.startswith("<!doctype html>")


@pytest.mark.parametrize("path", WITH_RECIPE)
def test_pages_of_a_recipe_answer(client: TestClient, recipe: dict[str, Any], path: str) -> None:
    answer = client.get(path, params={"r": encode(recipe)})
    assert answer.status_code == 200
    assert "Reed bed, kitchen bar" in answer.text


@pytest.mark.parametrize("path", [*PAGES, "/plan", "/sheet/forge"])
def test_every_link_keeps_the_units(client: TestClient, recipe: dict[str, Any], path: str) -> None:
    asked = {"units": "inch", "r": encode(recipe), **dict(parse_qsl(urlsplit(path).query))}
    page = client.get(urlsplit(path).path, params=asked).text
    linked = [unescape(link) for link in re.findall(r'<a [^>]*href="([^"#][^"]*)"', page)]
    pages = [urljoin(urlsplit(path).path, link) for link in linked if not link.startswith("http")]
    own = [link for link in pages if not link.startswith(("/static", "/openapi.json", "/plan.json"))]
    assert own
    without = [link for link in own if "units=inch" not in link]
    assert len(without) <= 1, without
    assert all(link.startswith(urlsplit(path).path) for link in without), "only the switch may drop them"


def test_head_answers_as_get_without_a_body(client: TestClient) -> None:
    answer = client.head("/")
    assert answer.status_code == 200


def test_the_page_and_its_twin_come_from_one_report(client: TestClient, recipe: dict[str, Any]) -> None:
    asked = {"r": encode(recipe)}
    page, twin = client.get("/plan", params=asked), client.get("/plan.json", params=asked)
    posted = client.post("/api/plan", json=recipe)
    assert twin.json() == posted.json()
    assert twin.headers["content-type"] == "application/json"
    assert twin.json()["recipe_id"] in page.text
    assert f"plan.json?r={encode(recipe)}" in page.headers["link"]


def test_every_example_recipe_has_its_plan(client: TestClient, settings: Settings) -> None:
    files = sorted(settings.recipes.glob("*.toml"))
    home = client.get("/").text
    for file in files:
        assert f'"recipes/{file.stem}"' in home
        answer = client.get(f"/recipes/{file.stem}")
        assert answer.status_code == 303
        sent = recipe_of(answer.headers["location"])
        assert sent["title"] == tomllib.loads(file.read_text())["title"]
        assert client.get(urljoin(str(answer.url), answer.headers["location"])).status_code == 200


@pytest.mark.parametrize("name", ["nothing", "..%2Fpyproject", "%2e%2e%2fREADME", ".toml"])
def test_no_other_file_is_an_example(client: TestClient, name: str) -> None:
    assert client.get(f"/recipes/{name}").status_code == 404


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_sheets_as_text(client: TestClient, recipe: dict[str, Any], kind: str) -> None:
    answer = client.get(f"/sheet/{kind}.txt", params={"r": encode(recipe)})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/plain; charset=utf-8"


def test_there_is_no_other_sheet(client: TestClient, recipe: dict[str, Any]) -> None:
    for path in ("/sheet/secret", "/sheet/secret.txt", "/sheet/forge.pdf"):
        assert client.get(path, params={"r": encode(recipe)}).status_code == 404


@pytest.mark.parametrize("kind", SHEET_KINDS)
@pytest.mark.parametrize("shared", [True, False])
def test_links_on_paper(settings: Settings, recipe: dict[str, Any], kind: str, shared: bool) -> None:
    """None without a public address; for others only where the recipe is shared."""
    recipe["sheet"]["share_recipe"] = shared
    asked = {"r": encode(recipe)}
    at_home = TestClient(create_app(settings)).get(f"/sheet/{kind}", params=asked).text
    assert "https://forge.example" not in at_home
    assert 'class="qr' not in at_home
    public = Settings(recipes=settings.recipes, public_url="https://forge.example/")
    paper = TestClient(create_app(public)).get(f"/sheet/{kind}", params=asked).text
    expected = shared or kind in ("forge", "harden", "kiln")
    assert (f"https://forge.example/plan?r={encode(recipe)}" in unescape(paper)) == expected
    assert ('class="qr' in paper) == expected


def test_static_files_and_nothing_beside_them(client: TestClient) -> None:
    assert client.get("/static/bench.js").status_code == 200
    assert client.get("/static/vendor/swagger/LICENSE").status_code == 200
    assert client.get("/static/../app.py").status_code == 404
    assert client.get("/static/%2e%2e/app.py").status_code == 404


def test_pages_refer_to_files_that_exist(client: TestClient, recipe: dict[str, Any]) -> None:
    folder = Path(__file__).resolve().parent.parent.parent / "web"
    for path in [*PAGES, *WITH_RECIPE]:
        page = client.get(path, params={**dict(parse_qsl(urlsplit(path).query)), "r": encode(recipe)}).text
        for file in re.findall(r'(?:src|href)="(/static/[^"]+)"', page):
            assert (folder / file.lstrip("/")).is_file(), (path, file)


def test_the_furnace_programme_as_csv(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.get("/sheet/kiln.csv", params={"r": encode(recipe)})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert answer.text.startswith("job,segment,rate_k_h,to_c,hold_min,note")
    page = client.get("/sheet/kiln", params={"r": encode(recipe)}).text
    assert "/sheet/kiln.csv" in page
