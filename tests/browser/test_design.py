"""Designing a bar in the browser: from nothing to a printed sheet, and everything that may go wrong."""

from typing import Any

import pytest

STACK = {
    "title": "Bench bar", "steels[0].grade": "1095", "steels[1].grade": "15N20", "stack.width_mm": "40",
    "stack.length_mm": "150", "stack.count": "9", "stack.thickness_mm[0]": "1/8",
    "stack.thickness_mm[1]": "1.5", "steps[0].temperature_c": "2050 F", "steps[0].minutes": "12",
    "steps[0].height_mm": '3/4"',
}  # fmt: skip


def fill(page: Any, fields: dict[str, str]) -> None:
    for name, text in fields.items():
        page.locator(f'[name="{name}"]').fill(text)


def press(page: Any, label: str) -> None:
    """The visible button with this label."""
    page.locator("button:not([aria-hidden]):visible", has_text=label).first.click()


def plan_a_bar(page: Any) -> None:
    page.goto("/design")
    fill(page, STACK)
    press(page, "Plan this bar")
    page.wait_for_url("**/plan?**")


def test_from_nothing_to_a_printed_sheet(page: Any) -> None:
    plan_a_bar(page)
    assert "Harden at" in page.locator("h1").inner_text()
    page.get_by_role("link", name="Forge sheet").first.click()
    page.wait_for_url("**/sheet/forge?**")
    sheet = page.locator("main").inner_text()
    assert "Bench bar" in sheet and "1121\u202f°C / 2050\u202f°F" in sheet
    assert page.faults == []


def test_the_link_reproduces_the_plan(page: Any, browser: Any) -> None:
    plan_a_bar(page)
    first = page.locator("h1").inner_text()
    stranger = browser.new_context()
    other = stranger.new_page()
    other.goto(page.url)
    assert other.locator("h1").inner_text() == first
    stranger.close()


def test_a_fault_stands_at_its_field_in_the_words_of_the_interface(page: Any, address: str) -> None:
    page.goto("/design")
    fill(page, {**STACK, "steps[0].temperature_c": "1500"})
    press(page, "Plan this bar")
    page.wait_for_load_state()
    assert "/design?" in page.url
    recipe = {
        "format": 1, "title": "Bench bar", "steels": {"dark": "1095", "bright": "15N20"},
        "stack": {"width_mm": 40, "length_mm": 150, "pattern": ["dark", "bright"], "count": 9,
                  "thickness_mm": {"dark": 3.175, "bright": 1.5}},
        "steps": [{"do": "weld", "temperature_c": 1500, "minutes": 12, "height_mm": 19.05}],
    }  # fmt: skip
    answer = page.request.post(f"{address}/api/plan", data=recipe)
    assert answer.status == 422
    [fault] = answer.json()["errors"]
    assert fault["where"] == "steps[0].temperature_c"
    field = page.locator('[name="steps[0].temperature_c"]')
    assert field.get_attribute("aria-invalid") == "true"
    described = field.get_attribute("aria-describedby").split()
    told = [page.locator(f'[id="{place}"]').inner_text() for place in described]
    assert any(fault["message"] in text for text in told)


def test_units_stay_in_the_address(page: Any, kept: dict[str, str]) -> None:
    page.goto(f"/plan?r={kept['reed_bed_kitchen']}")
    page.get_by_role("link", name="Show inches").click()
    assert "units=inch" in page.url
    page.get_by_role("link", name="Forge sheet").first.click()
    assert "units=inch" in page.url
    assert "\u202fin" in page.locator("main").inner_text()


@pytest.mark.parametrize(
    ("written", "mm"), [("1/8", "3.2"), ('1 1/8"', "28.6"), ("3.2 mm", "3.2"), ("0.125 in", "3.2")]
)
def test_lengths_in_any_writing(written: str, mm: str, page: Any) -> None:
    page.goto("/design")
    fill(page, {**STACK, "stack.thickness_mm[0]": written, "steps[0].height_mm": ""})
    press(page, "Plan this bar")
    page.wait_for_url("**/plan?**")
    page.get_by_role("link", name="Forge sheet").first.click()
    assert f"{mm}\u202fmm" in page.locator("main").inner_text()


def test_the_back_button_undoes(page: Any, kept: dict[str, str]) -> None:
    page.goto(f"/design?r={kept['reed_bed_kitchen']}")
    before = page.locator("fieldset.group-steel").count()
    press(page, "Add a steel")
    page.wait_for_function(f"document.querySelectorAll('fieldset.group-steel').length === {before + 1}")
    page.go_back()
    assert page.locator("fieldset.group-steel").count() == before


def test_the_answer_follows_while_typing(page: Any, kept: dict[str, str]) -> None:
    page.goto(f"/design?r={kept['reed_bed_kitchen']}")
    before = page.locator(".statement").inner_text()
    field = page.locator('[name="steels[1].grade"]')
    field.fill("440C")
    field.press("Tab")
    page.wait_for_function("before => document.querySelector('.statement').innerText !== before", arg=before)
    assert page.faults == []


def test_it_works_without_script(browser: Any, address: str) -> None:
    context = browser.new_context(java_script_enabled=False, base_url=address)
    page = context.new_page()
    plan_a_bar(page)
    assert "Harden at" in page.locator("h1").inner_text()
    context.close()


def test_the_keyboard_alone_reaches_the_plan(page: Any, kept: dict[str, str]) -> None:
    page.goto(f"/design?r={kept['reed_bed_kitchen']}")
    page.keyboard.press("Tab")
    for _ in range(250):
        if page.evaluate("document.activeElement.innerText") == "Plan this bar":
            break
        page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.innerText") == "Plan this bar"
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
    page.keyboard.press("Enter")
    page.wait_for_url("**/plan?**")
