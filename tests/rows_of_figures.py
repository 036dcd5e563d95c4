"""The rows of tests/published and tests/equations, and what our formulas give for them."""

import tomllib
from importlib import import_module
from pathlib import Path
from typing import Any

from billet.composition import Composition

HERE = Path(__file__).parent
PUBLISHED = HERE / "published"
EQUATIONS = HERE / "equations"


def rows(folder: Path) -> list[dict[str, Any]]:
    """Every row of the folder's files, with the name of its file."""
    found = []
    for path in sorted(folder.glob("*.toml")):
        for row in tomllib.loads(path.read_text(encoding="utf-8")).get("row", []):
            found.append({**row, "file": path.stem})
    return found


def evaluate(row: dict[str, Any]) -> float:
    """What the formula of the row gives for its inputs."""
    module, name = row["formula"].rsplit(".", 1)
    function = getattr(import_module(f"billet.formulas.{module}"), name)
    inputs = dict(row["inputs"])
    if "wt" in inputs:
        inputs = {"composition": Composition(inputs.pop("wt")), **inputs}
    result = function(**inputs)
    value: float = result if "part" not in row else getattr(result, row["part"])
    return value


def tolerance(row: dict[str, Any]) -> dict[str, float]:
    """The keywords of pytest.approx."""
    return {"rel": row["rel"], "abs": 0.0} if "rel" in row else {"abs": row["abs"], "rel": 0.0}


def label(row: dict[str, Any]) -> str:
    """A readable name of a row."""
    return f"{row['file']}-{row['formula']}-{row['where']}"[:90]
