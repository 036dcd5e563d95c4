"""A small good recipe that tests change one thing of."""

import copy
from typing import Any

GOOD: dict[str, Any] = {
    "format": 1,
    "title": "Sample bar",
    "steels": {"dark": "1084", "bright": "75Ni8"},
    "stack": {
        "width_mm": 40,
        "length_mm": 150,
        "pattern": ["dark", "bright"],
        "count": 15,
        "thickness_mm": {"dark": 3.0, "bright": 1.5},
    },
    "steps": [
        {"do": "weld", "temperature_c": 1150, "minutes": 12, "height_mm": 28},
        {"do": "draw", "temperature_c": 1100, "minutes": 20, "heats": 5, "height_mm": 12},
        {"do": "grind", "per_face_mm": 0.4},
        {"do": "restack", "pieces": 4, "trim_mm": 10, "order": "same"},
        {"do": "weld", "temperature_c": 1150, "minutes": 12, "height_mm": 36},
        {"do": "draw", "temperature_c": 1080, "minutes": 24, "heats": 6, "height_mm": 5.5},
    ],
    "blade": {"thickness_mm": 3.0},
    "control": {"method": "kiln_ordinary"},
}


def good() -> dict[str, Any]:
    """A fresh copy of the good recipe."""
    return copy.deepcopy(GOOD)


def changed(path: str, value: Any) -> dict[str, Any]:
    """The good recipe with one value set (`steps.3.pieces`); a value of ... takes the key away."""
    recipe = good()
    *way, last = path.split(".")
    table: Any = recipe
    for key in way:
        table = table[int(key)] if isinstance(table, list) else table.setdefault(key, {})
    if value is ...:
        del table[int(last) if isinstance(table, list) else last]
    elif isinstance(table, list):
        table[int(last)] = value
    else:
        table[last] = value
    return recipe


ONE_PLATE = {"width_mm": 40, "length_mm": 150, "plates": [{"steel": "dark", "thickness_mm": 8}]}


def with_steps(*listed: dict[str, Any]) -> dict[str, Any]:
    """The good stack with these steps and no blade."""
    recipe = good()
    del recipe["blade"]
    return {**recipe, "steps": list(listed)}


def pair(*names: str, count: int = 7) -> dict[str, Any]:
    """Seven plates of the two steels of the sample, 40 mm wide and 150 long."""
    sizes = {"dark": 3, "bright": 2}
    order = list(names or ("dark", "bright"))
    thickness = {name: sizes[name] for name in order}
    return {"width_mm": 40, "length_mm": 150, "pattern": order, "count": count, "thickness_mm": thickness}


def laid(*items: dict[str, Any]) -> dict[str, Any]:
    return {"width_mm": 40, "length_mm": 300, "plates": list(items)}


def two_bars() -> dict[str, Any]:
    """A bar of two that are made first, one of them laid upside down, with a plate between."""
    weld = {"do": "weld", "temperature_c": 1100, "minutes": 6}
    draw = {"do": "draw", "temperature_c": 1100, "minutes": 10, "height_mm": 10}
    recipe = good()
    recipe["bars"] = {
        "left": {"stack": pair(), "steps": [dict(weld), dict(draw)]},
        "core": {"stack": pair("bright"), "steps": [dict(weld), dict(draw)]},
    }
    plate = {"steel": "dark", "thickness_mm": 4}
    recipe["stack"] = laid({"bar": "left", "turned": True}, plate, {"bar": "core"}, {"bar": "left"})
    recipe["steps"] = [dict(weld)]
    del recipe["blade"]
    return copy.deepcopy(recipe)
