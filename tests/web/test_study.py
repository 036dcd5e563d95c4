"""The study behind a plan: its page, its JSON, and the curves on the page of a steel's state."""

import json
import random
import re
from html import unescape
from typing import Any
from urllib.parse import urlencode

import pytest
from starlette.testclient import TestClient

from billet import parse_recipe, plan, study
from web.http.address import encode

HEADINGS = (
    "Hardness against the heat",
    "Cooling against transformation",
    "Holding the temperature",
    "Skin and seams",
)


def address(recipe: dict[str, Any], path: str = "/study", **more: str) -> str:
    return f"{path}?{urlencode({'r': encode(recipe), **more})}"


@pytest.fixture
def page(client: TestClient, recipe: dict[str, Any]) -> str:
    answer = client.get(address(recipe))
    assert answer.status_code == 200
    return answer.text


def test_every_part_has_its_heading(page: str) -> None:
    headings = re.findall(r"<h2>(.*?)</h2>", page, re.DOTALL)
    for wanted in HEADINGS:
        assert any(wanted in heading for heading in headings), wanted
    assert any("burning" in heading for heading in headings)


def test_json_is_what_the_library_finds(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.get(address(recipe, "/study.json"))
    assert answer.status_code == 200 and answer.headers["content-type"] == "application/json"
    assert answer.json() == json.loads(json.dumps(study(parse_recipe(recipe)).to_dict()))


def test_page_and_json_name_each_other(client: TestClient, recipe: dict[str, Any]) -> None:
    link = client.get(address(recipe)).headers["link"]
    twin = re.match(r'<(.*)>; rel="alternate"', link)
    assert twin is not None and client.get(twin.group(1)).json()["title"] == recipe["title"]


def test_the_plan_leads_to_the_study_and_back(client: TestClient, recipe: dict[str, Any], page: str) -> None:
    plan_page = client.get(address(recipe, "/plan")).text
    assert f'href="{address(recipe).lstrip("/")}"' in plan_page
    assert f'href="{address(recipe, "/plan").lstrip("/")}"' in page


def test_the_plan_gives_the_reason_for_each_end_of_every_steel_s_window(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    shown = unescape(client.get(address(recipe, "/plan")).text)
    for row in plan(recipe).report.hardening.per_steel:
        assert row.low_because is not None and row.high_because is not None
        for because in (row.low_because, row.high_because):
            assert because[1:] in shown, "a sentence may begin with a capital"


def test_pictures_are_told_to_those_who_do_not_see_them(page: str) -> None:
    pictures = re.findall(r"<svg[^>]*role=\"img\".*?</svg>", page, re.DOTALL)
    assert len(pictures) == 4
    for picture in pictures:
        assert "<title" in picture and "<desc" in picture and "style=" not in picture
    assert len(re.findall(r"<caption>", page)) >= 7


def test_inches_stay_inches(client: TestClient, recipe: dict[str, Any]) -> None:
    inches = client.get(address(recipe, units="inch"))
    assert inches.status_code == 200 and "0.118\u202fin" in inches.text
    assert "units=inch" in inches.text


def test_a_recipe_too_long_for_a_link_is_posted(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.post("/study", data={"recipe": json.dumps(recipe), "units": "mm"})
    assert answer.status_code == 200 and "Skin and seams" in answer.text


def test_a_long_recipe_s_plan_offers_the_study_by_post(client: TestClient, recipe: dict[str, Any]) -> None:
    scattered = random.Random(1)
    recipe["steps"] += [
        {"do": "grind", "per_face_mm": 0.001, "note": f"{scattered.getrandbits(780):x}"} for _ in range(24)
    ]
    plan_page = client.post("/plan", data={"recipe": json.dumps(recipe), "units": "mm"})
    assert plan_page.status_code == 200
    assert '<form method="post" action="study">' in plan_page.text


@pytest.mark.parametrize("path", ["/study", "/study.json"])
def test_bad_recipes_and_addresses_are_refused(client: TestClient, recipe: dict[str, Any], path: str) -> None:
    assert client.get(path).status_code == 400
    assert client.get(f"{path}?r=nonsense").status_code == 400
    recipe["steels"]["dark"] = "no such steel"
    answer = client.get(address(recipe, path), headers={"accept": "application/json"})
    assert answer.status_code == 422


def test_where_nothing_is_shared_the_page_still_tells(client: TestClient, recipe: dict[str, Any]) -> None:
    recipe["steels"]["bright"] = "440C"
    recipe["stack"] |= {"count": 11, "thickness_mm": {"dark": 2.5, "bright": 2.5}}
    weld = {"do": "weld", "temperature_c": 1150, "minutes": 12, "height_mm": 22, "atmosphere": "sealed"}
    recipe["steps"] = [weld]
    answer = client.get(address(recipe))
    assert answer.status_code == 200
    assert "the least bad heat" in answer.text and "Printed hardness of bright" in answer.text


def test_without_a_blade_or_steps(client: TestClient, recipe: dict[str, Any]) -> None:
    del recipe["blade"]
    recipe["stack"] = {"width_mm": 40, "length_mm": 150, "plates": [{"steel": "dark", "thickness_mm": 8}]}
    recipe["steels"] = {"dark": "1084"}
    recipe["steps"] = []
    answer = client.get(address(recipe))
    assert answer.status_code == 200
    assert "the recipe tells no blade" in answer.text and "No fire before the hardening" in answer.text


def test_steel_names_are_escaped(client: TestClient, recipe: dict[str, Any]) -> None:
    name = "a<b"
    recipe["steels"][name] = recipe["steels"].pop("dark")
    recipe["stack"]["pattern"] = [name, "bright"]
    recipe["stack"]["thickness_mm"] = {name: 3, "bright": 1.5}
    answer = client.get(address(recipe))
    assert answer.status_code == 200
    assert "a<b" not in answer.text and "a&lt;b" in answer.text


def test_the_state_of_a_steel_stands_on_its_curves(client: TestClient) -> None:
    page = client.get("/state?steel=52100&temperature=845&start=spheroidised").text
    assert "From other heats" in page
    picture = re.search(r'<svg[^>]*aria-labelledby="heat-w-title.*?</svg>', page, re.DOTALL)
    assert picture is not None
    assert "845\u202f°C / 1553\u202f°F" in picture.group(0) and "set-line" in picture.group(0)


@pytest.mark.parametrize("question", ["steel=440C&temperature=1040", "C=0.05&Cr=18&Ni=9&temperature=900"])
def test_no_curves_where_no_state_is_computed(client: TestClient, question: str) -> None:
    answer = client.get(f"/state?{question}")
    assert answer.status_code == 200 and "From other heats" not in answer.text
