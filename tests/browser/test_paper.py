"""The label on paper, what is largest on a sheet, and what is only for the screen."""

import io
import re
from typing import Any

from pypdf import PdfReader

from .paper_cases import EVERY, PAPER_MM, PX_PER_MM, SMALLEST, TWELVE_POINTS_PX, as_paper


@EVERY
def test_the_label_is_one_small_card(name: str, printing: Any, kept: dict[str, str]) -> None:
    printing.goto(f"/sheet/label?r={kept[name]}")
    for paper in PAPER_MM:
        pdf = PdfReader(io.BytesIO(printing.pdf(format=paper, prefer_css_page_size=False)))
        assert len(pdf.pages) == 1, paper
    text = pdf.pages[0].extract_text()
    assert "Bar id" in text and "Sheet:" not in text
    assert printing.locator(".face-place img").count() == 1
    as_paper(printing, "A4")
    card = printing.locator(".label-card").bounding_box()
    assert card["width"] <= 115 * PX_PER_MM and card["height"] <= 140 * PX_PER_MM
    assert printing.locator(".label-card").evaluate("e => getComputedStyle(e).borderTopStyle") == "dashed"
    assert printing.evaluate(SMALLEST) >= TWELVE_POINTS_PX - 0.05
    printing.emulate_media(media="null")


def test_heat_and_stops_are_the_largest_on_a_forge_sheet(printing: Any, kept: dict[str, str]) -> None:
    printing.goto(f"/sheet/forge?r={kept['reed_bed_kitchen']}")
    as_paper(printing, "Letter")
    size = "e => parseFloat(getComputedStyle(e).fontSize)"
    assert printing.locator(".op .heat b").first.evaluate(size) >= 32.0
    assert printing.locator(".op .heat span").first.evaluate(size) >= 18.6
    assert printing.locator(".stop-table b, .stops b").first.evaluate(size) >= 24.0
    printing.emulate_media(media="null")


def test_a_light_sheet_is_set_larger_than_a_full_one(printing: Any, kept: dict[str, str]) -> None:
    settings = {}
    for name in ("no_shared_window", "reed_bed_kitchen"):
        printing.goto(f"/sheet/forge?r={kept[name]}")
        kind = printing.locator(".side").first.get_attribute("class")
        settings[name] = int(re.search(r"set-(\d+)", kind)[1])  # type: ignore[index]
    assert settings["no_shared_window"] > settings["reed_bed_kitchen"] >= 24


def test_the_print_button_opens_the_dialogue_and_stays_off_the_paper(page: Any, kept: dict[str, str]) -> None:
    page.add_init_script("window.printed = 0; window.print = () => { window.printed += 1; };")
    page.goto(f"/sheet/forge?r={kept['reed_bed_kitchen']}")
    page.get_by_role("button", name="Print this sheet").click()
    assert page.evaluate("window.printed") == 1
    page.emulate_media(media="print")
    assert not page.get_by_role("button", name="Print this sheet").is_visible()
    assert page.faults == []


def test_without_script_there_is_no_print_button(browser: Any, address: str, kept: dict[str, str]) -> None:
    context = browser.new_context(base_url=address, java_script_enabled=False)
    opened = context.new_page()
    opened.goto(f"/sheet/forge?r={kept['reed_bed_kitchen']}")
    assert not opened.locator("[data-print]").is_visible()
    context.close()


def test_navigation_stays_off_the_paper(printing: Any, kept: dict[str, str]) -> None:
    printing.goto(f"/sheet/forge?r={kept['reed_bed_kitchen']}")
    text = PdfReader(io.BytesIO(printing.pdf(format="A4"))).pages[0].extract_text()
    assert "Pyrometer" not in text and "Show inches" not in text
