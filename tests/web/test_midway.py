"""What came after a step, entered on the plan page."""

from typing import Any

import pytest
from starlette.testclient import TestClient

from billet import plan
from web.http.address import decode, encode


def test_what_came_is_planned_from_there(client: TestClient, recipe: dict[str, Any]) -> None:
    page = client.get("/plan", params={"r": encode(recipe)})
    assert 'action="midway?r=' in page.text
    came = {"step": "2", "height_mm": "13 mm", "width_mm": "4 cm", "cut_away_mm": "10"}
    answer = client.post("/midway", params={"r": encode(recipe)}, data=came)
    assert answer.status_code == 303 and answer.headers["location"].endswith("#midway")
    now = decode(answer.headers["location"].split("r=")[1].split("#")[0])
    assert now["steps"][1]["measured"] == {"height_mm": 13, "width_mm": 40, "cut_away_mm": 10}
    shown = client.get("/plan", params={"r": encode(now)}).text
    told = {notice.code: notice for notice in plan(now).report.notices}
    assert "measured-shorter" in told and "Forge sheet from here" in shown
    assert "shorter than the planned" in shown
    assert plan(now).report.bar_id == plan(recipe).report.bar_id


def test_what_was_typed_at_the_anvil_goes_into_the_recipe_at_once(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    recipe["steps"][1]["measured"] = {"width_mm": 40, "height_mm": 14}
    page = client.get("/anvil", params={"r": encode(recipe)}).text
    assert page.count(' form="came"') == 3 and 'name="steps[1].measured.height_mm"' in page
    came = {"units": "mm", "steps[0].measured.height_mm": "", "steps[1].measured.height_mm": "13,2"}
    answer = client.post("/midway", params={"r": encode(recipe)}, data=came)
    now = decode(answer.headers["location"].split("r=")[1].split("#")[0])
    assert answer.status_code == 303
    assert [step.get("measured") for step in now["steps"][:2]] == [None, {"width_mm": 40, "height_mm": 13.2}]
    for wrong in ({"units": "mm"}, {"steps[90].measured.height_mm": "3"}):
        assert client.post("/midway", params={"r": encode(recipe)}, data=wrong).status_code == 400


def test_nothing_told_is_as_planned_again(client: TestClient, recipe: dict[str, Any]) -> None:
    recipe["steps"][1]["measured"] = {"height_mm": 13}
    answer = client.post("/midway", params={"r": encode(recipe)}, data={"step": "2", "height_mm": ""})
    assert "measured" not in decode(answer.headers["location"].split("r=")[1].split("#")[0])["steps"][1]


@pytest.mark.parametrize("step", ["", "0", "7", "x"])
def test_a_step_that_is_not_there_is_refused(client: TestClient, recipe: dict[str, Any], step: str) -> None:
    assert client.post("/midway", params={"r": encode(recipe)}, data={"step": step}).status_code == 400


def test_what_cannot_be_stands_at_its_field(client: TestClient, recipe: dict[str, Any]) -> None:
    sent = client.post("/midway", params={"r": encode(recipe)}, data={"step": "2", "height_mm": "thin"})
    page = client.get("/" + sent.headers["location"].split("#")[0])
    assert page.status_code == 422 and "steps[1].measured.height_mm-fault" in page.text
    assert "Step 2: Draw out, measured height: “thin” is no length" in page.text
    assert "where empty: as many as the reduction asks for" in page.text
