"""The sums by which sheets are split hold on the paper: bars of six to nine steps drawn by lot, bars of many
steels."""

import io
import random
from dataclasses import replace
from typing import Any

import pytest
from pypdf import PdfReader

from billet import Sheet, SheetPage, parse_recipe, plan, wording
from web.http.address import encode
from web.paper import Side, paper_sheet, sides
from web.paper_fit import PAPERS_MM, Content, side_mm

from .paper_cases import BROKEN_ROWS, HEIGHTS, OUTSIDE, PX_PER_MM, as_paper

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


def worked_mm(kind: str, page: SheetPage, side: Side, sheet: Sheet, wide_mm: float) -> float:
    rest = replace(page, sections=tuple(s for s in page.sections if s not in side.cuts.values()))
    block = (("Title", sheet.title), *side.title_block)
    return side_mm(Content(kind, rest, block, side.drawings), side.setting, wide_mm)


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
            worked = [
                worked_mm("forge", p, side, sheet, wide) for p, side in zip(sheet.pages, planned, strict=True)
            ]
            assert all(h <= w + 1.0 and h <= high for h, w in zip(stands, worked, strict=True)), (lot, paper)
            assert printing.evaluate(BROKEN_ROWS) == 0
        printing.emulate_media(media="null")


def bar_of(*names: str) -> dict[str, Any]:
    """A bar of these steels, with a fire and oils of one's own, drawn out."""
    thick = {name: 2.0 for name in names}
    stack = {**STACK, "pattern": list(names), "count": 12, "thickness_mm": thick}
    fires = {"temperature_c": 1100, "minutes": 10}
    oils = [{"name": "tank 1", "class": "medium oil"}, {"name": "tank 2", "nickel_ball_s": 9.5}]
    return {
        "format": 1, "title": "Three of a kind, chopper", "steels": {name: name for name in names},
        "stack": stack,
        "steps": [{"do": "weld", **fires, "height_mm": 20}, {"do": "draw", **fires, "height_mm": 7}],
        "blade": {"thickness_mm": 4, "temper_to_hrc": 60}, "control": {"method": "kiln_ordinary"},
        "shop": {"oils": oils},
    }  # fmt: skip


MANY: dict[str, tuple[str, ...]] = {
    "three": ("O1", "1095", "15N20"), "five": ("1095", "15N20", "52100", "O1", "1.2842"),
    "none": ("1095", "1.4034"),
}  # fmt: skip


SPLIT = {("three", "harden"), ("five", "harden"), ("five", "buyer")}
RATIO = """() => { const e = document.querySelector('.face-place img');
  return e && e.getAttribute('width') / e.getAttribute('height'); }"""


@pytest.mark.parametrize("kind", ["harden", "buyer"])
@pytest.mark.parametrize(("bar", "units"), [("three", "inch"), ("five", "mm"), ("none", "mm")])
def test_many_steels_stand_on_as_many_sides_as_were_worked_out(
    bar: str, units: wording.Units, kind: str, printing: Any
) -> None:
    recipe = bar_of(*MANY[bar])
    report = plan(parse_recipe(recipe)).report
    printing.goto(f"/sheet/{kind}?r={encode(recipe)}&units={units}")
    ratio = printing.evaluate(RATIO)
    sheet = paper_sheet(report, kind, units, None, ratio)
    planned = sides(sheet, kind, report, units, None, ratio)
    assert len(planned) == (2 if (bar, kind) in SPLIT else 1)
    printed = PdfReader(io.BytesIO(printing.pdf(format="Letter", prefer_css_page_size=False)))
    assert len(printed.pages) == len(planned)
    if len(planned) == 2:
        first, second = (page.extract_text() for page in printed.pages)
        assert "side 1 of 2" in first and "On side 2: " in first and "Safety" in first
        assert "side 2 of 2" in second and "Three of a kind, chopper" in second
    for paper, (wide, high) in PAPERS_MM.items():
        as_paper(printing, paper)
        stands = [px / PX_PER_MM for px in printing.evaluate(HEIGHTS)]
        worked = [worked_mm(kind, p, s, sheet, wide) for p, s in zip(sheet.pages, planned, strict=True)]
        assert all(h <= w + 2.0 and h <= high for h, w in zip(stands, worked, strict=True)), (stands, worked)
        assert all(h >= high / 5.0 for h in stands[:-1])
        assert printing.evaluate(OUTSIDE) == []
    printing.emulate_media(media="null")
