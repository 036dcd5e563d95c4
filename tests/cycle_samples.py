"""Bars for the tests of the heat cycle: a pair in thin layers, one steel alone, a core between sides."""

from typing import Any


def alone(steel: str, height_mm: float = 5.5, **blade: Any) -> dict[str, Any]:
    """One plate drawn down."""
    return {
        "format": 1,
        "title": "One steel",
        "steels": {"a": steel},
        "stack": {"width_mm": 40, "length_mm": 150, "plates": [{"steel": "a", "thickness_mm": 30}]},
        "steps": [{"do": "draw", "temperature_c": 1080, "minutes": 20, "heats": 5, "height_mm": height_mm}],
        "blade": {"thickness_mm": 3.0, **blade},
    }


def pair(dark: str, bright: str, weld_c: float = 1100.0, height_mm: float = 5.5) -> dict[str, Any]:
    """Fifteen plates, 3.0 and 1.5 mm, welded and drawn down."""
    recipe = alone(dark, height_mm)
    recipe["title"] = "A pair"
    recipe["steels"]["b"] = bright
    recipe["stack"] = {
        "width_mm": 40,
        "length_mm": 150,
        "pattern": ["a", "b"],
        "count": 15,
        "thickness_mm": {"a": 3.0, "b": 1.5},
    }
    weld = {"do": "weld", "temperature_c": weld_c, "minutes": 12, "height_mm": 28}
    recipe["steps"] = [weld, {**recipe["steps"][0], "width_mm": 40}]
    return recipe


def sandwich(core: str, side: str) -> dict[str, Any]:
    """A core of 6 mm between sides of 7.5 mm, forged to 6 mm in all."""
    plates = [("side", 7.5), ("core", 6.0), ("side", 7.5)]
    return {
        "format": 1,
        "title": "A core between sides",
        "steels": {"core": core, "side": side},
        "stack": {
            "width_mm": 40,
            "length_mm": 150,
            "plates": [{"steel": name, "thickness_mm": mm} for name, mm in plates],
        },
        "steps": [
            {"do": "weld", "temperature_c": 1100, "minutes": 10, "height_mm": 16},
            {"do": "draw", "temperature_c": 1050, "minutes": 15, "heats": 4, "height_mm": 6},
        ],
        "blade": {"thickness_mm": 3.0},
    }
