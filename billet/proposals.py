"""What a next step of a bar usually asks for: heat, minutes, heats, height. Proposals, never defaults.

The design page writes them into the recipe, where they are read like any other number; the reader of
recipes invents nothing. The figures are common practice without a source (billet/data/forging.toml).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from billet.errors import BilletError
from billet.forging.default_heats import MOST_HEATS, heats_for_ratio
from billet.forging.forge import forge
from billet.forging.model import ForgedRow
from billet.forging.stack import build_stack
from billet.forging.usual_heats import (
    usual_draw_heat_c,
    usual_minutes,
    usual_weld_heat_c,
    usual_weld_minutes,
)
from billet.recipe.model import Recipe
from billet.recipe.reading import read_recipe
from billet.tables.forging import forging_rule

ROUNDS = 4
"""Forgings in search of the height that gives a length; each takes the miss down by some twenty times."""
CLOSE_FRAC = 0.002
CLOSINGS: tuple[tuple[dict[str, Any], ...], ...] = (
    (),
    ({"do": "weld", "temperature_c": 1100, "minutes": 1},),
    ({"do": "draw", "temperature_c": 1000, "minutes": 1, "heats": 1, "height_mm": 1},),
)
"""What may stand after a pile that lies loose or after open grooves, so that the recipe reads as whole."""


@dataclass(frozen=True)
class BarBefore:
    """The bar that a step begins with: its cold size, whether it lies loose, and its recipe so far."""

    recipe: Recipe
    row: ForgedRow

    @property
    def size_mm(self) -> tuple[float, float, float]:
        """Height, width, length."""
        return self.row.height_mm, self.row.width_mm, self.row.length_mm


def bar_before(mapping: Mapping[str, Any], index: int) -> BarBefore | None:
    """The bar before the step with this index; None where what comes before it is refused."""
    steps = list(mapping.get("steps", ()))[:index]
    for closing in CLOSINGS:
        try:
            recipe = read_recipe(_as_far({**mapping, "steps": [*steps, *closing]}))
            rows = forge(recipe, build_stack(recipe)).rows
        except BilletError:
            continue
        return BarBefore(recipe, rows[index])
    return None


def proposed_heat_c(bar: BarBefore, do: str) -> float:
    """Temperature of the metal for a step, by the steels that lie in the bar. [C]"""
    laid = {name for name, share in bar.row.mass_share.items() if share > 0.0}
    steels = bar.recipe.steels_in(laid)
    return usual_weld_heat_c(steels) if do == "weld" else usual_draw_heat_c(steels)


def proposed_minutes(bar: BarBefore, do: str, heats: int = 1) -> float:
    """Minutes at heat, all heats together."""
    if do == "weld":
        return usual_weld_minutes(bar.row.height_mm, bar.row.width_mm)
    return usual_minutes(heats)


def proposed_height_mm(bar: BarBefore, do: str) -> float:
    """Height after a weld or a draw, rounded as one sets calipers. [mm]"""
    rule = forging_rule("proposed")
    taken = rule["pressed_frac"] if do == "weld" else rule["drawn_frac"]
    height_mm = bar.row.height_mm * (1.0 - taken)
    return float(round(height_mm) if height_mm >= 10.0 else max(round(height_mm * 2.0) / 2.0, 0.5))


def proposed_heats(bar: BarBefore, height_mm: float, width_mm: float | None = None) -> int:
    """Heats of a draw to this height (and width): as many as the reduction asks for."""
    if height_mm <= 0.0:
        return 1
    height = bar.row.height_mm / height_mm
    section = height * bar.row.width_mm / width_mm if width_mm else height
    return min(heats_for_ratio(max(height, section)), MOST_HEATS)


def height_for_length_mm(mapping: Mapping[str, Any], index: int, length_mm: float) -> float | None:
    """The height at which the draw with this index makes the bar so long, scale and all. [mm]

    None where the bar cannot be forged so.
    """
    bar = bar_before(mapping, index)
    if bar is None or length_mm <= 0.0:
        return None
    steps = [dict(step) for step in list(mapping["steps"])[: index + 1]]
    width_mm = steps[index].get("width_mm") or bar.row.width_mm
    height_mm = bar.row.height_mm * bar.row.width_mm * bar.row.length_mm / (width_mm * length_mm)
    for _ in range(ROUNDS):
        steps[index]["height_mm"] = height_mm
        after = bar_before({**mapping, "steps": steps}, index + 1)
        if after is None:
            return None
        miss = after.row.length_mm / length_mm
        if abs(miss - 1.0) < CLOSE_FRAC:
            break
        height_mm *= miss
    return round(height_mm, 2)


def _as_far(mapping: Mapping[str, Any]) -> dict[str, Any]:
    """The bar alone: what it becomes has no say in how it is forged, nor a bar that is laid in it later."""
    kept = {key: value for key, value in mapping.items() if key not in ("blade", "control", "sheet", "bars")}
    if isinstance(bars := mapping.get("bars"), Mapping) and (laid := _laid_in(mapping, bars)):
        kept["bars"] = {name: bar for name, bar in bars.items() if name in laid}
    return kept


def _laid_in(part: Any, bars: Mapping[str, Any]) -> set[str]:
    """Names of the bars made first that come into a bar, straight or inside another."""
    found: set[str] = set()
    waiting = [part]
    while waiting:
        for name in _named_in(waiting.pop()):
            if name in bars and name not in found:
                found.add(name)
                waiting.append(bars[name])
    return found


def _named_in(part: Any) -> list[str]:
    """Names of the bars that a stack or a step lays, in a mapping that is not checked yet."""
    if not isinstance(part, Mapping):
        return []
    tables = [part.get("stack"), *_listed(part.get("steps"))]
    lists = [t.get(key) for t in tables if isinstance(t, Mapping) for key in ("plates", "lay")]
    items = [item for each in lists for item in _listed(each) if isinstance(item, Mapping)]
    named = [name for item in items for name in (item.get("bar"), *_listed(item.get("beside")))]
    return [name for name in named if isinstance(name, str)]


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []
