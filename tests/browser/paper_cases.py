"""The sheets of the example recipes and of a bar of eight steps, for the tests of paper.

A sheet is opened once in each unit; on A4 and on Letter it is measured as laid out, and printed.
"""

import io
import os
import tomllib
from functools import cache
from typing import Any

import pytest
from pypdf import PdfReader

from billet import Sheet, load_recipe_text, parse_recipe, plan
from billet.contract.report import Report
from billet.sheets.drawn import CutFigure, StackFigure
from web.http.address import encode
from web.paper import paper_sheet

from .conftest import RECIPES

KINDS = ("forge", "harden", "kiln", "buyer")
FULLEST = ["first_rain", "heron_feather", "reed_bed_kitchen", "slate_300", "twin_cord_composite"]
"""The recipes whose sheets hold most; all of them with BILLET_EVERY_SHEET=1, see DEVELOPERS.md."""
NAMES = [path.stem for path in sorted(RECIPES.glob("*.toml"))]
EVERY = pytest.mark.parametrize("name", NAMES if os.environ.get("BILLET_EVERY_SHEET") else FULLEST)
EIGHT = "eight_steps"
PAPER_MM = {"A4": (194, 281), "Letter": (199, 263)}
TWELVE_POINTS_PX = 16.0
PX_PER_MM = 96.0 / 25.4
SMALLEST = """() => Math.min(...[...document.querySelectorAll('.side, .label-card')].flatMap(side =>
  [...side.querySelectorAll('*')].filter(e => [...e.childNodes].some(n => n.nodeType === 3 &&
    n.data.trim()) &&
    e.getClientRects().length && !e.closest('title, desc, caption, svg.sign')).map(e => {
      const size = parseFloat(getComputedStyle(e).fontSize);
      const svg = e.closest('svg.drawn');
      return svg ? size * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : size; })))"""
HEIGHTS = """() => [...document.querySelectorAll('.side')].map(side => {
  side.style.minHeight = '0'; return side.getBoundingClientRect().height; })"""
BROKEN_ROWS = """() => [...document.querySelectorAll('ol.stops:not(.stops-one)')].filter(row =>
  new Set([...row.children].map(e => Math.round(e.getBoundingClientRect().top))).size > 1).length"""
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


@cache
def recipe_of(name: str) -> dict[str, Any]:
    """An example, or the bar of eight steps: cut twice, welded three times, drawn in 15 heats; of its first
    and last step some numbers are as they were proposed."""
    if name != EIGHT:
        return dict(load_recipe_text((RECIPES / f"{name}.toml").read_text(encoding="utf-8")))
    recipe = tomllib.loads((RECIPES / "reed_bed_kitchen.toml").read_text(encoding="utf-8"))
    weld, draw, _, cut, again, last = ({k: v for k, v in s.items() if k != "note"} for s in recipe["steps"])
    steps = [
        {**weld, "proposed": ["temperature_c", "minutes"]}, draw, cut, again,
        {**draw, "heats": 5, "minutes": 20}, {**cut, "pieces": 3}, {**again, "height_mm": 30},
        {**last, "minutes": 24, "proposed": ["heats"]},
    ]  # fmt: skip
    return {**recipe, "title": "Two cuts, kitchen bar", "steps": steps}


@cache
def report_of(name: str) -> Report:
    return plan(parse_recipe(recipe_of(name))).report


def sheet_of(name: str, kind: str, units: str = "mm") -> Sheet:
    return paper_sheet(report_of(name), kind, "inch" if units == "inch" else "mm")


def as_paper(page: Any, paper: str) -> None:
    """The page laid out as on this paper, for measuring."""
    wide, high = PAPER_MM[paper]
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(wide * PX_PER_MM), "height": round(high * PX_PER_MM)})


def opened_holds_on_paper(page: Any, name: str, kind: str, units: str) -> None:
    """Opens the sheet: all is drawn, nothing small or cut off, and it prints on as many sides as planned."""
    page.goto(f"/sheet/{kind}?r={encode(recipe_of(name))}&units={units}")
    sheet = sheet_of(name, kind, units)
    all_is_drawn(page, sheet, kind, report_of(name))
    try:
        for paper in PAPER_MM:
            as_paper(page, paper)
            nothing_is_small_or_cut_off(page)
            printed = PdfReader(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=False)))
            assert len(printed.pages) == len(sheet.pages), paper
            texts = [side.extract_text() for side in printed.pages]
            assert all("Bar id" in text for text in texts)
            assert "°C" in "".join(texts)
    finally:
        page.emulate_media(media="null")


def nothing_is_small_or_cut_off(page: Any) -> None:
    """Twelve points at the least, nothing beyond the side, boxes of 7 mm, drawings as wide as they say, each
    row of sizes on one line."""
    assert page.evaluate(BROKEN_ROWS) == 0
    assert page.evaluate(SMALLEST) >= TWELVE_POINTS_PX - 0.05
    assert page.evaluate(OUTSIDE) == []
    for wide, high in page.evaluate(BOXES):
        assert wide == pytest.approx(7 * PX_PER_MM, abs=0.5)
        assert high == pytest.approx(7 * PX_PER_MM, abs=0.5)
    for told, drawn in page.evaluate(SVGS):
        assert float(told.removesuffix("mm")) * PX_PER_MM == pytest.approx(drawn, abs=0.6)


def all_is_drawn(page: Any, sheet: Sheet, kind: str, report: Report) -> None:
    """A pile a side, a ruler a cut, a bar a step; the windows with the fire; the face."""
    figures = [section.figure for section in sheet.sections]
    if kind == "forge":
        assert page.locator("svg.drawn-stack").count() == len(sheet.pages)
        assert any(isinstance(figure, StackFigure) for figure in figures)
        assert page.locator("svg.drawn-ruler").count() == sum(isinstance(f, CutFigure) for f in figures)
        steps = sum(len(section.operations) for section in sheet.sections)
        assert page.locator("svg.drawn-bar").count() == steps
    elif kind == "harden":
        windows = [r for r in report.hardening.per_steel if r.role != "soft" and r.possible_c is not None]
        assert page.locator("svg.drawn-windows").count() == (1 if windows else 0)
        if report.hardening.set_point_c is not None and report.hardening.control is not None:
            assert page.locator("svg.drawn-windows .fire-band").count() == 1
    elif kind == "buyer":
        assert page.locator(".face-place img").count() == 1
