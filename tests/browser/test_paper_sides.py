"""As many sides of paper as planned, on A4 and on Letter, in millimetres."""

from typing import Any

import pytest

from .paper_cases import EVERY, KINDS, holds_as_many_sides_as_planned


@pytest.mark.parametrize("kind", KINDS)
@EVERY
def test_as_many_sides_as_planned(name: str, kind: str, printing: Any, kept: dict[str, str]) -> None:
    holds_as_many_sides_as_planned(printing, kept[name], name, kind, "mm")
