"""On A4 and on Letter, in inches: sheets that fractions make wider; and eight steps on one side of both."""

from typing import Any

import pytest

from .paper_cases import EIGHT, EVERY, as_paper, opened_holds_on_paper, sheet_of


@pytest.mark.parametrize("kind", ["forge", "harden"])
@EVERY
def test_a_sheet_holds_on_paper(name: str, kind: str, printing: Any) -> None:
    opened_holds_on_paper(printing, name, kind, "inch")


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_eight_steps_stand_on_one_side_large_enough_to_read_at_the_anvil(units: str, printing: Any) -> None:
    assert len(sheet_of(EIGHT, "forge", units).pages) == 1
    opened_holds_on_paper(printing, EIGHT, "forge", units)
    as_paper(printing, "Letter")
    size = "es => Math.min(...es.map(e => parseFloat(getComputedStyle(e).fontSize)))"
    assert printing.locator(".op .heat b").evaluate_all(size) >= 23.95
    assert printing.locator(".op .heat span").evaluate_all(size) >= 18.6
    assert printing.locator(".stop-table b, .stops b").evaluate_all(size) >= 23.95
    assert [mark.strip() for mark in printing.locator(".op .mark").all_inner_texts()] == ["*"]
    assert "6 heats* of" in printing.locator(".op").last.inner_text()
    assert "* Proposed by the program, neither changed nor accepted" in printing.locator(".side").inner_text()
    printing.emulate_media(media="null")
