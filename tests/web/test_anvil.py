"""The plan as one heat after another, and the pages of the shop."""

from typing import Any

import pytest
from starlette.testclient import TestClient

from billet import canonical_json, example_recipes, load_recipe_text, plan
from web.anvil import forging_heats, treatment_heats
from web.app import create_app
from web.http.address import encode
from web.settings import Settings, default_recipes

NAMES = sorted(example_recipes())


def recipe(name: str) -> dict[str, Any]:
    return dict(load_recipe_text(example_recipes()[name].read_text(encoding="utf-8")))


@pytest.mark.parametrize("name", NAMES)
def test_every_heat_of_the_schedule_has_its_screen(name: str) -> None:
    report = plan(example_recipes()[name]).report
    heats = forging_heats(report)
    bars = [made.schedule for made in report.bars] + [report.schedule]
    wanted = sum((row.heats or 1) for rows in bars for row in rows[1:])
    assert len(heats) == wanted
    assert len({heat.key for heat in heats}) == wanted
    last = [heat for heat in heats if heat.bar is None and heat.heat == heat.heats]
    assert [heat.row for heat in last] == list(report.schedule[1:])


def test_the_heights_to_stop_at_are_those_of_the_report() -> None:
    report = plan(example_recipes()["reed_bed_kitchen"]).report
    draw = [heat for heat in forging_heats(report) if heat.row.step == 2]
    assert [heat.stop for heat in draw] == [("height", h.height_mm) for h in report.schedule[2].each_heat]
    hots = [heat.hot_mm / heat.stop[1] for heat in draw if heat.hot_mm is not None and heat.stop is not None]
    assert hots == pytest.approx([h.hot for h in report.schedule[2].each_heat])
    assert [heat.came for heat in draw] == [None] * 3 + ["steps[1].measured.height_mm"]
    assert draw[-1].stop is not None and draw[-1].stop[1] == pytest.approx(report.schedule[2].height_mm)
    assert sum(heat.minutes or 0.0 for heat in draw) == pytest.approx(report.schedule[2].minutes)
    grind = next(heat for heat in forging_heats(report) if heat.row.do == "grind")
    assert grind.temperature_c is None and grind.stop is None


def test_a_twist_is_stopped_at_no_height_and_its_turns_are_those_of_all_heats(client: TestClient) -> None:
    twisted = recipe("rope_walk_twist")
    heats = [h for h in forging_heats(plan(twisted).report) if h.row.do == "twist"]
    assert len(heats) == 2 and [h.stop for h in heats] == [None, None]
    page = client.get(f"/anvil?r={encode(twisted)}").text
    turns = next(step["turns"] for step in twisted["steps"] if step["do"] == "twist")
    assert page.count(f"{abs(turns)} turns to the") == page.count("in all, over 2 heats") == 2


def test_a_new_width_is_told_in_the_last_heat_alone() -> None:
    report = plan(example_recipes()["reed_bed_kitchen"]).report
    told = [(heat.row.step, heat.heat) for heat in forging_heats(report) if heat.width_mm is not None]
    assert told == [(6, report.schedule[6].heats)]


def test_the_treatment_follows_the_report() -> None:
    report = plan(example_recipes()["reed_bed_kitchen"]).report
    told = treatment_heats(report)
    assert [h.temperature_c for h in told if h.job == "normalise"] == list(report.hardening.normalise_c)
    hard = [h for h in told if h.job == "harden"]
    assert [(h.temperature_c, h.minutes) for h in hard] == [
        (report.hardening.set_point_c, report.hardening.soak_min)
    ]
    run = next(made for made in report.programmes if made.job == "temper")
    assert [h.temperature_c for h in told if h.job == "temper"] == [
        run.segments[0].to_c
    ] * report.temper.cycles


def test_without_a_set_point_there_is_no_treatment() -> None:
    assert treatment_heats(plan(example_recipes()["no_shared_window"]).report) == ()


def test_a_recipe_too_long_for_an_address_goes_by_post(client: TestClient) -> None:
    answer = client.post("/anvil", data={"recipe": canonical_json(recipe("slate_300"))})
    assert answer.status_code == 200 and "heat-2" in answer.text
    assert client.get("/anvil").status_code == 400
    assert client.post("/anvil", data={"recipe": "{}"}).status_code == 422


def test_inches_have_the_thirty_second_large_and_the_decimal_beside(client: TestClient) -> None:
    coded = encode(recipe("reed_bed_kitchen"))
    page = client.get(f"/anvil?r={coded}&units=inch").text
    assert '27/32 <span class="unit">in</span> <span class="aside">0.844 in</span>' in page
    assert '<span class="big">1940\u202f°F</span>' in page


def test_the_address_is_shown_as_a_code_only_with_lan(client: TestClient) -> None:
    coded = encode(recipe("reed_bed_kitchen"))
    assert "--lan" in client.get("/lan").text and "<svg" not in client.get("/lan").text.split("<main")[1]
    shop = TestClient(create_app(Settings(recipes=default_recipes(), lan_url="http://192.0.2.7:8000")))
    first, bar = shop.get("/lan").text, shop.get(f"/lan?r={coded}").text
    assert "http://192.0.2.7:8000" in first and 'class="qr"' in first and "no password" in first
    assert "This bar at the anvil" in bar and "This bar at the anvil" not in first


def test_what_was_only_proposed_is_marked_as_on_the_forge_sheet(client: TestClient) -> None:
    told = recipe("reed_bed_kitchen")
    weld, draw, *rest = told["steps"]
    weld = {**weld, "proposed": ["temperature_c", "minutes"]}
    steps = [weld, {**draw, "proposed": ["heats", "height_mm"]}, *rest]
    heats = forging_heats(plan({**told, "steps": steps}).report)
    of_step = {heat.row.step: heat.proposed for heat in heats}
    assert of_step == {1: ("temperature_c", "minutes"), 2: ("heats", "height_mm"), 3: (), 4: (), 5: (), 6: ()}
    page = client.get(f"/anvil?r={encode({**told, 'steps': steps})}").text
    line = "* Proposed by the program, neither changed nor accepted"
    drawn = len([heat for heat in heats if heat.row.step == 2])
    assert page.count(f"{line}: temperature, minutes.") == 1
    assert page.count(f"{line}: heats, height.") == drawn
    assert page.count("°C" + '<sup class="mark">*</sup>') == 1
    assert page.count("min* from an even glow") == 1
    assert page.count('height<sup class="mark">*</sup> to stop at') == drawn
    assert page.count(f"{line}.") == 1
    assert line not in client.get(f"/anvil?r={encode(told)}").text
