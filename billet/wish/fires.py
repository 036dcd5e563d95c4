"""Heats and recipe of a schedule: the steps that the hand does, one after another."""

from typing import Any

from billet.forging.default_heats import heats_for_ratio
from billet.forging.usual_heats import (
    usual_draw_heat_c,
    usual_minutes,
    usual_weld_heat_c,
    usual_weld_minutes,
)
from billet.recipe.model import Atmosphere
from billet.tables.wish import wish_numbers
from billet.wish.schedules import PIECES_ABOUT_A_CORE, Way
from billet.wish.wanted import FORMAT, Wish


def atmosphere_of(wish: Wish) -> Atmosphere:
    """Sealed where a steel is rich in chromium, which no flux lifts the oxide off; else a reducing fire."""
    most = max(steel.composition["Cr"] for steel in wish.steels.values())
    return "sealed" if most > wish_numbers("search")["sealed_cr_wt"] else "reducing"


def recipe_of(wish: Wish, way: Way, length_mm: float, ends_mm: tuple[float, float] | None) -> dict[str, Any]:
    """The recipe of a way from a stack of this length; `ends_mm` are cut off the finished bar, None while
    they are not known."""
    kinds = len(wish.pattern)
    plates = [
        {"steel": wish.pattern[i % kinds], "thickness_mm": way.gauges_mm[i % kinds]} for i in range(way.count)
    ]
    stack: dict[str, Any] = {"width_mm": way.width_mm, "length_mm": length_mm}
    if way.count % kinds == 0 or kinds == 2:
        stack |= {
            "pattern": list(wish.pattern),
            "count": way.count,
            "thickness_mm": dict(zip(wish.pattern, way.gauges_mm, strict=True)),
        }
    else:
        stack |= {"plates": plates}
    mapping = {
        "format": FORMAT,
        "title": wish.title,
        "steels": dict(wish.steels_given),
        "stack": stack,
        "steps": _steps(wish, way, ends_mm),
    }
    return {**mapping, **wish.passed_on}


def _steps(wish: Wish, way: Way, ends_mm: tuple[float, float] | None) -> list[dict[str, Any]]:
    shop, piles = wish_numbers("schedule"), way.piles_mm
    pressed_mm = [round(shop["pressed_to_frac"] * pile, 1) for pile in piles]
    steps = [_weld(wish, way, piles[0], pressed_mm[0])]
    for i, (k, piece_mm) in enumerate(zip(way.pieces, way.piece_mm, strict=True)):
        rough_mm = round(piece_mm + 2.0 * shop["grind_between_mm"], 1)
        steps.append(_draw(wish, rough_mm, heats_for_ratio(pressed_mm[i] / rough_mm)))
        steps.append({"do": "grind", "per_face_mm": shop["grind_between_mm"]})
        steps.append(_restack(wish, way, k, i == len(way.pieces) - 1))
        steps.append(_weld(wish, way, piles[i + 1], pressed_mm[i + 1]))
    ratio = pressed_mm[-1] / wish.rough_mm
    last = _draw(wish, wish.rough_mm, heats_for_ratio(max(ratio, ratio * way.width_mm / wish.want.width_mm)))
    steps.append({**last, "width_mm": wish.want.width_mm})
    if wish.want.grind_mm > 0.0:
        steps.append({"do": "grind", "per_face_mm": wish.want.grind_mm})
    if ends_mm is not None:
        steps.append({"do": "crop", "end_mm": list(ends_mm)})
    return steps


def _weld(wish: Wish, way: Way, pile_mm: float, height_mm: float) -> dict[str, Any]:
    sealed = atmosphere_of(wish) == "sealed"
    weld = {
        "do": "weld",
        "temperature_c": usual_weld_heat_c(wish.steels),
        "minutes": usual_weld_minutes(pile_mm, way.width_mm),
        "height_mm": height_mm,
    }
    return {**weld, "atmosphere": "sealed", "flux": False} if sealed else weld


def _draw(wish: Wish, height_mm: float, heats: int) -> dict[str, Any]:
    return {
        "do": "draw",
        "temperature_c": usual_draw_heat_c(wish.steels),
        "minutes": usual_minutes(heats),
        "heats": heats,
        "height_mm": height_mm,
    }


def _restack(wish: Wish, way: Way, pieces: int, last: bool) -> dict[str, Any]:
    shop = wish_numbers("schedule")
    cut = {"do": "restack", "trim_mm": shop["trim_mm"], "kerf_mm": shop["kerf_mm"]}
    if not last or way.core_mm is None:
        return {**cut, "pieces": pieces, "order": "same"}
    core = {"steel": wish.want.core, "thickness_mm": way.core_mm}
    return {**cut, "pieces": PIECES_ABOUT_A_CORE, "lay": ["piece", core, "turned"]}
