"""The count of bars behind a plan: its page, its JSON, and the command."""

import json
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from billet import parse_recipe, uncertainty
from billet.cli import main
from web.http.address import encode

RECIPE = Path(__file__).resolve().parents[2] / "recipes" / "reed_bed_kitchen.toml"


def address(recipe: dict[str, Any], path: str = "/uncertainty") -> str:
    return f"{path}?r={encode(recipe)}"


def test_the_json_is_the_library_s_answer(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.get(address(recipe, "/uncertainty.json"))
    assert answer.status_code == 200
    assert answer.json() == json.loads(json.dumps(uncertainty(parse_recipe(recipe)).to_dict()))


def test_the_page_tells_the_sentence_and_every_assumption(client: TestClient, recipe: dict[str, Any]) -> None:
    found = uncertainty(parse_recipe(recipe))
    answer = client.get(address(recipe))
    assert answer.status_code == 200
    assert found.sentence in answer.text
    assert answer.text.count("<li>") >= len(found.assumptions) > 5
    assert "uncertainty.json?r=" in answer.headers["link"]


def test_the_plan_leads_to_the_count_and_back(client: TestClient, recipe: dict[str, Any]) -> None:
    assert f'href="uncertainty?r={encode(recipe)}"' in client.get(address(recipe, "/plan")).text
    assert f'href="plan?r={encode(recipe)}"' in client.get(address(recipe)).text


def test_a_recipe_too_long_for_a_link_is_posted(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.post("/uncertainty", data={"recipe": json.dumps(recipe), "units": "mm"})
    assert answer.status_code == 200 and "In 100 bars made so" in answer.text


@pytest.mark.parametrize("path", ["/uncertainty", "/uncertainty.json"])
def test_bad_recipes_and_addresses_are_refused(client: TestClient, recipe: dict[str, Any], path: str) -> None:
    assert client.get(path).status_code == 400
    assert client.get(f"{path}?r=nonsense").status_code == 400
    recipe["steels"]["dark"] = "no such steel"
    assert client.get(address(recipe, path)).status_code == 422


def test_bars_without_a_window_have_a_page(client: TestClient, recipe: dict[str, Any]) -> None:
    recipe["steels"] = {"dark": "1018", "bright": "304"}
    answer = client.get(address(recipe))
    assert answer.status_code == 200 and "No window" in answer.text


def test_the_command_prints_the_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(RECIPE), "--bars", "100"]) == 0
    assert capsys.readouterr().out.startswith("In 100 bars made so, ")
    assert main(["plan", str(RECIPE), "--bars", "100", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["bars"] == 100
    assert main(["plan", str(RECIPE), "--bars", "3"]) == 2
    assert "bars" in capsys.readouterr().err
