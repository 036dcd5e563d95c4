"""Every row of tests/published is a number that somebody else printed; our formulas must give it."""

import tomllib
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from billet.composition import Composition

FOLDER = Path(__file__).parent / "published"
SEEN = {"print", "transcription", "memory", "computed"}


def rows() -> list[dict[str, Any]]:
    found = []
    for path in sorted(FOLDER.glob("*.toml")):
        for row in tomllib.loads(path.read_text(encoding="utf-8")).get("row", []):
            found.append({**row, "file": path.stem})
    return found


ROWS = rows()


def evaluate(row: dict[str, Any]) -> float:
    module, name = row["formula"].rsplit(".", 1)
    function = getattr(import_module(f"billet.formulas.{module}"), name)
    inputs = dict(row["inputs"])
    if "wt" in inputs:
        inputs = {"composition": Composition(inputs.pop("wt")), **inputs}
    result = function(**inputs)
    return result if "part" not in row else getattr(result, row["part"])


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['file']}-{r['formula']}-{r['where']}"[:90])
def test_matches_print(row: dict[str, Any]) -> None:
    tolerance = {"rel": row["rel"], "abs": 0.0} if "rel" in row else {"abs": row["abs"], "rel": 0.0}
    assert evaluate(row) == pytest.approx(row["expected"], **tolerance)


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['file']}-{r['formula']}-{r['where']}"[:90])
def test_row_names_its_origin(row: dict[str, Any]) -> None:
    assert row["seen"] in SEEN
    assert row["source"] and row["where"]
    assert ("rel" in row) != ("abs" in row)
    assert row["reason"], "say why the tolerance is what it is"
