"""A smith's own fire and oils, told once beside all recipes; they count before what a recipe says."""

from collections.abc import Mapping, Sequence
from typing import Any

from billet.errors import Fault
from billet.tables.oil_names import never_quenched_in, oil_by_name

FIRE_KEYS = ("fire", "half_width_k")
OWN_KEYS = (*FIRE_KEYS, "press", "oils")
TELLS_SPEED = {"class", "nickel_ball_s"}


def with_own_shop(recipe: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """The mapping of a recipe answered for one's own fire, press and oils. Nothing is checked here."""
    told = {key: own[key] for key in OWN_KEYS if own.get(key)}
    if not told:
        return dict(recipe)
    answered = dict(recipe)
    shop = recipe.get("shop")
    kept = dict(shop) if isinstance(shop, Mapping) else {}
    if any(key in told for key in FIRE_KEYS):
        answered.pop("control", None)
        kept = {key: value for key, value in kept.items() if key not in FIRE_KEYS}
    answered["shop"] = {**kept, **told}
    return answered


def oils_with_classes(rows: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """The oils, each with the class that its name stands for where it tells no class and no seconds."""
    oils: list[dict[str, Any]] = []
    for row in rows:
        named = oil_by_name(str(row.get("name", "")))
        classed = named is not None and named.why_never is None and not row.keys() & TELLS_SPEED
        filled = {"class": named.medium} if named is not None and classed else {}
        oils.append({"name": str(row.get("class", "")), **row, **filled})
    return oils


def own_oil_faults(rows: Sequence[Mapping[str, Any]], where: str) -> list[Fault]:
    """What is wrong with one's own oils: what is never quenched in, and what tells too little."""
    faults = []
    for index, row in enumerate(rows):
        place, name = f"{where}[{index}].name", str(row.get("name", ""))
        never = never_quenched_in(name)
        if never is not None:
            faults.append(Fault(place, never))
        elif not row.keys() & TELLS_SPEED:
            faults.append(Fault(place, "tell the class of this oil, or the nickel-ball seconds of its maker"))
    return faults
