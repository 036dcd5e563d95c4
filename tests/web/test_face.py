"""Pictures in the service: the file, its limits, and where pages place it."""

import json
import re
import struct
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from billet import load_recipe_text
from web.http.address import encode

RECIPES = Path(__file__).resolve().parents[2] / "recipes"
SIGNATURE = b"\x89PNG\r\n\x1a\n"


def size_of(content: bytes) -> tuple[int, int]:
    assert content.startswith(SIGNATURE)
    columns, rows = struct.unpack(">II", content[16:24])
    return columns, rows


@pytest.mark.parametrize("view", ["face", "edge", "end", "bevel", "first"])
def test_a_picture_is_a_png_of_the_width_asked_for(
    client: TestClient, recipe: dict[str, Any], view: str
) -> None:
    answer = client.get("/face.png", params={"r": encode(recipe), "view": view, "width": "300"})
    assert answer.status_code == 200 and answer.headers["content-type"] == "image/png"
    assert size_of(answer.content)[0] == 300
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_a_browser_that_has_it_is_told_so(client: TestClient, recipe: dict[str, Any]) -> None:
    asked = {"r": encode(recipe), "width": "120"}
    first = client.get("/face.png", params=asked)
    assert "max-age" in first.headers["cache-control"]
    again = client.get("/face.png", params=asked, headers={"if-none-match": first.headers["etag"]})
    assert again.status_code == 304 and again.content == b""
    deeper = client.get(
        "/face.png", params={**asked, "ground": "1"}, headers={"if-none-match": first.headers["etag"]}
    )
    assert deeper.status_code == 200 and deeper.content != first.content


def test_a_long_recipe_comes_by_post_as_json_or_as_a_form(client: TestClient, recipe: dict[str, Any]) -> None:
    asked = {"view": "edge", "width": "200"}
    linked = client.get("/face.png", params={"r": encode(recipe), **asked})
    posted = client.post("/face.png", params=asked, json=recipe)
    form = client.post("/face.png", params=asked, data={"recipe": json.dumps(recipe)})
    assert linked.content == posted.content == form.content
    assert posted.headers["cache-control"] == "no-store"


@pytest.mark.parametrize(
    "asked, status, words",
    [
        ({"view": "side"}, 422, "view must be one of"),
        ({"width": "100000"}, 422, "16 to 6000"),
        ({"width": "4000", "view": "end", "ground": "5.6"}, 200, ""),
        ({"width": "-5"}, 400, "whole number"),
        ({"width": "9" * 4000}, 414, "4096"),
        ({"ground": "a lot"}, 400, "must be a number"),
        ({"ground": "nan"}, 422, "ground off"),
        ({"ground": "5.6"}, 422, "ground off"),
        ({"ground": "-1"}, 422, "ground off"),
        ({"angle": "90"}, 422, "0.5 to 45"),
        ({"blade": "1e9"}, 422, "width of the blade"),
        ({"length": "inf"}, 422, "length_mm"),
    ],
)
def test_what_cannot_be_drawn_is_refused_in_words(
    client: TestClient, recipe: dict[str, Any], asked: dict[str, str], status: int, words: str
) -> None:
    answer = client.get(
        "/face.png", params={"r": encode(recipe), **asked}, headers={"accept": "application/json"}
    )
    assert answer.status_code == status
    if status != 200:
        assert answer.headers["content-type"] == "application/problem+json"
        assert words in answer.text


def test_a_recipe_that_is_refused_has_no_picture(client: TestClient, recipe: dict[str, Any]) -> None:
    del recipe["steps"][0]
    answer = client.get("/face.png", params={"r": encode(recipe)}, headers={"accept": "application/json"})
    assert answer.status_code == 422 and answer.json()["errors"]
    assert client.get("/face.png").status_code == 400
    assert client.post("/face.png", content=b"x", headers={"content-type": "text/plain"}).status_code == 415


def pictures(page: str) -> list[dict[str, str]]:
    tags = re.findall(r"<img ([^>]*)>", page)
    return [{k: unescape(v) for k, v in re.findall(r'(\w+)="([^"]*)"', tag)} for tag in tags]


def test_the_plan_shows_its_bar_and_each_picture_is_as_large_as_it_says(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    page = client.get("/plan", params={"r": encode(recipe)}).text
    answer, *shown = pictures(page)
    assert [re.findall(r"view=(\w+)", each["src"])[0] for each in shown] == ["bevel", "face", "edge"]
    assert (answer["src"], answer["alt"]) == (shown[0]["src"], shown[0]["alt"])
    for each in shown:
        assert "ground off" in each["alt"] and "one possible hand" in each["alt"].lower()
        answer = client.get(each["src"])
        assert size_of(answer.content) == (int(each["width"]), int(each["height"]))
    assert "Not drawn: fold noses" in page


def test_a_depth_can_be_asked_for_without_script(client: TestClient, recipe: dict[str, Any]) -> None:
    asked = {"r": encode(recipe), "ground": "1.2"}
    shown = pictures(client.get("/plan", params=asked).text)
    assert any("ground=1.2" in each["src"] for each in shown)
    inches = pictures(client.get("/plan", params={**asked, "ground": "1/16", "units": "inch"}).text)
    assert any("ground=1.5875" in each["src"] for each in inches)


def test_the_bevel_and_the_width_of_the_blade_can_be_asked_for(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    asked = {"r": encode(recipe), "angle": "7", "blade": "30", "ground": "0.8"}
    _, bevel, face, edge = pictures(client.get("/plan", params=asked).text)
    assert "angle=7" in bevel["src"] and "blade=30" in bevel["src"] and "7 degrees" in bevel["alt"]
    assert "ground=0.8" in face["src"] and "angle" not in face["src"] + edge["src"]
    page = client.get("/plan", params={**asked, "angle": "80"}).text
    assert 'id="angle-fault"' in page and "blade=30" in pictures(page)[0]["src"]


@pytest.mark.parametrize("typed", ["deep", "99", "-1"])
def test_a_depth_that_cannot_be_is_told_beside_its_field(
    client: TestClient, recipe: dict[str, Any], typed: str
) -> None:
    page = client.get("/plan", params={"r": encode(recipe), "ground": typed})
    assert page.status_code == 200
    assert 'id="ground-fault"' in page.text and f'value="{typed}"' in page.text
    assert len(pictures(page.text)) == 4


def test_a_disturbed_bar_is_told_and_not_drawn(client: TestClient, recipe: dict[str, Any]) -> None:
    recipe["steps"].append({"do": "other", "what": "texture", "temperature_c": 1000, "minutes": 2})
    page = client.get("/plan", params={"r": encode(recipe)}).text
    assert "The face is not drawn" in page and "tep 7 disturbs the pattern" in page
    assert not pictures(page)


def test_a_recipe_too_long_for_a_link_draws_when_asked(client: TestClient, recipe: dict[str, Any]) -> None:
    recipe["steps"][0]["note"] = "x" * 60
    recipe["sheet"]["maker"] = "".join(chr(0x4E00 + 37 * n % 20000) for n in range(60))
    for step in recipe["steps"]:
        step["note"] = "".join(chr(0x4E00 + 7919 * n * len(step) % 20000) for n in range(180))
    page = client.post("/plan", data={"recipe": json.dumps(recipe)})
    if "Draw this view" not in page.text:
        pytest.fail("the recipe was meant to be too long for a link")
    action = unescape(re.findall(r'action="(face\.png[^"]*)"', page.text)[0])
    assert size_of(client.post(f"/{action}", data={"recipe": json.dumps(recipe)}).content)[0] == 1200


def test_every_bar_of_the_list_has_its_picture(client: TestClient) -> None:
    shown = pictures(client.get("/").text)
    drawable = 0
    for path in RECIPES.glob("*.toml"):
        mapping = load_recipe_text(path.read_text(encoding="utf-8"))
        drawable += all(step["do"] != "other" for step in mapping.get("steps", ()))
    assert len(shown) == drawable > 5
    assert all(each["loading"] == "lazy" and each["alt"] for each in shown)
