"""A smith's own fire and oils, told once beside all recipes; they count before what a recipe says."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from billet.errors import Fault, RecipeError
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


@dataclass(frozen=True)
class OwnTerms:
    """What of a shop counts between two steels; what is told beside the shop comes first."""

    fire: str | None
    half_width_k: float | None
    oils: tuple[str, ...]


def own_partner_terms(
    own: Mapping[str, Any], fire: str | None, half_width_k: float | None, oils: Sequence[str]
) -> OwnTerms:
    """The fire and oils for a question of partners: what is told, else those of one's shop.

    An oil stands as its class or its nickel-ball seconds. Raises RecipeError for what is no shop.
    """
    if fire is None and half_width_k is None:
        fire = own.get("fire")
        half_width_k = None if fire else _number(own, "half_width_k")
    rows = own.get("oils", [])
    if not isinstance(rows, list) or not all(isinstance(row, Mapping) for row in rows):
        raise RecipeError([Fault("shop.oils", "oils are tables with a name, and a class or nickel_ball_s")])
    classed = oils_with_classes(rows)
    if faults := own_oil_faults(classed, "shop.oils"):
        raise RecipeError(faults)
    mine = [str(row.get("nickel_ball_s") or row.get("class")) for row in classed]
    return OwnTerms(None if fire is None else str(fire), half_width_k, tuple(oils) or tuple(mine))


def _number(own: Mapping[str, Any], key: str) -> float | None:
    value = own.get(key)
    if value is not None and (isinstance(value, bool) or not isinstance(value, int | float)):
        raise RecipeError([Fault(f"shop.{key}", f"{key} is a number of kelvins")])
    return None if value is None else float(value)


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
