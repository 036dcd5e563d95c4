"""Bars with steps that make a pattern, for tests: a square one, a flat one, and one that stands on end."""

from typing import Any

from billet.diffusion.carbon_balance import CarbonBooks, carbon_books
from billet.forging.model import Forged
from billet.parse import forged_recipe
from billet.planned import Planned

STEELS = {"dark": "1084", "bright": "75Ni8"}
FIRE: dict[str, Any] = {"temperature_c": 1050, "minutes": 6, "heats": 2}
SEALED: dict[str, Any] = {**FIRE, "atmosphere": "sealed"}
WELD: dict[str, Any] = {"do": "weld", "temperature_c": 1110, "minutes": 10, "height_mm": 24}
SQUARE: dict[str, Any] = {"do": "draw", **FIRE, "height_mm": 18, "width_mm": 18}
FLAT: dict[str, Any] = {"do": "draw", **FIRE, "height_mm": 7, "width_mm": 20}
TWIST: dict[str, Any] = {"do": "twist", **FIRE, "turns": 6, "rounded": True}
GROOVE: dict[str, Any] = {"do": "groove", "pitch_mm": 12, "depth_mm": 4, "width_mm": 8}
DIMPLE: dict[str, Any] = {"do": "dimple", "pitch_mm": 8, "diameter_mm": 6, "depth_mm": 2}
PRESS: dict[str, Any] = {"do": "press", **FIRE, "pitch_mm": 12, "depth_mm": 3, "width_mm": 8}
SPLIT: dict[str, Any] = {"do": "split", **FIRE, "drag_mm": 15, "width_mm": 5}
BLOCK: list[dict[str, Any]] = [WELD, SQUARE, {"do": "crop", "length_mm": 60}, {"do": "stand"}]
"""A square block of 60 mm that stands on end."""
PILLAR: list[dict[str, Any]] = [*BLOCK, {"do": "draw", **FIRE, "height_mm": 20, "width_mm": 18}]
"""The same, drawn out to some 50 mm."""


def recipe(*steps: dict[str, Any], count: int = 9, **more: Any) -> dict[str, Any]:
    """Nine plates, dark outside, 30 mm wide and 140 long, with these steps."""
    stack = {
        "width_mm": 30, "length_mm": 140, "pattern": ["dark", "bright"], "count": count,
        "thickness_mm": {"dark": 4.0, "bright": 2.0},
    }  # fmt: skip
    steels = dict(STEELS)
    return {"format": 1, "title": "Test", "steels": steels, "stack": stack, "steps": list(steps), **more}


def forged(*steps: dict[str, Any], **more: Any) -> Forged:
    return forged_recipe(recipe(*steps, **more))[1]


def books(planned: Planned) -> CarbonBooks:
    return carbon_books(planned.recipe, planned.forged, planned.metal)


def twin(**more: Any) -> dict[str, Any]:
    """A pair twisted left and right, and a plain edge, side by side."""

    def cord(turns: float) -> dict[str, Any]:
        stack = {
            "width_mm": 25, "length_mm": 75, "pattern": ["dark", "bright"], "count": 7,
            "thickness_mm": {"dark": 4.0, "bright": 2.0},
        }  # fmt: skip
        square = {"do": "draw", **FIRE, "height_mm": 13, "width_mm": 13}
        again = {"do": "draw", **FIRE, "height_mm": 12, "width_mm": 12}
        return {
            "stack": stack,
            "steps": [{**WELD, "height_mm": 19}, square, {**TWIST, "turns": turns}, again],
        }

    rim = {"width_mm": 16, "length_mm": 250, "plates": [{"steel": "edge", "thickness_mm": 12.0}]}
    return {
        "format": 1,
        "title": "Twin",
        "steels": {**STEELS, "edge": "1095"},
        "bars": {"left": cord(-8), "right": cord(8), "rim": {"stack": rim}},
        "stack": {"width_mm": 40, "length_mm": 250, "plates": [{"beside": ["left", "right", "rim"]}]},
        "steps": [{**WELD, "height_mm": 10}, {"do": "draw", **FIRE, "height_mm": 6, "width_mm": 44}],
        "blade": {"thickness_mm": 4.0, "edge_at": "right"},
        **more,
    }


def layered(count: int = 5) -> dict[str, Any]:
    """Plates 30 mm wide and 140 long, welded to 10 mm."""
    return {
        "stack": {
            "width_mm": 30, "length_mm": 140, "pattern": ["dark", "bright"], "count": count,
            "thickness_mm": {"dark": 3.0, "bright": 2.0},
        },
        "steps": [{**WELD, "height_mm": 10, "width_mm": 30}],
    }  # fmt: skip
