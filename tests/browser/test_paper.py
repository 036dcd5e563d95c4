"""The sheets on paper: nothing cut off, nothing too small, drawings as wide as they say."""

import io
import re
from typing import Any

import pytest
from pypdf import PdfReader

from billet.sheets.drawn import CutFigure, StackFigure

from .paper_cases import EVERY, KINDS, PAPER_MM, report_of, sheet_of

TWELVE_POINTS_PX = 16.0
PX_PER_MM = 96.0 / 25.4
SMALLEST = """() => Math.min(...[...document.querySelectorAll('.side, .label-card')].flatMap(side =>
  [...side.querySelectorAll('*')].filter(e => [...e.childNodes].some(n => n.nodeType === 3 &&
    n.data.trim()) &&
    e.getClientRects().length && !e.closest('title, desc, caption, svg.sign')).map(e => {
      const size = parseFloat(getComputedStyle(e).fontSize);
      const svg = e.closest('svg.drawn');
      return svg ? size * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : size; })))"""
BOXES = """() => [...document.querySelectorAll('.box')].map(e => {
  const r = e.getBoundingClientRect(); return [r.width, r.height]; })"""
OUTSIDE = """() => [...document.querySelectorAll('.side')].flatMap(side => {
  const s = side.getBoundingClientRect();
  return [...side.querySelectorAll('p, b, span, td, th, dd, dt, svg, h1, h2, img')].filter(e => {
    const r = e.getBoundingClientRect();
    return r.width && (r.right > s.right + 1 || r.left < s.left - 1) && !e.closest('caption, .unseen'); })
    .map(e => e.textContent.trim().slice(0, 40)); })"""
SVGS = """() => [...document.querySelectorAll('svg.drawn')].map(e => {
  const r = e.getBoundingClientRect(); return [e.getAttribute('width'), r.width]; })"""


def as_paper(page: Any, paper: str) -> None:
    """The page laid out as on this paper, for measuring."""
    wide, high = PAPER_MM[paper]
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(wide * PX_PER_MM), "height": round(high * PX_PER_MM)})


@EVERY
def test_the_label_is_one_small_card(name: str, printing: Any, kept: dict[str, str]) -> None:
    printing.goto(f"/sheet/label?r={kept[name]}")
    for paper in PAPER_MM:
        pdf = PdfReader(io.BytesIO(printing.pdf(format=paper, prefer_css_page_size=False)))
        assert len(pdf.pages) == 1, paper
    text = pdf.pages[0].extract_text()
    assert "Bar id" in text and "What it is" not in text
    as_paper(printing, "A4")
    card = printing.locator(".label-card").bounding_box()
    assert card["width"] <= 115 * PX_PER_MM and card["height"] <= 140 * PX_PER_MM
    assert printing.locator(".label-card").evaluate("e => getComputedStyle(e).borderTopStyle") == "dashed"
    assert printing.evaluate(SMALLEST) >= TWELVE_POINTS_PX - 0.05
    printing.emulate_media(media="null")


@pytest.mark.parametrize("paper", PAPER_MM)
@pytest.mark.parametrize("kind", KINDS)
@EVERY
def test_nothing_is_small_or_cut_off_and_boxes_are_seven_millimetres(
    name: str, kind: str, paper: str, printing: Any, kept: dict[str, str]
) -> None:
    printing.goto(f"/sheet/{kind}?r={kept[name]}")
    as_paper(printing, paper)
    try:
        assert printing.evaluate(SMALLEST) >= TWELVE_POINTS_PX - 0.05
        assert printing.evaluate(OUTSIDE) == []
        for wide, high in printing.evaluate(BOXES):
            assert wide == pytest.approx(7 * PX_PER_MM, abs=0.5)
            assert high == pytest.approx(7 * PX_PER_MM, abs=0.5)
        for told, drawn in printing.evaluate(SVGS):
            assert float(told.removesuffix("mm")) * PX_PER_MM == pytest.approx(drawn, abs=0.6)
    finally:
        printing.emulate_media(media="null")


@EVERY
def test_every_sheet_is_drawn(name: str, printing: Any, kept: dict[str, str]) -> None:
    report = report_of(name)
    printing.goto(f"/sheet/forge?r={kept[name]}")
    sheet = sheet_of(name, "forge")
    figures = [section.figure for section in sheet.sections]
    assert printing.locator("svg.drawn-stack").count() == len(sheet.pages)
    assert any(isinstance(figure, StackFigure) for figure in figures)
    assert printing.locator("svg.drawn-ruler").count() == sum(isinstance(f, CutFigure) for f in figures)
    steps = sum(len(section.operations) for section in sheet.sections)
    assert printing.locator("svg.drawn-bar").count() == steps
    printing.goto(f"/sheet/harden?r={kept[name]}")
    windows = [r for r in report.hardening.per_steel if r.role != "soft" and r.possible_c is not None]
    assert printing.locator("svg.drawn-windows").count() == (1 if windows else 0)
    if report.hardening.set_point_c is not None and report.hardening.control is not None:
        assert printing.locator("svg.drawn-windows .fire-band").count() == 1
    for kind in ("buyer", "label"):
        printing.goto(f"/sheet/{kind}?r={kept[name]}")
        assert printing.locator(".face-place img").count() == 1


def test_heat_and_stops_are_the_largest_on_a_forge_sheet(printing: Any, kept: dict[str, str]) -> None:
    printing.goto(f"/sheet/forge?r={kept['reed_bed_kitchen']}")
    as_paper(printing, "Letter")
    size = "e => parseFloat(getComputedStyle(e).fontSize)"
    assert printing.locator(".op .heat b").first.evaluate(size) >= 32.0
    assert printing.locator(".op .heat span").first.evaluate(size) >= 18.6
    assert printing.locator(".stop-table b").first.evaluate(size) >= 24.0
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
