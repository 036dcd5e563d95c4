"""At the anvil in a real browser: one heat a screen, large, ticks that stay, plain links without script."""

from typing import Any

import pytest

TELEPHONE = {"width": 390, "height": 664}
"""A telephone of 390 by 844 with the bars of its browser."""


@pytest.fixture
def anvil(page: Any, kept: dict[str, str]) -> Any:
    page.set_viewport_size(TELEPHONE)
    page.goto(f"/anvil?r={kept['reed_bed_kitchen']}#heat-2")
    return page


def test_a_heat_fills_one_screen_with_its_numbers_large(anvil: Any) -> None:
    assert anvil.locator(".heat:visible").count() == 1
    heat = anvil.locator("#heat-2")
    assert heat.locator(".big").inner_text() == "1060\u202f°C"
    assert heat.locator(".big").evaluate("e => getComputedStyle(e).fontSize") == "72px"
    assert heat.locator(".biggest").inner_text().startswith("21.4")
    assert heat.locator(".biggest").evaluate("e => getComputedStyle(e).fontSize") == "96px"
    assert heat.locator(".stop-now .other").inner_text() == "21.7\u202fmm while hot"
    tick = heat.locator("[data-tick]").bounding_box()
    assert tick["width"] > 350 and tick["height"] >= 64
    assert tick["y"] + tick["height"] <= TELEPHONE["height"]
    assert anvil.evaluate("document.documentElement.scrollHeight") <= TELEPHONE["height"]
    assert anvil.faults == []


@pytest.mark.parametrize("width", [320, 360, 390, 1366])
def test_no_screen_is_wider_than_the_telephone(width: int, anvil: Any) -> None:
    anvil.set_viewport_size({"width": width, "height": 664})
    for number in range(1, anvil.locator("[data-key]").count() + 1):
        anvil.evaluate(f"location.hash = '#heat-{number}'")
        assert anvil.evaluate("document.documentElement.scrollWidth") <= width, number


def test_a_tick_leads_on_and_survives_a_reload(anvil: Any) -> None:
    anvil.locator("#heat-2 [data-came]").fill("21,7")
    anvil.locator("#heat-2 [data-tick]").click()
    assert anvil.url.endswith("#heat-3")
    anvil.reload()
    anvil.locator("#heat-3 .back").click()
    assert anvil.locator("#heat-2 [data-tick].ticked").count() == 1
    assert anvil.locator("#heat-2 [data-came]").input_value() == "21,7"
    anvil.locator("#heat-2 [data-untick]").click()
    assert anvil.locator("#heat-2 [data-tick].ticked").count() == 0
    assert anvil.locator('[data-of=".2.1"] .did').inner_text() in ("", "21,7")


def test_one_press_plans_on_from_what_was_typed(anvil: Any) -> None:
    anvil.evaluate("location.hash = '#heat-5'")
    anvil.locator("#heat-5 [data-came]").fill("12,6")
    anvil.locator("#heat-5 [data-came]").press("Enter")
    anvil.reload()
    assert anvil.locator("#heat-5 [data-came]").input_value() == "12,6"
    anvil.evaluate("location.hash = '#all'")
    anvil.get_by_role("button", name="Plan on from what came").click()
    anvil.wait_for_url("**/plan?**#midway")
    assert "measured 12.6" in anvil.locator("#midway").inner_text()
    assert anvil.faults == []


def test_without_a_place_the_first_heat_not_done_is_shown(anvil: Any, kept: dict[str, str]) -> None:
    anvil.goto(f"/anvil?r={kept['reed_bed_kitchen']}#heat-1")
    for number in (1, 2):
        anvil.locator(f"#heat-{number} [data-tick]").click()
    anvil.goto("/glossary")
    anvil.goto(f"/anvil?r={kept['reed_bed_kitchen']}")
    assert anvil.url.endswith("#heat-3")


def test_ticks_belong_to_one_bar(anvil: Any, kept: dict[str, str]) -> None:
    anvil.locator("#heat-2 [data-tick]").click()
    anvil.goto(f"/anvil?r={kept['slate_300']}#all")
    assert anvil.locator(".ticked").count() == 0


def test_it_works_without_script(browser: Any, address: str, kept: dict[str, str]) -> None:
    context = browser.new_context(viewport=TELEPHONE, base_url=address, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"/anvil?r={kept['reed_bed_kitchen']}")
    assert page.locator(".heat:visible").get_attribute("id") == "heat-1"
    page.locator("#heat-1 [data-tick]").click()
    assert page.locator(".heat:visible").get_attribute("id") == "heat-2"
    page.locator("#heat-2 .back").click()
    assert page.locator(".heat:visible").get_attribute("id") == "heat-1"
    page.locator('#heat-1 a[href="#all"]').click()
    assert "off" in page.locator("#all noscript").inner_text()
    context.close()


def test_it_is_reached_from_the_plan_and_the_forge_sheet(page: Any, kept: dict[str, str]) -> None:
    for start in ("/plan", "/sheet/forge"):
        page.goto(f"{start}?r={kept['reed_bed_kitchen']}")
        page.get_by_role("link", name="At the anvil").first.click()
        page.wait_for_url("**/anvil?**")


def test_nothing_can_be_changed_there(anvil: Any) -> None:
    assert anvil.locator("form[action*=design], a[href*=design]:visible, select").count() == 0
