"""Bars of six to nine steps drawn by lot: the sums by which a forge sheet is split hold on the paper."""

import io
import random
from dataclasses import replace
from typing import Any

import pytest
from pypdf import PdfReader

from billet import Sheet, SheetPage, parse_recipe, plan, wording
from web.http.address import encode
from web.paper import Side, paper_sheet, sides
from web.paper_fit import PAPERS_MM, side_mm

from .paper_cases import BROKEN_ROWS, HEIGHTS, PX_PER_MM, as_paper

FULL = 0
"""The lot whose bar is as full as eight steps are: two draws of five heats, notes, much of it proposed."""
NOTE = "press from the middle outwards, wipe the flux off before the second pass"
STACK: dict[str, Any] = {
    "count": 15, "length_mm": 150, "width_mm": 40, "pattern": ["1084", "15N20"],
    "thickness_mm": {"1084": 3, "15N20": 1.5},
}  # fmt: skip


def drawn_bar(lot: int) -> dict[str, Any]:
    """A bar welded twice, with the heats, the notes and the cold steps that the lot gives it."""
    by, full = random.Random(lot), lot == FULL
    fires = ["temperature_c", "minutes", "heats"]
    weld = {"do": "weld", "temperature_c": 1130, "heats": 1, "proposed": [*fires, "height_mm"]}
    draw = {"do": "draw", "temperature_c": 1050, "proposed": fires}
    grind = {"do": "grind", "per_face_mm": 0.4}
    cut = {"do": "restack", "pieces": 4, "order": "same", "trim_mm": 10, "proposed": ["trim_mm"]}
    hot: list[dict[str, Any]] = [
        {**weld, "minutes": 12, "height_mm": 28}, {**draw, "height_mm": 12},
        {**weld, "minutes": 14, "height_mm": 36}, {**draw, "height_mm": 6},
    ]  # fmt: skip
    for step, heats in zip(hot[1::2], (5, 5) if full else by.choices(range(3, 10), k=2), strict=True):
        step |= {"heats": heats, "minutes": 4 * heats}
    for step in hot[::2] if full else by.sample(hot, by.randrange(4)):
        step["note"] = NOTE
    grinds, again, crops = (full or by.random() < 0.7 for _ in range(3))
    steps = [*hot[:2], *[grind] * grinds, cut, *hot[2:], *[{**grind, "proposed": ["per_face_mm"]}] * again]
    steps += [{"do": "crop", "end_mm": 10, "proposed": ["end_mm"]}] * crops
    steels = {name: name for name in STACK["pattern"]}
    blade = {"thickness_mm": 3}
    return {
        "format": 1, "title": "Flat stack", "steels": steels, "stack": STACK, "steps": steps, "blade": blade,
    }  # fmt: skip


def worked_mm(page: SheetPage, side: Side, sheet: Sheet, wide_mm: float) -> float:
    rest = replace(page, sections=tuple(s for s in page.sections if s not in side.cuts.values()))
    block = (("Title", sheet.title), *side.title_block)
    return side_mm("forge", rest, block, side.setting, 0.0, side.drawings, wide_mm)


@pytest.mark.parametrize(("units", "lots"), [("mm", (2, 9)), ("inch", (FULL, 4, 6, 11))])
def test_no_side_is_higher_than_it_was_worked_out_and_none_runs_over(
    units: wording.Units, lots: tuple[int, ...], printing: Any
) -> None:
    for lot in lots:
        recipe = drawn_bar(lot)
        report = plan(parse_recipe(recipe)).report
        sheet = paper_sheet(report, "forge", units)
        planned = sides(sheet, "forge", report, units, None, None)
        printing.goto(f"/sheet/forge?r={encode(recipe)}&units={units}")
        if lot == FULL:
            printed = PdfReader(io.BytesIO(printing.pdf(format="Letter", prefer_css_page_size=False)))
            assert len(printed.pages) == len(planned)
        for paper, (wide, high) in PAPERS_MM.items():
            as_paper(printing, paper)
            stands = [px / PX_PER_MM for px in printing.evaluate(HEIGHTS)]
            worked = [worked_mm(p, side, sheet, wide) for p, side in zip(sheet.pages, planned, strict=True)]
            assert all(h <= w + 1.0 and h <= high for h, w in zip(stands, worked, strict=True)), (lot, paper)
            assert printing.evaluate(BROKEN_ROWS) == 0
        printing.emulate_media(media="null")
