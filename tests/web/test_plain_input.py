"""Plain input that once broke a page: each is answered, by a page or by a refusal in words."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest
from starlette.testclient import TestClient

from web.http.address import encode

Recipe = dict[str, Any]
PAGES = ("/plan", "/plan.json", "/study", "/uncertainty", "/design", "/recipe.toml")
SHEETS = tuple(f"/sheet/{kind}" for kind in ("forge", "harden", "kiln", "buyer", "label"))


def with_steel(recipe: Recipe, **wt: float) -> Recipe:
    changed = copy.deepcopy(recipe)
    changed["steels"][next(iter(changed["steels"]))] = {"name": "own", "wt": wt}
    return changed


def with_spare(recipe: Recipe) -> Recipe:
    return {**recipe, "steels": {**recipe["steels"], "spare": "O1"}}


def with_width(recipe: Recipe) -> Recipe:
    return {**recipe, "stack": {**recipe["stack"], "width_mm": 1e40}}


def with_heat(recipe: Recipe) -> Recipe:
    return {**recipe, "steps": [{**recipe["steps"][0], "temperature_c": 1e300}, *recipe["steps"][1:]]}


def with_no_minutes(recipe: Recipe) -> Recipe:
    changed = copy.deepcopy(recipe)
    changed["steels"][list(changed["steels"])[-1]] = "X65Cr13"
    changed["steps"][0]["minutes"] = 0
    return changed


ODD: dict[str, tuple[Callable[[Recipe], Recipe], tuple[int, ...]]] = {
    "a steel that is not laid": (with_spare, (200,)),
    "pure iron": (lambda r: with_steel(r, C=0.0), (200,)),
    "a weld of no minutes": (with_no_minutes, (200,)),
    "27 % copper": (lambda r: with_steel(r, C=0.6, Cu=27.0), (200, 422)),
    "23 % niobium": (lambda r: with_steel(r, C=0.6, Nb=23.0), (200, 422)),
    "W, Mo and V over 2": (lambda r: with_steel(r, C=0.9, Mo=3.0, V=2.0), (200, 422)),
    "nearly all chromium": (lambda r: with_steel(r, C=0.0, Cr=99.0), (200, 422)),
    "silicon that melts": (lambda r: with_steel(r, C=0.5, Si=20.0), (422,)),
    "a width without end": (with_width, (422,)),
    "a heat without end": (with_heat, (422,)),
}


@pytest.mark.parametrize("odd", ODD)
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_odd_recipes_are_answered(client: TestClient, recipe: Recipe, odd: str, units: str) -> None:
    change, expected = ODD[odd]
    address = encode(change(recipe))
    for page in (*PAGES, *SHEETS):
        answer = client.get(page, params={"r": address, "units": units})
        allowed = {*expected, 200} if page == "/design" else {*expected}
        assert answer.status_code in allowed, (page, answer.text[:400])


@pytest.mark.parametrize(
    "asked", ["C=0", "C=100", "C=50", "C=0.8&Cu=20", "C=0.5&Si=99", "Ni=100", "C=2.5&Cr=50"]
)
@pytest.mark.parametrize("temperature", ["450", "800", "1450", "1e308", "-273"])
def test_any_analysis_is_answered_on_the_page_of_states(
    client: TestClient, asked: str, temperature: str
) -> None:
    for path in ("/state", "/api/state"):
        answer = client.get(f"{path}?{asked}&temperature={temperature}")
        assert answer.status_code in (200, 422)


@pytest.mark.parametrize(
    "content",
    [
        b'{"title": "\\ud800"}',
        b'{"title": ' + b"1" * 5000 + b"}",
        b'{"format": NaN, "title": Infinity}',
        b"format = 0x" + b"f" * 5000,
        b"title = 1979-05-27T07:32:00Z",
        b"title = 07:32:00",
        b"format = nan\ntitle = 'x'",
        b"\xff\xfe",
        b"\x00",
        b".".join([b"a"] * 30_000) + b" = 1",
        b"",
    ],
    ids=lambda content: content[:16].decode("latin-1"),
)
def test_any_file_is_answered(client: TestClient, content: bytes) -> None:
    assert client.post("/upload", files={"file": content}).status_code in (303, 422)


def test_a_file_with_half_a_character_in_a_whole_recipe_is_refused(
    client: TestClient, recipe: Recipe
) -> None:
    content = json.dumps({**recipe, "title": "\ud800"}).encode()
    answer = client.post("/upload", files={"file": content})
    assert answer.status_code == 422
    assert "half of a character" in answer.text


def test_what_a_file_may_begin_with_the_interface_takes_too(client: TestClient, recipe: Recipe) -> None:
    content = b"\xef\xbb\xbf" + json.dumps(recipe).encode()
    assert client.post("/upload", files={"file": content}).status_code == 303
    sent = client.post("/api/plan", content=content, headers={"content-type": "application/json"})
    assert sent.status_code == 200
