"""What the browser keeps of a bar and tells of it: pages that come back, a full store, links, dimensions."""

import json
from typing import Any

from .conftest import PHONE
from .test_design import cards, fill, press, settled

RETURN = "dispatchEvent(new PageTransitionEvent('pageshow', {persisted: true}))"
"""What a page hears that the browser kept whole while the tab was elsewhere."""


def keep(page: Any, titles: list[str]) -> None:
    bar = {"at": "2026-11-01T10:00:00Z", "address": "?", "draft": "{}", "told": [], "picture": ""}
    bars = [{**bar, "id": title, "title": title} for title in titles]
    page.evaluate("told => localStorage.setItem('billet.bars', told)", json.dumps(bars))


def titles(page: Any) -> list[str]:
    return [bar["title"] for bar in json.loads(page.evaluate("localStorage.getItem('billet.bars')"))]


def test_a_page_that_comes_back_writes_over_no_other_bar(page: Any) -> None:
    page.goto("/design?start=one")
    fill(page, {"title": "River bar"})
    page.evaluate("sessionStorage.setItem('billet.now', JSON.stringify({id: 'Weir bar', r: 'x'}))")
    keep(page, ["Weir bar"])
    page.evaluate(RETURN)
    fill(page, {"title": "River bend"})
    assert titles(page) == ["River bend", "Weir bar"]
    page.reload()
    fill(page, {"title": "River mouth"})
    assert titles(page) == ["River mouth", "Weir bar"]
    page.goto("/")
    assert page.locator("#my-bars li").count() == 2
    keep(page, ["Weir bar"])
    page.evaluate(RETURN)
    assert page.locator("#my-bars li a").all_inner_texts() == ["Weir bar"]
    assert page.faults == []


def test_no_bar_goes_silently_where_two_hundred_are_kept(page: Any) -> None:
    page.goto("/glossary")
    many = [f"Bar {number}" for number in range(200)]
    keep(page, many)
    page.goto("/design?start=one")
    fill(page, {"title": "One more"})
    assert "can keep no more bars" in page.locator("#wrong").inner_text()
    page.locator("[data-do=keep]").click()
    assert page.locator("[data-do=keep]").inner_text() == "Not kept: My bars is full"
    page.goto("/")
    page.locator("#my-bars [data-do=copy]").first.click()
    assert "can keep no more bars" in page.locator("#my-bars [role=status]").inner_text()
    assert titles(page) == many
    page.locator("#my-bars [data-do=remove]").first.click()
    page.locator("#my-bars [data-do=copy]").first.click()
    assert page.locator("#my-bars [role=status]").inner_text() == ""
    assert titles(page) == ["Bar 1, copy", *many[1:]]


def test_a_link_that_could_not_be_copied_is_told_so(page: Any) -> None:
    page.goto("/design?start=one")
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")  # as over plain HTTP
    page.locator("[data-do=copy]").click()
    assert page.locator("[data-do=copy]").inner_text().startswith("Not copied")
    assert page.faults == []


def test_a_dimension_tells_its_card_while_no_bar_can_be_made(page: Any) -> None:
    page.goto("/design?start=one")
    height, dimension = "steps[0].height_mm", page.locator('[id="at-steps[0].height_mm"]')
    page.locator(f'[name="{height}"]').focus()
    settled(page)
    for text in ("5", "abc", "abd"):
        fill(page, {height: text})
    page.keyboard.press("Control+z")
    settled(page)
    assert (page.input_value(f'[name="{height}"]'), dimension.input_value()) == ("abc", "abc")
    page.reload()
    settled(page)
    assert (page.input_value(f'[name="{height}"]'), dimension.input_value()) == ("abc", "abc")
    assert page.faults == []


def test_the_keyboard_stays_with_a_step_that_was_moved_or_taken_out(page: Any) -> None:
    page.goto("/design")
    page.locator("#step-2-more > summary").click()
    press(page, "Down")
    page.wait_for_selector("#step-3 summary:focus")
    settled(page)
    page.keyboard.press("Control+z")
    settled(page)
    page.locator("#step-6-more > summary").click()
    press(page, "Take out")
    page.wait_for_selector("#step-5 summary:focus")
    assert cards(page) == 5 and page.faults == []


def test_on_a_telephone_the_enlarged_part_lies_above_the_fields(page: Any) -> None:
    page.set_viewport_size(PHONE)
    page.goto("/design")
    page.wait_for_selector("#bench.live")
    circle = page.locator("#chosen-side circle.outline").bounding_box()
    field = page.locator(".dimension-length").bounding_box()
    assert circle["y"] + circle["height"] < field["y"]
