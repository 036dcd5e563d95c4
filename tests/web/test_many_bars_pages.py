"""Pages and interface over many bars: sweep, partners, bar wanted."""

import json
from typing import Any

import pytest
from starlette.testclient import TestClient

from billet import EXAMPLE_WISH, partners, propose, sweep
from web.http.address import encode

SPAN = "place=steps%5B0%5D.minutes&low=6&high=18&step=6"


def test_a_sweep_is_drawn_and_told(client: TestClient, recipe: dict[str, Any]) -> None:
    page = client.get(f"/sweep?r={encode(recipe)}&{SPAN}")
    assert page.status_code == 200
    assert page.text.count("<svg") >= 4 and "The answer at every value of step 1 (weld): minutes" in page.text
    assert "style=" not in page.text


def test_a_sweep_that_is_refused_says_why(client: TestClient, recipe: dict[str, Any]) -> None:
    page = client.get(f"/sweep?r={encode(recipe)}&{SPAN.replace('step=6', 'step=0')}")
    assert page.status_code == 422 and "High lies above low" in page.text
    assert client.get(f"/sweep?r={encode(recipe)}").status_code == 200
    assert client.get("/sweep").status_code == 400


def test_the_interface_sweeps_as_the_library(client: TestClient, recipe: dict[str, Any]) -> None:
    vary = "steps[0].minutes=6:18:6"
    answer = client.post("/api/sweep", json={"recipe": recipe, "vary": vary})
    assert answer.status_code == 200
    assert answer.json() == json.loads(json.dumps(sweep(recipe, vary).to_dict()))


@pytest.mark.parametrize(
    ("body", "where"),
    [
        ({"vary": "a=1:2:1"}, "recipe"),
        ({"recipe": {}}, "vary"),
        ({"recipe": {}, "vary": 3}, "vary"),
        ({"recipe": {}, "vary": "a=1:2:1", "more": 1}, "more"),
        ({"recipe": {}, "vary": "a=1:2:1"}, "title"),
    ],
)
def test_a_bad_sweep_is_refused_with_its_place(client: TestClient, body: dict[str, Any], where: str) -> None:
    answer = client.post("/api/sweep", json=body)
    assert answer.status_code == 422
    assert where in {error["where"] for error in answer.json()["errors"]}


def test_partners_are_listed_by_the_verdict_asked_for(client: TestClient) -> None:
    page = client.get("/partners?steel=1084&oil=medium+oil,9.5&fire=kiln_ordinary&sort=contrast").text
    assert "Partners of 1084" in page and "martensite begins" in page
    assert page.index(">75Ni8<") < page.index(">1095<"), "strong contrast stands before faint"
    by_name = client.get("/partners?steel=1084&sort=name").text
    assert by_name.index(">1095<") < by_name.index(">75Ni8<")


def test_the_interface_tells_partners_as_the_library(client: TestClient) -> None:
    told = client.get("/api/partners?C=1.25&Mn=0.3&Si=0.2")
    assert told.status_code == 200
    assert told.json() == json.loads(json.dumps(partners({"C": 1.25, "Mn": 0.3, "Si": 0.2}).to_dict()))


@pytest.mark.parametrize(
    ("query", "where"),
    [
        ("", "steel"), ("steel=unobtainium", "steel"), ("steel=1084&C=1", "steel"), ("C=x", "C"),
        ("steel=1084&share=2", "share"), ("steel=1084&share=x", "share"), ("steel=1084&oil=lard", "oil"),
        ("steel=1084&fire=sun", "method"), ("steel=1084&section_mm=500", "section_mm"),
        ("steel=1084&colour=blue", "colour"),
    ],
)  # fmt: skip
def test_a_bad_question_for_partners_is_refused(client: TestClient, query: str, where: str) -> None:
    answer = client.get(f"/api/partners?{query}")
    assert answer.status_code == 422
    assert where in {error["where"] for error in answer.json()["errors"]}
    page = client.get(f"/partners?{query}")
    assert page.status_code == (200 if query in ("", "steel=1084&colour=blue") else 422)
    assert ("Colour is no field of this question" in page.text) == (where == "colour")


def test_own_fire_and_oils_of_the_address_stand_in_the_fields(client: TestClient) -> None:
    oils = [{"name": "canola"}, {"name": "tank 2", "nickel_ball_s": 9.5}]
    mine = encode({"half_width_k": 15, "oils": oils})
    page = client.get("/partners", params={"steel": "1084", "mine": mine}).text
    told = client.get("/partners?steel=1084&half_width_k=%2B-15&oil=vegetable+oil,+9.5").text
    assert 'value="vegetable oil, 9.5"' in page and 'name="half_width_k" value="15"' in page
    assert page.split("<table>")[1] == told.split("<table>")[1]
    other = client.get("/partners", params={"steel": "1084", "mine": mine, "oil": "fast oil"}).text
    assert 'value="fast oil"' in other
    bad = encode({"oils": [{"name": "motor oil of my own"}]})
    assert client.get("/partners", params={"steel": "1084", "mine": bad}).status_code == 422


def test_all_pairs_are_a_picture_and_json(client: TestClient) -> None:
    page = client.get("/partners?show=contrast")
    assert page.status_code == 200 and "Contrast, each beside each" in page.text
    table = client.get("/pairs.json").json()
    assert len(table["steels"]) == len(table["verdicts"]["weld"]) == len(table["verdicts"]["weld"][0])


def test_a_wish_is_answered_with_links_to_its_plans(client: TestClient) -> None:
    form = client.get("/wish")
    assert form.status_code == 200 and "Propose" in form.text
    page = client.post("/wish", data={"wish": EXAMPLE_WISH})
    assert page.status_code == 200 and page.text.count("Steel to cut") >= 2
    link = page.text.split('href="plan?r=')[1].split('"')[0].replace("&amp;", "&")
    assert client.get(f"/plan?r={link}").status_code == 200


def test_a_wish_that_is_refused_keeps_what_was_written(client: TestClient) -> None:
    page = client.post("/wish", data={"wish": EXAMPLE_WISH.replace("layers = 200", "layers = 1")})
    assert page.status_code == 422 and "want.layers" in page.text and "layers = 1" in page.text
    assert client.post("/wish", data={"wish": "= nonsense"}).status_code == 422
    assert "Layers is no field of this question" in client.get("/wish?layers=3").text
    assert client.post("/wish", data={"other": "x"}).status_code == 400


def test_the_interface_answers_a_wish_as_the_library(client: TestClient) -> None:
    from web.many_bars_description import WISH_EXAMPLE

    answer = client.post("/api/wish", json=WISH_EXAMPLE)
    assert answer.status_code == 200
    assert answer.json() == json.loads(json.dumps(propose(WISH_EXAMPLE).to_dict()))
    assert client.post("/api/wish", json={"format": 1}).status_code == 422
