"""A step in a sentence: "Step 2 (draw)"."""

from collections.abc import Mapping
from typing import Any


def step_words(v: Mapping[str, Any]) -> str:
    """The step, with the bar made first that it belongs to: "Bar left, step 2 (draw)"."""
    if v["do"] == "stack":
        return "Stack" if "bar" not in v else f"Bar {v['bar']}, stack"
    return (
        f"Step {v['step']} ({v['do']})" if "bar" not in v else f"Bar {v['bar']}, step {v['step']} ({v['do']})"
    )
