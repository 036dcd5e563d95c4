"""The sheets on paper: one page each, on A4 and on Letter, and what must stand on them."""

import io
from typing import Any

import pytest
from pypdf import PdfReader

from .conftest import RECIPES

KINDS = ("forge", "harden", "kiln", "buyer", "label")


@pytest.fixture(scope="module")
def printing(browser: Any, address: str) -> Any:
    context = browser.new_context(base_url=address)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", [path.stem for path in sorted(RECIPES.glob("*.toml"))])
def test_one_page_on_both_papers(name: str, kind: str, printing: Any, kept: dict[str, str]) -> None:
    printing.goto(f"/sheet/{kind}?r={kept[name]}")
    for paper in ("A4", "Letter"):
        pdf = PdfReader(io.BytesIO(printing.pdf(format=paper, prefer_css_page_size=False)))
        assert len(pdf.pages) == 1, paper
    text = pdf.pages[0].extract_text()
    assert "°C" in text or kind == "label"
    assert "Bar id" in text


def test_navigation_stays_off_the_paper(printing: Any, kept: dict[str, str]) -> None:
    printing.goto(f"/sheet/forge?r={kept['reed_bed_kitchen']}")
    text = PdfReader(io.BytesIO(printing.pdf(format="A4"))).pages[0].extract_text()
    assert "Pyrometer" not in text and "Show inches" not in text
