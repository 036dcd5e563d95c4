"""The service under a path prefix: every link of every page stays inside it and leads somewhere."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import urljoin, urlsplit

import pytest
from browser_form import Form
from starlette.applications import Starlette
from starlette.routing import Mount
from starlette.testclient import TestClient

from web.app import create_app
from web.http.address import encode
from web.settings import Settings

PREFIX = "/forge/bars"
HOST = "http://testserver"
ADDRESS = re.compile(r'(?:href|src|action|data-preview|data-address)="([^"#]*)[^"]*"')
OF_FORMS = ("/upload", "/design/preview", "/plan")
"""What forms lead to with what they send; without it there is nothing to answer."""
PAGES = (
    "/", "/design", "/design?start=twist", "/steels", "/steels/1084", "/scrap", "/state", "/methods",
    "/glossary", "/pyrometer", "/docs",
)  # fmt: skip
OF_A_RECIPE = (
    "/design", "/plan", "/study", "/uncertainty", "/sheet/forge", "/sheet/harden", "/sheet/kiln",
    "/sheet/buyer", "/sheet/label",
)  # fmt: skip


@pytest.fixture(scope="module")
def below(settings: Settings) -> Iterator[TestClient]:
    """The service mounted under the prefix, nothing else beside it."""
    app = Starlette(routes=[Mount(PREFIX, app=create_app(settings))])
    with TestClient(app, follow_redirects=False) as started:
        yield started


def addresses(client: TestClient, page: str) -> set[str]:
    """The paths, with query, that a page leads to."""
    answer = client.get(PREFIX + page)
    assert answer.status_code == 200, page
    found = {unescape(link) for link in ADDRESS.findall(answer.text)}
    assert not [link for link in found if link.startswith("/")]
    whole = {urljoin(f"{HOST}{PREFIX}{page}", link) for link in found}
    return {url for url in whole if url.startswith(HOST)}


def leads_somewhere(client: TestClient, url: str) -> None:
    path, query = urlsplit(url).path, urlsplit(url).query
    assert path.startswith(PREFIX + "/"), url
    if query or path.removeprefix(PREFIX) not in OF_FORMS:
        assert client.head(url).status_code in (200, 303, 307), url


@pytest.mark.parametrize("page", PAGES)
def test_every_link_of_a_page_stays_inside(page: str, below: TestClient) -> None:
    for url in addresses(below, page):
        leads_somewhere(below, url)


@pytest.mark.parametrize("page", OF_A_RECIPE)
def test_every_link_of_a_recipe_stays_inside(page: str, below: TestClient, recipe: dict[str, Any]) -> None:
    for url in addresses(below, f"{page}?r={encode(recipe)}"):
        leads_somewhere(below, url)


def test_forms_examples_and_files_lead_on_inside(below: TestClient) -> None:
    form = Form(below.get(f"{PREFIX}/design").text)
    planned = below.post(f"{PREFIX}/design", data=form.sent("plan"))
    example = below.get(f"{PREFIX}/recipes/reed_bed_kitchen")
    file = Path(__file__).parents[2] / "recipes" / "reed_bed_kitchen.toml"
    sent = below.post(f"{PREFIX}/upload", files={"file": ("bar.toml", file.read_bytes())})
    for answer in (planned, example, sent):
        assert answer.status_code == 303
        there = urljoin(str(answer.url), answer.headers["location"])
        assert urlsplit(there).path == f"{PREFIX}/plan"
        assert below.get(there).status_code == 200


def test_refusals_lead_back_inside(below: TestClient) -> None:
    for page in ("/nowhere", "/sheet/nothing", "/a/b/c"):
        answer = below.get(PREFIX + page)
        assert answer.status_code in (400, 404)
        for link in ADDRESS.findall(answer.text):
            path = urlsplit(urljoin(f"{HOST}{PREFIX}{page}", unescape(link))).path
            assert path.startswith(PREFIX + "/"), link
    assert below.post(f"{PREFIX}/api/plan", json={}).headers["content-type"] == "application/problem+json"
