"""A place of a recipe, such as `steps[1].height_mm`, in words: "step 2 (draw): height, mm"."""

import re
from collections.abc import Mapping
from typing import Any

UNITS = {"mm": "mm", "c": "°C", "k": "K", "deg": "degrees", "kg": "kg", "s": "s", "hrc": "HRC"}
PART = re.compile(r"([^.\[\]]+)(?:\[(\d+)\])?")


def place_words(where: str, recipe: Mapping[str, Any]) -> str:
    """What the number at this place is; steps and plates are counted from one, as on paper."""
    heads: list[str] = []
    leaf: list[str] = []
    unit = ""
    value: Any = recipe
    for name, index in PART.findall(where):
        value = value.get(name) if isinstance(value, Mapping) else None
        if index:
            value = value[int(index)] if isinstance(value, list) and int(index) < len(value) else None
        if name == "bars":
            continue
        if name == "steps" and index:
            done = value.get("do", "") if isinstance(value, Mapping) else ""
            heads.append(f"step {int(index) + 1} ({done})")
        elif index and isinstance(value, Mapping):
            heads.append(f"{name.removesuffix('s')} {int(index) + 1}")
        elif isinstance(value, Mapping) and not name.endswith("_mm"):
            heads.append("% by mass" if name == "wt" else name)
        else:
            words, found = _named(name)
            unit = unit or found
            leaf.append(f"{words} {int(index) + 1}" if index else words)
    told = " of ".join(leaf) + (f", {unit}" if unit else "")
    return f"{', '.join(heads)}: {told}" if heads else told


def _named(name: str) -> tuple[str, str]:
    """A key without its unit, and the unit."""
    words, _, last = name.rpartition("_")
    unit = UNITS.get(last, "") if words else ""
    return (words if unit else name).replace("_", " "), unit
