"""On A4 and on Letter, in millimetres: as many sides as planned, all drawn, nothing small or cut off."""

from typing import Any

import pytest

from .paper_cases import EVERY, KINDS, opened_holds_on_paper


@pytest.mark.parametrize("kind", KINDS)
@EVERY
def test_a_sheet_holds_on_paper(name: str, kind: str, printing: Any) -> None:
    opened_holds_on_paper(printing, name, kind, "mm")
