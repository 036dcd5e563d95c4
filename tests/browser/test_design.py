"""Designing a bar in the browser: from nothing to a printed sheet, and everything that may go wrong."""

import random
from pathlib import Path
from typing import Any

import pytest

from .conftest import PHONE

LAPTOP = {"width": 1366, "height": 768}
TASK = {
    "title": "Bench bar",
    "steels[0].grade": "1095",
    "stack.thickness_mm[0]": "3,2",
    "stack.thickness_mm[1]": "1,6",
    "stack.count": "13",
    "stack.width_mm": "38",
    "steps[5].height_mm": "6,5",
}
"""What a smith changes for a bar of 13 plates of 1095 and 15N20, cut once and restacked; 15N20 and 150 mm
stand there already. Eight fields are the aim, with the thickness of both steels these are seven."""


def settled(page: Any) -> None:
    """Until what was typed is answered."""
    page.wait_for_timeout(350)
    page.wait_for_selector("#bench:not(.waiting)")


def fill(page: Any, fields: dict[str, str]) -> None:
    for name, text in fields.items():
        page.locator(f'[name="{name}"]').fill(text)
    settled(page)


def told(page: Any) -> list[str]:
    """The line of the answer, part by part."""
    return [
        text.replace("\u202f", " ").replace("\xa0", " ")
        for text in page.locator("#fixed .told").all_inner_texts()
    ]


def press(page: Any, label: str) -> None:
    """The visible button with this label."""
    page.locator("button:not([aria-hidden]):visible", has_text=label).first.click()


def cards(page: Any) -> int:
    return int(page.locator(".card").count())


def tell_my_shop(page: Any) -> None:
    page.goto("/design")
    page.locator("#part-mine > summary").click()
    page.locator('[name="mine.fire"]').select_option("kiln_ordinary")
    page.locator('[name="mine.oils[0].name"]').fill("canola, tank 2")
    settled(page)


def test_the_page_opens_with_a_bar_and_its_answer(page: Any) -> None:
    page.goto("/design")
    assert cards(page) == 6
    assert told(page)[0] == "55 layers" and "815 °C 1499 °F" in told(page)
    assert page.locator(".card .grows svg").count() == 6
    assert page.locator(".fault").count() == 0
    assert page.faults == []


def test_task_one_from_nothing_to_paper(page: Any) -> None:
    """Seven fields and two presses to the sheet, which has the button that prints."""
    page.set_viewport_size(LAPTOP)
    tell_my_shop(page)
    page.goto("/design")
    fill(page, TASK)
    page.locator("#fixed .told", has_text="49 layers").wait_for(timeout=20_000)
    assert told(page)[1].startswith("6.5 × 38 × ")
    assert told(page)[3].startswith("canola, tank 2") and told(page)[4].startswith("my fire: ")
    press(page, "Forge sheet")
    page.wait_for_url("**/sheet/forge?**")
    sheet = page.locator("main").inner_text()
    assert "Bench bar" in sheet and "1095" in sheet
    assert page.faults == []


def test_what_is_proposed_is_marked_until_it_is_touched(page: Any) -> None:
    page.goto("/design")
    field = page.locator('.field:has([name="steps[0].height_mm"])')
    assert "proposed" in field.inner_text()
    assert "heat, minutes, heats" in page.locator("#step-1-open").inner_text()
    fill(page, {"steps[0].height_mm": "27"})
    page.keyboard.press("Tab")
    fill(page, {"stack.count": "17"})
    assert "proposed" not in field.inner_text()
    assert page.input_value('[name="steps[0].height_mm"]') == "27"


def test_a_proposal_follows_what_comes_before_it(page: Any) -> None:
    page.goto("/design")
    before = page.input_value('[name="steps[0].height_mm"]')
    fill(page, {"stack.count": "21"})
    assert float(page.input_value('[name="steps[0].height_mm"]')) > float(before)


def test_a_draw_is_told_by_length_or_by_how_many_times(page: Any) -> None:
    page.goto("/design")
    page.locator("#step-6-more > summary").click()
    fill(page, {"steps[5].to_length": "80 cm"})
    assert told(page)[1].endswith("× 800 mm") or told(page)[1].endswith("× 801 mm")
    fill(page, {"steps[5].to_length": "", "steps[5].times": "2"})
    before = page.locator("#step-5-drawn p").inner_text().split("×")[-1].split("\u202f")[0]
    assert abs(float(told(page)[1].split("×")[-1].split()[0]) / float(before) - 2.0) < 0.02


def test_a_half_typed_number_takes_nothing_away(page: Any) -> None:
    page.goto("/design")
    before = told(page)
    fill(page, {"stack.width_mm": "38 x"})
    assert told(page) == before
    assert page.locator(".field-bad").count() == 0
    assert "stale" in page.locator("#bench").get_attribute("class")
    page.keyboard.press("Tab")
    settled(page)
    [bad] = page.locator(".field-bad").all()
    assert bad.locator("input").get_attribute("name") == "stack.width_mm"
    assert "is no length" in bad.inner_text() and told(page) == before
    page.reload()
    settled(page)
    assert page.input_value('[name="stack.width_mm"]') == "38 x" and told(page) == before
    fill(page, {"stack.width_mm": "38"})
    assert page.locator(".field-bad").count() == 0 and "38" in told(page)[1]
    assert page.faults == []


def test_a_fault_is_told_in_words_and_leads_to_its_field(page: Any, address: str) -> None:
    page.goto("/design")
    page.locator("#step-1-more > summary").click()
    fill(page, {"steps[0].temperature_c": "1500"})
    page.locator("#step-1-more > summary").click()
    page.locator('[name="title"]').focus()
    settled(page)
    wrong = page.locator("#wrong")
    assert "Heat to: " in wrong.inner_text()
    assert "temperature_c" not in page.locator("main").inner_text()
    assert wrong.locator(".kept").is_visible()
    other = page.context.new_page()
    other.goto(page.url)
    assert "as soon as every step can be forged" in other.inner_text("#fixed")
    assert not other.locator(".kept").is_visible(), "no bar stands above"
    other.close()
    wrong.locator("a").first.click()
    assert page.evaluate("document.activeElement.name") == "steps[0].temperature_c"
    field = page.locator('[name="steps[0].temperature_c"]')
    assert field.is_visible() and field.get_attribute("aria-invalid") == "true"
    described = [page.locator(f'[id="{place}"]') for place in field.get_attribute("aria-describedby").split()]
    assert any("melts" in part.inner_text() or "solidus" in part.inner_text() for part in described)
    recipe = {
        "format": 1, "title": "Bench bar", "steels": {"1084": "1084"},
        "stack": {"width_mm": 40, "length_mm": 150, "plates": [{"steel": "1084", "thickness_mm": 3}] * 2},
        "steps": [{"do": "weld", "temperature_c": 1500, "minutes": 12}],
    }  # fmt: skip
    answer = page.request.post(f"{address}/api/plan", data=recipe)
    assert answer.status == 422
    assert answer.json()["errors"][0]["where"] == "steps[0].temperature_c"


def test_steps_are_put_in_moved_copied_and_taken_out(page: Any) -> None:
    page.goto("/design")
    page.locator("#gap-2 > summary").click()
    page.locator("#gap-2 button", has_text="Cut, weld and draw again").click()
    page.wait_for_selector(".card >> nth=9")
    settled(page)
    assert cards(page) == 10 and int(told(page)[0].split()[0]) > 150
    assert page.locator(".fault").count() == 0
    page.locator("#step-7-more > summary").click()
    page.locator("#step-7-more button", has_text="Take out").click()
    page.wait_for_selector(".card >> nth=9", state="detached")
    page.locator("#step-2-more > summary").click()
    page.locator("#step-2-more button", has_text="Copy").click()
    page.wait_for_selector(".card >> nth=9")
    assert page.faults == []


def test_undo_and_redo_by_key_and_by_button(page: Any) -> None:
    page.goto("/design")
    first = told(page)
    fill(page, {"stack.count": "21"})
    second = told(page)
    assert second != first
    page.keyboard.press("Control+z")
    settled(page)
    assert told(page) == first and page.input_value('[name="stack.count"]') == "15"
    page.locator("[data-do=redo]").first.click()
    settled(page)
    assert told(page) == second and page.input_value('[name="stack.count"]') == "21"


def test_nothing_is_lost_by_reload_units_or_going_back(page: Any) -> None:
    page.goto("/design")
    fill(page, {"title": "River bar", "stack.count": "17"})
    before = told(page)
    page.reload()
    settled(page)
    assert told(page) == before and page.input_value('[name="title"]') == "River bar"
    page.keyboard.press("Control+z")
    settled(page)
    assert page.input_value('[name="stack.count"]') == "15", "of before the reload"
    page.reload()
    settled(page)
    page.locator("[data-do=redo]").first.click()
    settled(page)
    assert told(page) == before
    page.get_by_role("link", name="Show inches").click()
    page.wait_for_url("**units=inch**")
    settled(page)
    assert page.input_value('[name="stack.count"]') == "17"
    assert told(page)[2].startswith("1499 °F") and " K" not in page.locator("#fixed").inner_text()
    page.go_back()
    settled(page)
    assert told(page) == before and page.input_value('[name="title"]') == "River bar"


def test_the_link_reproduces_the_plan_and_keeps_my_shop_out(page: Any, browser: Any) -> None:
    tell_my_shop(page)
    fill(page, {"title": "River bar", "stack.count": "17"})
    assert "mine=" not in page.url
    link = page.locator("#bench").get_attribute("data-link")
    assert "mine=" not in link
    stranger = browser.new_context()
    other = stranger.new_page()
    other.goto(page.url)
    assert told(other)[:3] == told(page)[:3]
    assert told(page)[3].startswith("canola") and told(other)[3].startswith("fast oil")
    stranger.close()


def test_engine_oil_is_never_taken_and_says_why(page: Any) -> None:
    tell_my_shop(page)
    fill(page, {"mine.oils[0].name": "used engine oil"})
    page.locator('[name="title"]').focus()
    settled(page)
    assert "never quench in used engine oil" in page.locator("#wrong").inner_text()


def test_my_bars_are_kept_copied_taken_out_and_moved_as_one_file(page: Any, tmp_path: Path) -> None:
    page.goto("/design")
    fill(page, {"title": "River bar"})
    page.goto("/design?start=core")
    fill(page, {"title": "Weir bar"})
    page.goto("/")
    names = page.locator("#my-bars li a")
    assert names.all_inner_texts() == ["Weir bar", "River bar"]
    assert page.locator("#my-bars li svg").count() == 2
    assert "55 layers" in page.locator("#my-bars li").nth(1).inner_text()
    page.locator("#my-bars [data-do=copy]").first.click()
    assert names.all_inner_texts() == ["Weir bar, copy", "Weir bar", "River bar"]
    with page.expect_download() as download:
        page.locator("[data-do=export]").click()
    download.value.save_as(tmp_path / "bars.json")
    for _ in range(3):
        page.locator("#my-bars [data-do=remove]").first.click()
    assert names.count() == 0
    page.locator("#bars-file").set_input_files(tmp_path / "bars.json")
    page.wait_for_selector("#my-bars li")
    assert set(names.all_inner_texts()) == {"Weir bar, copy", "Weir bar", "River bar"}
    page.locator("#my-bars li a", has_text="River bar").click()
    page.wait_for_selector("#bench")
    assert page.input_value('[name="title"]') == "River bar"
    assert page.faults == []


def test_a_bar_too_long_for_a_link_is_kept_and_opens_in_the_units_of_the_page(page: Any) -> None:
    page.goto("/design?start=one")
    page.locator("#part-sheet > summary").click()
    page.locator("#step-1-more > summary").click()
    drawn = random.Random(7)
    long = "".join(chr(0x4E00 + drawn.randrange(20000)) for _ in range(600))  # nothing to deflate
    fields = {
        "title": (0, 111),
        "steps[0].note": (111, 403),
        "sheet.maker": (403, 515),
        "sheet.number": (515, 547),
    }
    fields["sheet.forged_on"] = (547, 579)
    fill(page, {name: "Long bar" + long[first:last] for name, (first, last) in fields.items()})
    assert page.locator("#bench").get_attribute("data-draft")
    page.reload()
    settled(page)
    assert page.input_value('[name="title"]').startswith("Long bar")
    page.goto("/?units=inch")
    page.locator("#my-bars li a", has_text="Long bar").click()
    page.wait_for_selector("#bench")
    assert page.input_value('[name="steps[0].note"]') == "Long bar" + long[111:403]
    assert page.input_value('[name="units"]') == "inch"
    page.get_by_role("link", name="Show millimetres").click()
    page.wait_for_selector('[name="units"][value="mm"]', state="attached")
    assert page.input_value('[name="steps[0].note"]') == "Long bar" + long[111:403]
    page.goto("/design?start=one")
    fill(page, {"title": "Short bar"})
    page.goto("/")
    assert page.locator("#my-bars li a").count() == 2
    assert page.faults == []


def test_a_file_that_holds_no_bars_is_told_so(page: Any, tmp_path: Path) -> None:
    page.goto("/")
    bad = tmp_path / "bad.json"
    bad.write_text('{"bars": "none"}', encoding="utf-8")
    page.locator("#bars-file").set_input_files(bad)
    page.get_by_text("This file holds no bars.").wait_for()


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("1/8", "3.2"),
        ('1 1/8"', "28.6"),
        ("3.2 mm", "3.2"),
        ("0.125 in", "3.2"),
        ("3,2", "3.2"),
        ("0,32 cm", "3.2"),
    ],
)
def test_lengths_in_any_writing(written: str, mm: str, page: Any) -> None:
    page.goto("/design")
    fill(page, {"stack.thickness_mm[0]": written})
    press(page, "Forge sheet")
    page.wait_for_url("**/sheet/forge?**")
    assert f"{mm}\u202fmm" in page.locator("main").inner_text()


def test_scrap_leads_to_its_page_and_mild_steel_is_planned(page: Any) -> None:
    page.goto("/design")
    fill(page, {"steels[1].grade": "leaf spring"})
    page.keyboard.press("Tab")
    settled(page)
    page.get_by_role("link", name="What such steel often is").click()
    page.wait_for_url("**/scrap#leaf-spring")
    assert "coupon" in page.locator("h1").inner_text()
    page.go_back()
    settled(page)
    fill(page, {"steels[1].grade": "mild steel"})
    page.keyboard.press("Tab")
    settled(page)
    assert page.locator(".field-bad").count() == 0 and "layers" in told(page)[0]


def test_units_stay_in_the_address(page: Any, kept: dict[str, str]) -> None:
    page.goto(f"/plan?r={kept['reed_bed_kitchen']}")
    page.get_by_role("link", name="Show inches").click()
    assert "units=inch" in page.url
    page.get_by_role("link", name="Forge sheet").first.click()
    assert "units=inch" in page.url
    assert "\u202fin" in page.locator("main").inner_text()


def test_on_a_telephone_the_answer_stays_in_view(page: Any) -> None:
    page.set_viewport_size(PHONE)
    page.goto("/design")
    page.locator("#step-6").scroll_into_view_if_needed()
    box = page.locator("#fixed").bounding_box()
    assert box["y"] >= 0 and box["y"] + box["height"] <= 90
    assert "815" in page.locator("#fixed").inner_text()
    page.locator("#why > summary").click()
    assert "Window" in page.locator("#why").inner_text()


def test_the_step_looked_at_is_drawn_and_its_dimensions_are_fields(page: Any) -> None:
    """One truth: a dimension has no name of its own, it writes into the field of the card and shows it."""
    page.goto("/design?start=one")
    height, dimension = (
        page.locator('[name="steps[0].height_mm"]'),
        page.locator('[id="at-steps[0].height_mm"]'),
    )
    page.locator('[name="stack.width_mm"]').focus()
    page.locator("#chosen h3", has_text="The stack as laid").wait_for()
    assert page.locator('[id="at-stack.width_mm"]').input_value() == "35"
    height.focus()
    page.locator("#chosen h3", has_text="The bar after step 1").wait_for()
    dimension.fill("6")
    assert height.input_value() == "6"
    settled(page)
    assert told(page)[1].startswith("6 × 35") and dimension.input_value() == "6"
    height.fill("7")
    assert dimension.input_value() == "7"
    sent = page.evaluate("[...new FormData(document.getElementById('bench')).keys()]")
    assert sent.count("steps[0].height_mm") == 1 and not any(name.startswith("at-") for name in sent)
    assert page.faults == []


def test_an_opened_step_fills_the_telephone(page: Any) -> None:
    page.set_viewport_size(PHONE)
    page.goto("/design?start=one")
    step = page.locator("#step-1-more")
    for leave in ("Escape", "Back", "touch"):
        step.locator("> summary").click()
        box, way_back = page.locator("#step-1").bounding_box(), step.locator("> summary").bounding_box()
        assert (box["x"], box["y"], box["width"], box["height"]) == (0, 0, *PHONE.values())
        assert way_back["y"] == 0 and way_back["height"] >= 44
        assert page.locator("#step-1 svg").is_visible()
        page.locator('[name="steps[0].minutes"]').focus()
        if leave == "Escape":
            page.keyboard.press("Escape")
        elif leave == "Back":
            page.go_back()
        else:
            step.locator("> summary").click()
        page.locator(".card details[open]").wait_for(state="detached")
        page.wait_for_timeout(100)
        assert not page.evaluate("history.state?.panel")
        assert page.evaluate("document.activeElement.parentElement.id") == "step-1-more"
    assert page.locator('[name="steps[0].minutes"]').get_attribute("inputmode") == "decimal"
    assert "/design" in page.url and page.faults == []


def test_it_works_without_script(browser: Any, address: str) -> None:
    """Fields, a step put in, my own fire, and on to the sheet: by posts alone."""
    context = browser.new_context(java_script_enabled=False, base_url=address)
    page = context.new_page()
    page.goto("/design")
    for name, text in TASK.items():
        page.locator(f'[name="{name}"]').fill(text)
    page.locator("#part-mine > summary").click()
    page.locator('[name="mine.fire"]').select_option("kiln_ordinary")
    page.locator("#gap-6 > summary").click()
    page.locator("#gap-6 button", has_text="Grind").click()
    page.wait_for_load_state()
    assert page.locator(".card").count() == 7 and "#step-7" in page.url
    assert page.input_value('[name="stack.width_mm"]') == "38"
    assert page.locator('[name="mine.fire"]').input_value() == "kiln_ordinary"
    assert told(page)[4].startswith("my fire: ")
    press(page, "Forge sheet")
    page.wait_for_url("**/sheet/forge?**")
    assert "Bench bar" in page.locator("main").inner_text()
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
