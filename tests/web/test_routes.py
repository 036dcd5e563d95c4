"""Every address of the service answers as the contract says."""

import re
import tomllib
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from billet import parse_recipe
from web.address import decode, encode
from web.app import create_app
from web.links import SHEET_KINDS
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


class Form(HTMLParser):
    """The form that posts to /design, as a browser without script would send it."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.pairs: list[tuple[str, str]] = []
        self.buttons: list[str] = []
        self._inside = False
        self._select = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if tag == "form":
            self._inside = told.get("action") == "/design"
        if not self._inside:
            return
        name, value = told.get("name") or "", told.get("value") or ""
        if tag == "input" and (told.get("type") != "checkbox" or "checked" in told):
            self.pairs.append((name, value))
        elif tag == "select":
            self._select = name
        elif tag == "option" and "selected" in told:
            self.pairs.append((self._select, value))
        elif tag == "button" and name == "action":
            self.buttons.append(value)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._inside = False

    def sent(self, action: str | None = None, **changed: str) -> dict[str, str]:
        fields = dict(self.pairs) | changed
        return fields | ({"action": action} if action else {})


def recipe_of(location: str) -> dict[str, Any]:
    return decode(dict(parse_qsl(urlsplit(location).query))["r"])


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
    pages = [unescape(link) for link in re.findall(r'<a [^>]*href="(/[^"]*)"', page)]
    own = [link for link in pages if not link.startswith(("/static", "/openapi.json", "/plan.json"))]
    assert own
    without = [link for link in own if "units=inch" not in link]
    assert len(without) <= 1, without
    assert all(link.startswith(urlsplit(path).path) for link in without), (
        "only the switch may drop them"
    )


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
    assert f"/plan.json?r={encode(recipe)}" in page.headers["link"]


def test_every_example_recipe_has_its_plan(client: TestClient, settings: Settings) -> None:
    files = sorted(settings.recipes.glob("*.toml"))
    home = client.get("/").text
    for file in files:
        assert f'"/recipes/{file.stem}"' in home
        answer = client.get(f"/recipes/{file.stem}")
        assert answer.status_code == 303
        sent = recipe_of(answer.headers["location"])
        assert sent["title"] == tomllib.loads(file.read_text())["title"]
        assert client.get(answer.headers["location"]).status_code == 200


@pytest.mark.parametrize("name", ["nothing", "..%2Fpyproject", "%2e%2e%2fREADME", ".toml"])
def test_no_other_file_is_an_example(client: TestClient, name: str) -> None:
    assert client.get(f"/recipes/{name}").status_code == 404


def test_the_form_as_it_stands_is_the_recipe(client: TestClient, recipe: dict[str, Any]) -> None:
    form = Form(client.get("/design", params={"r": encode(recipe)}).text)
    answer = client.post("/design", data=form.sent("plan"))
    assert answer.status_code == 303
    location = urlsplit(answer.headers["location"])
    assert location.path == "/plan" and not location.netloc
    assert recipe_of(answer.headers["location"]) == recipe


def test_enter_plans(client: TestClient, recipe: dict[str, Any]) -> None:
    form = Form(client.get("/design", params={"r": encode(recipe)}).text)
    assert form.buttons[0] == "plan"
    assert client.post("/design", data=form.sent()).headers["location"].startswith("/plan?r=")


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
        return str(answer.headers["location"])

    here = press(
        "add_step:draw",
        **{
            "title": "Shop bar",
            "steels[0].grade": "1084",
            "steels[1].grade": "75Ni8",
            "stack.width_mm": '1 1/2"',
            "stack.length_mm": "6",
            "stack.count": "9",
            "stack.thickness_mm[0]": "1/8",
            "stack.thickness_mm[1]": "1.5 mm",
            "steps[0].temperature_c": "2100 F",
            "steps[0].minutes": "12",
        },
    )
    assert urlsplit(here).fragment == "step-2"
    here = press(
        "add_blade",
        **{
            "steps[1].temperature_c": "1100",
            "steps[1].minutes": "20",
            "steps[1].height_mm": "0.5",
        },
    )
    here = press("plan", **{"blade.thickness_mm": "1/8"})
    assert here.startswith("/plan?r=")
    assert client.get(here).status_code == 200
    made = parse_recipe(recipe_of(here))
    assert made.stack.width_mm == pytest.approx(38.1)
    assert [plate.thickness_mm for plate in made.stack.plates[:2]] == [3.175, 1.5]
    assert made.blade is not None and made.blade.thickness_mm == 3.175


def test_an_incomplete_recipe_goes_back_to_its_form_with_the_faults(client: TestClient) -> None:
    form = Form(client.get("/design").text)
    answer = client.post("/design", data=form.sent("plan", **{"stack.width_mm": "three fingers"}))
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/design?r=")
    page = unescape(client.get(answer.headers["location"]).text)
    assert "three fingers" in page
    assert "is no length" in page
    assert "title must not be empty" in page
    told = client.post("/api/plan", json=recipe_of(answer.headers["location"])).json()["errors"]
    for error in told:
        if error["where"] != "stack.width_mm":
            assert error["message"] in page


def test_an_empty_form_does_not_scold(client: TestClient) -> None:
    assert "title must not be empty" not in client.get("/design").text


def test_a_refused_recipe_in_an_address_shows_its_form(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    recipe["steps"][1]["height_mm"] = 900
    answer = client.get("/plan", params={"r": encode(recipe)})
    assert answer.status_code == 422
    assert Form(answer.text).sent()["steps[1].height_mm"] == "900"
    assert "height_mm must be a number" in unescape(answer.text)


def test_the_preview_is_a_fragment(client: TestClient, recipe: dict[str, Any]) -> None:
    form = Form(client.get("/design", params={"r": encode(recipe)}).text)
    answer = client.post("/design/preview", data=form.sent())
    assert answer.status_code == 200
    assert "<html" not in answer.text and answer.text.strip()
    broken = client.post("/design/preview", data=form.sent(**{"title": ""}))
    assert broken.status_code == 200
    assert "title must not be empty" in broken.text


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_sheets_as_text(client: TestClient, recipe: dict[str, Any], kind: str) -> None:
    answer = client.get(f"/sheet/{kind}.txt", params={"r": encode(recipe)})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/plain; charset=utf-8"


def test_there_is_no_other_sheet(client: TestClient, recipe: dict[str, Any]) -> None:
    for path in ("/sheet/secret", "/sheet/secret.txt", "/sheet/forge.pdf"):
        assert client.get(path, params={"r": encode(recipe)}).status_code == 404


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
    "content", [b"= 3", b"\xff", b"a = " + b"[" * 20_000, b"a = " + b"1" * 5000, b"a = 1\na = 2"]
)
def test_a_file_that_is_no_toml_is_refused(client: TestClient, content: bytes) -> None:
    assert client.post("/upload", files={"file": ("bar.toml", content)}).status_code == 422


@pytest.mark.parametrize(
    "content", [b"", b"a = 0x" + b"f" * 9000, b"format = nan", b"steps = [1979-05-27]"]
)
def test_a_file_that_is_no_recipe_goes_to_its_form(client: TestClient, content: bytes) -> None:
    answer = client.post("/upload", files={"file": ("bar.toml", content)})
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/design?r=")
    assert client.get(answer.headers["location"]).status_code == 200


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


def test_a_recipe_too_long_for_a_link_is_answered_at_once(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    import json

    text = json.dumps(long_recipe(recipe))
    form = Form(client.post("/design/open", data={"recipe": text}).text)
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
    expected = shared or kind in ("forge", "harden")
    assert (f"https://forge.example/plan?r={encode(recipe)}" in unescape(paper)) == expected
    assert ('class="qr' in paper) == expected


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
    from web.pages import PyrometerQuestion
    from web.routes.calculators import _surface_c

    right, _ = _surface_c(PyrometerQuestion("800", "0.85", "0.85", "0.9 um", ""))
    wrong, _ = _surface_c(PyrometerQuestion("800", "0.95", "0.85", "0.9 um", ""))
    assert right == pytest.approx(800.0, abs=0.01)
    assert wrong is not None and wrong > 801.0
    assert client.get("/pyrometer?reading=hot&set=1&true=1").status_code == 422
    assert client.get("/pyrometer?reading=800&set=0&true=1").status_code == 422
    assert client.get("/pyrometer?reading=800&set=1&true=1&band=x").status_code == 422


def test_static_files_and_nothing_beside_them(client: TestClient) -> None:
    assert client.get("/static/vendor/htmx/htmx.min.js").status_code == 200
    assert client.get("/static/vendor/swagger/LICENSE").status_code == 200
    assert client.get("/static/../app.py").status_code == 404
    assert client.get("/static/%2e%2e/app.py").status_code == 404


def test_pages_refer_to_files_that_exist(client: TestClient, recipe: dict[str, Any]) -> None:
    folder = Path(__file__).resolve().parent.parent.parent / "web"
    for path in [*PAGES, *WITH_RECIPE]:
        page = client.get(
            path, params={**dict(parse_qsl(urlsplit(path).query)), "r": encode(recipe)}
        ).text
        for file in re.findall(r'(?:src|href)="(/static/[^"]+)"', page):
            assert (folder / file.lstrip("/")).is_file(), (path, file)
