"""What the page fills in for a smith, and how it remembers which figures nobody touched yet.

A step of a draft may carry a key `told`, which is the page's own and never part of a recipe:
`proposed` lists the fields that hold a proposal, `length_mm` or `times` tell how far a draw goes where
it is not told by its height. `recipe_of` takes all of it out, but for the marks of proposed numbers, which
a recipe has a key for.
"""

from collections.abc import Mapping
from typing import Any, TypeGuard

from billet import (
    BarBefore,
    bar_before,
    height_for_length_mm,
    proposed_heat_c,
    proposed_heats,
    proposed_height_mm,
    proposed_minutes,
    quantities,
    recipe_tables,
    soft_iron,
)
from web.form.fields import step_words
from web.form.fields import table as fields_of
from web.form.texts import rows_of, table_of
from web.http.links import Units

Draft = dict[str, Any]
TOLD = "told"
PROPOSED = "proposed"
MINE = "mine"
THEIRS = "theirs"
"""Set where the fire and oils that the recipe tells count before the reader's own."""
FIRES = ("temperature_c", "minutes", "heats")
NEW_STEPS: dict[str, dict[str, Any]] = {
    "grind": {"per_face_mm": 0.4},
    "restack": {"pieces": 4, "trim_mm": 10, "order": "same"},
    "crop": {"end_mm": 10},
    "other": {"what": "work it hot"},
    "twist": {"turns": 6},
}
"""What a new step begins with beside its fire: round figures of practice, no source."""
OF_HEIGHT: dict[str, dict[str, float]] = {
    "groove": {"pitch_mm": 1.6, "depth_mm": 0.3, "width_mm": 0.8},
    "dimple": {"pitch_mm": 1.6, "depth_mm": 0.25, "diameter_mm": 0.9},
    "press": {"pitch_mm": 1.6, "depth_mm": 0.2, "width_mm": 0.8},
    "split": {"drag_mm": 1.0, "width_mm": 0.5},
}
"""The same as shares of the height of the bar before."""
SHORTER = 0.8
SQUARED = 0.9
"""Side of a squared bar beside that of a square of the same section."""
MOST_LAYERS = 3000
"""A bar of more layers takes too long to forge for every step anew; its proposals stay as they are."""


def recipe_of(draft: Mapping[str, Any]) -> Draft:
    """The draft as a recipe: without what the page keeps for itself, soft iron by its analysis."""
    steps, steels = draft.get("steps"), draft.get("steels")
    kept = {key: value for key, value in draft.items() if key not in (MINE, THEIRS)}
    if isinstance(steels, Mapping):
        kept["steels"] = {name: _planned_as(entry) for name, entry in steels.items()}
    if isinstance(steps, list):
        kept["steps"] = _steps_of(steps)
    if isinstance(bars := draft.get("bars"), Mapping):
        kept["bars"] = {
            name: {**bar, "steps": _steps_of(bar["steps"])}
            if isinstance(table_of(bars, name).get("steps"), list)
            else bar
            for name, bar in bars.items()
        }
    return kept


def _steps_of(steps: list[Any]) -> list[Any]:
    return [_step_of(step) if isinstance(step, Mapping) else step for step in steps]


def _step_of(step: Mapping[str, Any]) -> Draft:
    """A step as a recipe has it; numbers still as they were proposed are named under its own key."""
    kept = {key: value for key, value in step.items() if key != TOLD}
    if TOLD not in step:
        return kept
    do = step.get("do")
    fields = recipe_tables()[f"steps.{do}"].fields if isinstance(do, str) and do in step_words() else ()
    known = [key for field in fields if field.key == PROPOSED for key in field.words]
    listed = [key for key in proposed_in(step) if key in known]
    kept.pop(PROPOSED, None)
    return {**kept, PROPOSED: listed} if listed else kept


def _planned_as(entry: Any) -> Any:
    """Mild steel and wrought iron as the soft cladding that they are; any other entry as it stands."""
    iron = soft_iron(entry) if isinstance(entry, str) else None
    return entry if iron is None else iron.as_steel()


def told_of(step: Mapping[str, Any]) -> Mapping[str, Any]:
    """What the page keeps beside a step."""
    return table_of(step, TOLD)


def proposed_in(step: Mapping[str, Any]) -> tuple[str, ...]:
    """Keys of the fields of a step that hold a proposal, as the page or the recipe itself tells them."""
    listed = told_of(step).get(PROPOSED) if TOLD in step else step.get(PROPOSED)
    return tuple(key for key in listed if isinstance(key, str)) if isinstance(listed, list) else ()


def new_step(do: str) -> Draft:
    """A step with everything that it needs proposed. Raises ValueError for a word that is no step."""
    if do not in step_words():
        raise ValueError(do)
    known = {spec.key for spec in fields_of(f"steps.{do}")} | {"order"}
    begun = {k: v for k, v in NEW_STEPS.get(do, {}).items() if k in known}
    heights = ("height_mm",) if do in ("weld", "draw") else ("length_mm",) if do == "upset" else ()
    wanted = [*(key for key in FIRES if key in known), *heights, *OF_HEIGHT.get(do, ())]
    return {"do": do, **begun, TOLD: {"proposed": [*wanted, *(k for k in begun if k != "order")]}}


def new_steps(do: str) -> list[Draft]:
    """A new step with what it cannot do without: a square bar before a twist, a weld or a draw after it.

    A split is the one that is not made whole so: it wants layers that lie across a bar long enough to draw.
    """
    before = [squared()] if do == "twist" else [short_piece()] if do == "stand" else []
    return [*before, new_step(do), *(new_step(after) for after in AFTER.get(do, ()))]


AFTER = {"restack": ("weld",), "groove": ("draw",), "dimple": ("draw",)}


def squared() -> Draft:
    """A draw to a square bar; both of its sides are proposed."""
    step = new_step("draw")
    step[TOLD]["proposed"].append("width_mm")
    return step


def short_piece() -> Draft:
    """A cut to a piece short enough to be stood on end."""
    return {"do": "crop", "length_mm": 60, TOLD: {"proposed": ["length_mm"]}}


def snapped(mm: float, units: Units) -> float | int:
    """A proposed length as the shop's own rule shows it: as it is in mm, in an inch shop to 1/32 inch."""
    if units == "inch":
        mm = max(round(mm / MM_PER_INCH * SHOP_PARTS), 1) / SHOP_PARTS * MM_PER_INCH
    return quantities.shortest(round(mm, 5))


MM_PER_INCH, SHOP_PARTS = 25.4, 32


def completed(draft: Mapping[str, Any], units: Units = "mm") -> Draft:
    """The draft with every open proposal reckoned for the bar as it now comes to its step.

    Bars made first come before the bar that they are laid in.
    """
    if isinstance(bars := draft.get("bars"), Mapping):
        draft = {**draft, "bars": {name: _completed_bar(draft, bar, units) for name, bar in bars.items()}}
    return _completed_part(draft, units)


def _completed_part(draft: Mapping[str, Any], units: Units) -> Draft:
    steps = [dict(step) for step in rows_of(draft.get("steps"))]
    if not steps or not isinstance(draft.get("steps"), list):
        return dict(draft)
    whole = {**draft, "steps": steps}
    for index, step in enumerate(steps):
        if TOLD in step:
            bar = bar_before(recipe_of(whole), index)
            if bar is not None and bar.row.layers_laid > MOST_LAYERS:
                break
            if bar is not None:
                _fill(step, proposed_in(step), bar, units)
                _reach(whole, index, bar)
                _fill_fire(step, proposed_in(step), bar)
                _reach(whole, index, bar)
    return whole


def _completed_bar(draft: Mapping[str, Any], told: Any, units: Units) -> Any:
    """A bar made first, reckoned as a bar of its own."""
    if not isinstance(told, Mapping):
        return told
    others = {key: draft[key] for key in ("format", "title", "steels", "forge") if key in draft}
    whole = _completed_part({**others, **told, "bars": draft["bars"]}, units)
    return {key: whole[key] for key in told}


def _fill(step: Draft, open_keys: tuple[str, ...], bar: BarBefore, units: Units) -> None:
    """Sizes that are proposed, and the heat, which do not wait for how far the bar is drawn."""
    do, height_mm = str(step.get("do")), bar.size_mm[0]
    if "height_mm" in open_keys and "width_mm" in open_keys:
        side_mm = float(round(SQUARED * (height_mm * bar.size_mm[1]) ** 0.5))
        step |= {"height_mm": snapped(side_mm, units), "width_mm": snapped(side_mm, units)}
    elif "height_mm" in open_keys:
        step["height_mm"] = snapped(proposed_height_mm(bar, do), units)
    if "length_mm" in open_keys and do == "upset":
        step["length_mm"] = snapped(float(round(SHORTER * bar.size_mm[2])), units)
    for key, share in OF_HEIGHT.get(do, {}).items():
        if key in open_keys:
            step[key] = snapped(max(round(share * height_mm, 1), 0.5), units)
    if "temperature_c" in open_keys:
        step["temperature_c"] = quantities.shortest(proposed_heat_c(bar, do))
    step.update({key: 1 for key in ("heats",) if key in open_keys and key not in step})
    step.update({key: 4 for key in ("minutes",) if key in open_keys and key not in step})


def _reach(draft: Draft, index: int, bar: BarBefore) -> None:
    """The height of a draw that is told by its length, or by how many times longer the bar gets."""
    step = draft["steps"][index]
    told = told_of(step)
    length_mm, times = told.get("length_mm"), told.get("times")
    if _is_number(times):
        length_mm = float(times) * bar.size_mm[2]
    if not _is_number(length_mm):
        return
    height_mm = height_for_length_mm(recipe_of(draft), index, float(length_mm))
    if height_mm is not None:
        step["height_mm"] = quantities.shortest(height_mm)


def _fill_fire(step: Draft, open_keys: tuple[str, ...], bar: BarBefore) -> None:
    do = str(step.get("do"))
    height_mm, width_mm = step.get("height_mm"), step.get("width_mm")
    heats = step.get("heats", 1)
    if "heats" in open_keys:
        drawn = do == "draw"
        wide_mm = float(width_mm) if _is_number(width_mm) else None
        heats = proposed_heats(bar, float(height_mm), wide_mm) if _is_number(height_mm) and drawn else 1
        step["heats"] = heats
    if "minutes" in open_keys and isinstance(heats, int):
        step["minutes"] = quantities.shortest(proposed_minutes(bar, do, heats))


def _is_number(value: Any) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0.0 < value < 1e9
