"""The sheets of the example recipes, for the tests of paper."""

import io
import os
from functools import cache
from typing import Any

import pytest
from pypdf import PdfReader

from billet import Sheet, build_sheet, load_recipe_text, parse_recipe, plan
from billet.contract.report import Report

from .conftest import RECIPES

KINDS = ("forge", "harden", "kiln", "buyer")
FULLEST = ["first_rain", "heron_feather", "reed_bed_kitchen", "slate_300", "twin_cord_composite"]
"""The recipes whose sheets hold most; all of them with BILLET_EVERY_SHEET=1, see DEVELOPERS.md."""
NAMES = [path.stem for path in sorted(RECIPES.glob("*.toml"))]
EVERY = pytest.mark.parametrize("name", NAMES if os.environ.get("BILLET_EVERY_SHEET") else FULLEST)
PAPER_MM = {"A4": (190, 277), "Letter": (195, 259)}


@cache
def report_of(name: str) -> Report:
    text = (RECIPES / f"{name}.toml").read_text(encoding="utf-8")
    return plan(parse_recipe(load_recipe_text(text))).report


def sheet_of(name: str, kind: str, units: str = "mm") -> Sheet:
    return build_sheet(report_of(name), kind, "inch" if units == "inch" else "mm")


def holds_as_many_sides_as_planned(page: Any, address: str, name: str, kind: str, units: str) -> None:
    """Prints the sheet on A4 and on Letter and counts."""
    page.goto(f"/sheet/{kind}?r={address}&units={units}")
    sides = len(sheet_of(name, kind, units).pages)
    for paper in PAPER_MM:
        pdf = PdfReader(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=False)))
        assert len(pdf.pages) == sides, paper
        texts = [side.extract_text() for side in pdf.pages]
        assert all("Bar id" in text for text in texts)
        assert "°C" in "".join(texts)
