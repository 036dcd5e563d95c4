"""The plan page in a real browser: one screen answers, the contents stay, a telephone needs ten screens."""

from pathlib import Path
from typing import Any

import pytest

from .conftest import RECIPES

LAPTOP, TELEPHONE = {"width": 1366, "height": 768}, {"width": 390, "height": 844}
MOST_SCREENS = 10
NAMES = sorted(path.stem for path in RECIPES.glob("*.toml"))
FULL_TABLE = """() => [...document.querySelectorAll('table.cards')].filter(t => {
    const box = t.getBoundingClientRect();
    const flat = getComputedStyle(t.querySelector('td')).display === 'table-cell';
    return box.width > 0 && (box.right > innerWidth || flat);
}).map(t => t.querySelector('caption').innerText)"""


def bottom_of(page: Any, selector: str) -> float:
    box = page.locator(selector).first.bounding_box()
    return float(box["y"] + box["height"])


@pytest.mark.parametrize("name", NAMES)
def test_a_telephone_needs_ten_screens_at_most_and_shows_every_table_as_cards(
    name: str, page: Any, kept: dict[str, str]
) -> None:
    page.set_viewport_size(TELEPHONE)
    page.goto(f"/plan?r={kept[name]}")
    height = page.evaluate("document.documentElement.scrollHeight")
    assert height <= MOST_SCREENS * TELEPHONE["height"], f"{height / TELEPHONE['height']:.1f} screens"
    page.set_viewport_size({"width": 360, "height": 740})
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    assert page.evaluate(FULL_TABLE) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert page.locator("table:not(.cards)").count() == 0
    assert page.faults == []


@pytest.mark.parametrize("name", ["reed_bed_kitchen", "no_shared_window", "three_winds"])
def test_one_screen_of_a_laptop_answers(name: str, page: Any, kept: dict[str, str]) -> None:
    page.set_viewport_size(LAPTOP)
    page.goto(f"/plan?r={kept[name]}")
    for told in ("h1", "#answer .lead", "#answer .orders", "#answer .face", "#answer .drawing-wide"):
        assert bottom_of(page, told) <= LAPTOP["height"], told


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_the_contents_stay_in_view_and_lead_everywhere(
    script: bool, browser: Any, address: str, kept: dict[str, str]
) -> None:
    context = browser.new_context(viewport=LAPTOP, base_url=address, java_script_enabled=script)
    page = context.new_page()
    page.goto(f"/plan?r={kept['reed_bed_kitchen']}")
    places = [a.get_attribute("href") for a in page.locator(".contents li a").all()]
    assert len(places) == len(set(places)) > 10
    for place in places:
        page.locator(f'.contents a[href="{place}"]').click()
        assert page.locator(place).is_visible(), place
        assert page.locator(".contents").bounding_box()["y"] < 60
    context.close()


def test_the_contents_open_on_a_telephone_without_script(
    browser: Any, address: str, kept: dict[str, str]
) -> None:
    context = browser.new_context(viewport=TELEPHONE, base_url=address, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"/plan?r={kept['reed_bed_kitchen']}")
    assert not page.locator(".contents ol").is_visible()
    page.locator(".contents-open").click()
    assert page.locator(".contents ol").is_visible()
    page.locator('.contents a[href="#forge"]').click()
    assert not page.locator(".contents ol").is_visible()
    top = page.locator("#forge h2").bounding_box()["y"]
    assert 44 <= top <= 200, "the heading stands under the line that stays"
    context.close()


def test_figures_stand_in_pairs_as_wide_as_half_the_sheet(page: Any, kept: dict[str, str]) -> None:
    page.set_viewport_size(LAPTOP)
    page.goto(f"/plan?r={kept['reed_bed_kitchen']}")
    for place in ("#windows", "#quench", "#temper", "#carbon"):
        box = page.locator(f"{place} .figures svg:visible").first.bounding_box()
        assert box["width"] > 560, place
    first, second = (page.locator("#forge .figures svg:visible").nth(i).bounding_box() for i in (0, 1))
    assert abs(first["y"] - second["y"]) < 5 and second["x"] > first["x"] + first["width"]


def test_the_typed_name_stays_with_the_standard_name_once(page: Any, address: str) -> None:
    recipe = {
        "format": 1, "title": "Typed", "steels": {"1095": "1095", "15N20": "15N20"},
        "stack": {"width_mm": 40, "length_mm": 150, "pattern": ["1095", "15N20"], "count": 9,
                  "thickness_mm": {"1095": 3.2, "15N20": 1.6}},
        "steps": [{"do": "weld", "temperature_c": 1130, "minutes": 12, "height_mm": 18}],
    }  # fmt: skip
    from web.http.address import encode

    page.goto(f"/plan?r={encode(recipe)}")
    told = page.locator("#answer").inner_text()
    assert "15N20" in told and told.count("75Ni8") == 1
    assert "75Ni8" not in page.locator("#windows").inner_text()
    assert "dark" not in told and "bright" not in told


def test_the_interface_stands_in_the_frame_with_a_way_back(page: Any) -> None:
    page.goto("/docs")
    page.wait_for_selector("#swagger-ui .opblock")
    assert page.locator("#content #swagger-ui").count() == 1
    page.get_by_role("link", name="Back to the recipes").click()
    page.wait_for_url("**/")
    assert page.faults == []


def test_the_examples_are_where_the_test_looks() -> None:
    assert Path(RECIPES).is_dir() and len(NAMES) >= 10
