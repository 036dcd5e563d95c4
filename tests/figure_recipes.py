"""Recipes of bars with a figure, each a few steps long, for tests and measurements of the pictures."""

from typing import Any

Recipe = dict[str, Any]
FIRE = {"temperature_c": 1080, "minutes": 12, "heats": 4}


def stacked(count: int, *steps: Recipe, title: str = "Figure", **stack: Any) -> Recipe:
    """A stack of two steels, welded, and what is done with it."""
    weld = {"do": "weld", "temperature_c": 1120, "minutes": 10, "height_mm": 0.9 * 2.5 * count}
    laid = {
        "width_mm": 36,
        "length_mm": 140,
        "pattern": ["dark", "bright"],
        "count": count,
        "thickness_mm": {"dark": 3.0, "bright": 2.0},
    }
    return {
        "format": 1,
        "title": title,
        "steels": {"dark": "1084", "bright": "75Ni8"},
        "stack": {**laid, **stack},
        "steps": [weld, *steps],
    }


def drawn_to(height_mm: float, width_mm: float, **more: Any) -> Recipe:
    return {"do": "draw", **FIRE, "height_mm": height_mm, "width_mm": width_mm, **more}


TWIST = {"do": "twist", "temperature_c": 1100, "minutes": 8, "heats": 2, "turns": 12}
GROOVES = {"do": "groove", "pitch_mm": 12, "depth_mm": 2.2, "width_mm": 9}
DIMPLES = {"do": "dimple", "pitch_mm": 9, "depth_mm": 2.2, "diameter_mm": 8}
DIE = {"do": "press", "temperature_c": 1000, "minutes": 3, "pitch_mm": 14, "depth_mm": 1.2, "width_mm": 10}
SPLIT = {"do": "split", "temperature_c": 1120, "minutes": 6, "drag_mm": 16, "width_mm": 5}
FLAT, SQUARE = drawn_to(6.0, 32.0), drawn_to(16.0, 16.0)
FIGURES: dict[str, Recipe] = {
    "flat": stacked(15, FLAT),
    "twist": stacked(13, SQUARE, TWIST, FLAT),
    "ladder": stacked(15, drawn_to(9.0, 34.0), GROOVES, FLAT),
    "raindrop": stacked(15, drawn_to(9.0, 34.0), DIMPLES, FLAT),
    "pressed": stacked(15, drawn_to(9.0, 34.0), DIE, drawn_to(5.0, 34.0)),
    "feather": stacked(21, {"do": "crop", "length_mm": 60}, {"do": "stand"}, SPLIT, drawn_to(7.0, 36.0)),
}


def side_by_side() -> Recipe:
    """A pair twisted left and right beside a plain edge, which lies to the right."""
    bars = {}
    for name, turns in (("right", 12), ("left", -12)):
        made = stacked(13, SQUARE, {**TWIST, "turns": turns})
        bars[name] = {"stack": made["stack"], "steps": made["steps"]}
    plate = {"steel": "core", "thickness_mm": 15.75}
    bars["edge"] = {"stack": {"width_mm": 16, "length_mm": 420, "plates": [plate]}}
    weld = {"do": "weld", "temperature_c": 1120, "minutes": 8, "height_mm": 14}
    return {
        "format": 1,
        "title": "Twisted pair with an edge",
        "steels": {"dark": "1084", "bright": "75Ni8", "core": "1095"},
        "stack": {"width_mm": 46, "length_mm": 300, "plates": [{"beside": ["left", "right", "edge"]}]},
        "steps": [weld, drawn_to(6.0, 44.0)],
        "bars": bars,
    }


FIGURES["side by side"] = side_by_side()
