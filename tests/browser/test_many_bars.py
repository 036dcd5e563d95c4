"""Pages over many bars in a browser: a search that tells how far it is and stops, own oils, what came."""

from collections.abc import Iterator
from typing import Any

import pytest

from .conftest import WIDE, served

PATIENT_MS = 120_000
NOTE = """() => { window.told = []; new MutationObserver(() => {
    const far = document.getElementById("far"); if (far) window.told.push(far.textContent);
}).observe(document.querySelector("main"), {subtree: true, childList: true, characterData: true}); }"""


@pytest.fixture(scope="module")
def in_workers() -> Iterator[str]:
    """A service that computes in a process of its own, as one that is started by hand does."""
    with served(workers=1, answer_s=120.0, wait_for_a_place_s=120.0) as where:
        yield where


def test_a_search_tells_how_far_it_is_and_stops(page: Any, in_workers: str) -> None:
    page.goto(f"{in_workers}/wish")
    assert page.get_by_role("button", name="Stop").is_hidden()
    page.evaluate(NOTE)
    page.get_by_role("button", name="Propose", exact=True).click()
    page.locator("#far", has_text="Sized").wait_for(timeout=PATIENT_MS)
    page.get_by_role("button", name="Stop").click()
    page.locator("#far", has_text="Stopped.").wait_for()
    assert page.get_by_role("button", name="Stop").is_hidden()
    page.fill("[id='want.layers']", "120")
    page.get_by_role("button", name="Propose", exact=True).click()
    page.locator("#proposals").wait_for(timeout=PATIENT_MS)
    assert any("planned 1 of" in told for told in page.evaluate("window.told"))
    assert page.locator(".proposal").count() >= 2
    assert page.input_value("[id='want.layers']") == "120"
    assert page.evaluate("document.activeElement.id") == "proposals"
    assert 0 <= page.locator("#proposals").bounding_box()["y"] < 100, "read from its beginning"
    assert page.faults == []


def test_without_script_a_wish_is_answered_too(browser: Any, address: str) -> None:
    context = browser.new_context(viewport=WIDE, base_url=address, java_script_enabled=False)
    context.set_default_timeout(PATIENT_MS)
    page = context.new_page()
    page.goto("/wish")
    page.get_by_role("button", name="Propose", exact=True).click()
    page.locator("#proposals").wait_for()
    assert page.locator(".proposal").count() >= 2
    context.close()


def test_own_fire_and_oils_of_this_browser_stand_in_the_fields(page: Any) -> None:
    page.goto("/steels")
    kept = (
        '{"mine.fire": "kiln_ordinary", "mine.oils[0].name": "canola", "mine.oils[0].class": "vegetable oil",'
        ' "mine.oils[1].nickel_ball_s": "9.5"}'
    )
    page.evaluate("kept => localStorage.setItem('billet.shop', kept)", kept)
    page.goto("/partners?steel=1084")
    page.locator("#mine-told").wait_for()
    assert page.input_value("#oil") == "vegetable oil, 9.5" and page.input_value("#fire") == "kiln_ordinary"
    page.goto("/partners?steel=1084&oil=&fire=")
    page.wait_for_load_state("networkidle")
    assert page.input_value("#oil") == "" and page.faults == []


def test_what_came_is_entered_on_the_plan_page(page: Any, kept: dict[str, str]) -> None:
    page.goto(f"/plan?r={kept['reed_bed_kitchen']}")
    planned = page.url
    page.locator("#midway summary").click()
    page.fill("#midway-height_mm", "31")
    page.fill("#midway-cut_away_mm", "12")
    page.get_by_role("button", name="Plan from here").click()
    page.get_by_role("link", name="Forge sheet from here").wait_for(timeout=PATIENT_MS)
    assert page.url != planned and page.url.endswith("#midway")
    assert "goes on from what was measured" in page.locator("#midway").inner_text()
    assert page.faults == []
