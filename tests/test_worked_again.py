"""Published and remembered equations, worked out a second time, must give what ours give.

None of these figures was printed: they find slips in our formulas, not in the equations themselves.
"""

from typing import Any

import pytest
from rows_of_figures import EQUATIONS, evaluate, label, rows, tolerance

ROWS = rows(EQUATIONS)


@pytest.mark.parametrize("row", ROWS, ids=label)
def test_gives_the_figure_worked_out_again(row: dict[str, Any]) -> None:
    assert evaluate(row) == pytest.approx(row["expected"], **tolerance(row))


@pytest.mark.parametrize("row", ROWS, ids=label)
def test_row_names_its_origin(row: dict[str, Any]) -> None:
    assert row["seen"] in {"print", "transcription", "memory", "computed"}
    assert row["source"] and row["where"]
    assert ("rel" in row) != ("abs" in row)
    assert row["reason"], "say why the tolerance is what it is"
