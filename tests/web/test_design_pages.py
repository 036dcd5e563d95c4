"""The form, files and long recipes, as pages: everything works by buttons alone."""

import json
import tomllib
from html import unescape
from typing import Any
from urllib.parse import urlsplit

import pytest
from browser_form import Form, recipe_of
from starlette.testclient import TestClient

from billet import parse_recipe
from web.form.proposing import recipe_of as plain_recipe
from web.form.starts import NAMES
from web.http.address import encode


def test_the_form_as_it_stands_is_the_recipe(client: TestClient, recipe: dict[str, Any]) -> None:
    form = Form(client.get("/design", params={"r": encode(recipe)}).text)
    answer = client.post("/design", data=form.sent("plan"))
    assert answer.status_code == 303
    location = urlsplit(answer.headers["location"])
    assert location.path == "plan" and not location.netloc
    assert recipe_of(answer.headers["location"]) == recipe


def test_enter_plans(client: TestClient, recipe: dict[str, Any]) -> None:
    form = Form(client.get("/design", params={"r": encode(recipe)}).text)
    assert form.buttons[0] == "plan"
    assert client.post("/design", data=form.sent()).headers["location"].startswith("plan?r=")


def test_a_recipe_from_nothing_by_buttons_alone(client: TestClient) -> None:
    """Without script: fill in, press, follow, until the plan stands; in an inch shop."""
    here = "/design?units=inch"

    def press(action: str, **changed: str) -> str:
        form = Form(client.get(here).text)
        assert action in form.buttons, action
        missing = set(changed) - {name for name, _ in form.pairs}
        assert not missing
        answer = client.post("/design", data=form.sent(action, **changed))
        assert answer.status_code == 303
        assert "units=inch" in answer.headers["location"]
        return f"/{answer.headers['location']}"

    here = press(
        "add_step:draw.6",
        **{
            "title": "Shop bar",
            "steels[0].grade": "1084",
            "steels[1].grade": "75Ni8",
            "stack.width_mm": '1 1/2"',
            "stack.length_mm": "6",
            "stack.count": "9",
            "stack.thickness_mm[0]": "1/8",
            "stack.thickness_mm[1]": "1.5 mm",
            "steps[0].temperature_c": "2100",
            "steps[0].minutes": "12",
        },
    )
    assert urlsplit(here).fragment == "step-7"
    here = press(
        "remove_blade",
        **{
            "steps[6].temperature_c": "1100 C",
            "steps[6].minutes": "20 min",
            "steps[6].height_mm": "3/16",
        },
    )
    here = press("add_blade")
    here = press("plan", **{"blade.thickness_mm": "1/8"})
    assert here.startswith("/plan?r=")
    assert client.get(here).status_code == 200
    made = parse_recipe(recipe_of(here))
    assert list(made.steels) == ["1084", "75Ni8"]
    assert made.stack.width_mm == pytest.approx(38.1)
    assert [plate.thickness_mm for plate in made.stack.plates[:2]] == [3.175, 1.5]
    first, last = made.steps[0], made.steps[-1]
    assert first.temperature_c == pytest.approx((2100 - 32) / 1.8)
    assert (last.temperature_c, last.minutes, last.height_mm) == (1100, 20, 4.7625)
    assert made.blade is not None and made.blade.thickness_mm == 3.175


def test_an_incomplete_recipe_goes_back_to_its_form_with_the_faults(client: TestClient) -> None:
    form = Form(client.get("/design").text)
    wrong = {"stack.width_mm": "three fingers", "title": ""}
    answer = client.post("/design", data=form.sent("plan", **wrong))
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("design?r=")
    page = unescape(client.get(f"/{answer.headers['location']}").text)
    assert "three fingers" in page
    assert "is no length" in page
    assert "Title: still to be told" in page
    sent = plain_recipe(recipe_of(answer.headers["location"]))
    told = client.post("/api/plan", json=sent).json()["errors"]
    for error in told:
        if error["where"] not in ("stack.width_mm", "title"):
            assert error["message"] in page


def test_the_first_page_scolds_nobody(client: TestClient) -> None:
    page = client.get("/design").text
    assert "To put right" not in page and 'class="fault"' not in page


@pytest.mark.parametrize("name", NAMES)
def test_every_start_opens_with_its_answer(name: str, client: TestClient) -> None:
    answer = client.get("/design", params={"start": name})
    assert answer.status_code == 200 and "Harden at" in answer.text
    assert client.get("/design", params={"start": "nothing"}).status_code == 404


def test_my_shop_is_carried_by_the_form_and_kept_out_of_the_recipe(client: TestClient) -> None:
    form = Form(client.get("/design").text)
    mine = {"mine.fire": "kiln_ordinary", "mine.oils[0].name": "canola"}
    answer = client.post("/design", data=form.sent("check", **mine))
    location = answer.headers["location"]
    assert "shop" not in recipe_of(location)
    again = Form(client.get(f"/{location}").text)
    assert again.sent()["mine.fire"] == "kiln_ordinary"
    assert again.sent()["mine.oils[0].class"] == "vegetable oil"
    plan = client.post("/design", data=again.sent("plan")).headers["location"]
    assert "shop" not in recipe_of(plan)
    page = client.get(f"/{plan}").text
    assert "ordinary small kiln" in page
    written = client.post("/design", data=again.sent("plan", **{"mine.write": "on"})).headers["location"]
    assert recipe_of(written)["shop"]["fire"] == "kiln_ordinary"


def test_mine_counts_before_the_shop_of_a_link(client: TestClient, recipe: dict[str, Any]) -> None:
    theirs = {**recipe, "shop": {"oils": [{"name": "their tank", "class": "fast oil"}]}}
    theirs["control"] = {"method": "kiln_surveyed"}
    form = Form(client.get("/design", params={"r": encode(theirs)}).text)
    mine = {"mine.half_width_k": "+-50", "mine.oils[0].name": "canola"}
    answer = client.post("/design", data=form.sent("plan", **mine))
    page = client.get(f"/{answer.headers['location']}").text
    assert "canola" in page and "their tank" not in page


def test_a_damaged_own_shop_is_refused(client: TestClient, recipe: dict[str, Any]) -> None:
    assert client.get("/plan", params={"r": encode(recipe), "mine": "xx"}).status_code == 400


def test_a_refused_recipe_in_an_address_shows_its_form(client: TestClient, recipe: dict[str, Any]) -> None:
    recipe["steps"][1]["height_mm"] = 900
    answer = client.get("/plan", params={"r": encode(recipe)})
    assert answer.status_code == 422
    assert Form(answer.text).sent()["steps[1].height_mm"] == "900"
    assert "Step 2: Draw out, height after: 900 is outside 0.3 to 400 mm" in unescape(answer.text)
    assert "(height_mm)" not in answer.text


def test_the_preview_is_a_fragment(client: TestClient, recipe: dict[str, Any]) -> None:
    form = Form(client.get("/design", params={"r": encode(recipe)}).text)
    answer = client.post("/design/preview", data=form.sent())
    assert answer.status_code == 200
    assert "<html" not in answer.text and answer.text.strip()
    broken = client.post("/design/preview", data=form.sent(**{"title": ""}))
    assert broken.status_code == 200
    assert "Title: still to be told" in broken.text


def test_the_file_is_the_recipe(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.get("/recipe.toml", params={"r": encode(recipe)})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/toml; charset=utf-8"
    assert answer.headers["content-disposition"] == 'attachment; filename="reed-bed-kitchen-bar.toml"'
    assert tomllib.loads(answer.text) == recipe
    sent = client.post("/upload", files={"file": ("bar.toml", answer.content)})
    assert sent.status_code == 303
    assert recipe_of(sent.headers["location"]) == recipe


@pytest.mark.parametrize(
    "content",
    [
        b"= 3",
        b"\xff",
        b"a = " + b"[" * 20_000,
        b"a = " + b"1" * 5000,
        b"a = 1\na = 2",
        b"a = 0x" + b"f" * 9000,
    ],
)
def test_a_file_that_is_no_toml_is_refused(client: TestClient, content: bytes) -> None:
    assert client.post("/upload", files={"file": ("bar.toml", content)}).status_code == 422


@pytest.mark.parametrize("content", [b"", b"format = nan", b"steps = [1979-05-27]"])
def test_a_file_that_is_no_recipe_goes_to_its_form(client: TestClient, content: bytes) -> None:
    answer = client.post("/upload", files={"file": ("bar.toml", content)})
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("design?r=")
    assert client.get(f"/{answer.headers['location']}").status_code == 200


def test_a_form_without_a_file_is_refused(client: TestClient) -> None:
    assert client.post("/upload", data={"file": "text"}).status_code == 415
    assert client.post("/upload", files={"other": b"x"}).status_code == 422
    broken = client.post("/upload", content=b"--x", headers={"content-type": "multipart/form-data"})
    assert broken.status_code == 400


def long_recipe(recipe: dict[str, Any]) -> dict[str, Any]:
    """More than an address holds: 300 plates, no two alike."""
    plates = [
        {
            "steel": ("dark", "bright")[i % 2],
            "thickness_mm": round(0.5 + i * 0.6180339887498949 % 0.5, 12),
        }
        for i in range(300)
    ]
    stack = {"width_mm": 40, "length_mm": 150, "plates": plates}
    return {**recipe, "stack": stack, "steps": [{"do": "weld", "temperature_c": 1150, "minutes": 12}]}


def test_a_recipe_too_long_for_a_link_is_answered_at_once(client: TestClient, recipe: dict[str, Any]) -> None:
    text = json.dumps(long_recipe(recipe))
    opened = client.post("/design", data={"recipe": text}).text
    assert opened.count("<form") == 1 and 'name="recipe"' not in opened, "a form in a form would send both"
    form = Form(opened)
    planned = client.post("/design", data=form.sent("plan"))
    assert planned.status_code == 200
    assert 'name="recipe"' in planned.text
    assert "r=" not in urlsplit(str(planned.url)).query
    more = client.post("/design", data=form.sent("add_plate"))
    assert more.status_code == 200
    assert "stack.plates[300].thickness_mm" in more.text
    for path in ("/plan", "/sheet/forge", "/sheet/label", "/recipe.toml", "/sheet/forge.txt"):
        assert client.post(path, data={"recipe": text}).status_code == 200, path
    told = tomllib.loads(client.post("/recipe.toml", data={"recipe": text}).text)
    assert len(told["stack"]["plates"]) == 300


def test_bars_made_first_are_drawn_renamed_and_changed_by_their_own_buttons(client: TestClient) -> None:
    form = Form(client.get("/design?start=several").text)
    renamed = {"bars[0].key": "port"}
    drawn = client.post("/design/preview", data=form.sent("check", chosen="bar-1-step-2", **renamed)).text
    assert "port: The bar after step 2" in drawn and "data-good" in drawn
    answer = client.post("/design", data=form.sent("b0/copy_step:1", **renamed))
    assert answer.headers["location"].endswith("#bar-1-step-3")
    draft = recipe_of(answer.headers["location"])
    assert list(draft["bars"]) == ["port", "right", "edge"]
    assert draft["stack"]["plates"] == [{"beside": ["port", "right", "edge"]}]
    assert [step["do"] for step in draft["bars"]["port"]["steps"]] == [
        "weld",
        "draw",
        "draw",
        "twist",
        "draw",
    ]
