"""A way forged: the length of its stack found, the ends to cut off, and what the forging passes."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from billet.contract.wish import CutRow, OffBy
from billet.errors import RecipeError
from billet.forging.model import Forged
from billet.recipe.model import FireStep, Recipe, Restack
from billet.tables.wish import wish_numbers
from billet.wish.fires import recipe_of
from billet.wish.schedules import tallest_mm
from billet.wish.sizing import Over, Sized, note
from billet.wish.wanted import Wish

Parse = Callable[[Mapping[str, Any]], tuple[Recipe, Forged]]
"""A mapping to its checked recipe and the forging of it."""
TRIES = 4


@dataclass(frozen=True)
class Fitted:
    """A way whose stack has the length that makes the bar; `over` is told by the forging itself."""

    sized: Sized
    mapping: Mapping[str, Any]
    recipe: Recipe
    forged: Forged
    over: Over

    @property
    def heats(self) -> int:
        """Fires of all steps together."""
        return sum(step.heats for step in self.recipe.steps if isinstance(step, FireStep))


def fitted(wish: Wish, found: Sized, parse: Parse) -> Fitted | str:
    """The way with its stack as long as it must be, in whole mm; or why it cannot be forged."""
    trim_mm = wish_numbers("schedule")["trim_mm"]
    wanted = wish.want.length_mm + 2.0 * trim_mm
    length = float(max(math.ceil(found.length_mm), 10))
    try:
        lengths = [(length, _length_mm(wish, found, length, parse))]
        for _ in range(TRIES):
            length = _next(lengths, wanted)
            if length == lengths[-1][0]:
                break
            lengths.append((length, _length_mm(wish, found, length, parse)))
        got = dict(lengths)[length] if length in dict(lengths) else _length_mm(wish, found, length, parse)
        far_mm = round(got - wish.want.length_mm - trim_mm, 2)
        if far_mm < 0.0:
            return f"the bar comes out {got:.4g} mm long, too short to cut its ends off"
        mapping = recipe_of(wish, found.way, length, (trim_mm, far_mm))
        recipe, forged = parse(mapping)
    except RecipeError as error:
        return error.faults[0].message
    return Fitted(found, mapping, recipe, forged, _passed(wish, found, recipe, forged))


def _length_mm(wish: Wish, found: Sized, length_mm: float, parse: Parse) -> float:
    uncut = {**recipe_of(wish, found.way, length_mm, None)}
    uncut.pop("blade", None)
    return parse(uncut)[1].rows[-1].length_mm


def _next(lengths: list[tuple[float, float]], wanted_mm: float) -> float:
    """The whole length whose bar is just long enough, on the line through the last two."""
    (x, y) = lengths[-1]
    slope = y / x
    if len(lengths) > 1:
        (a, b) = lengths[-2]
        slope = (y - b) / (x - a) if x != a and y != b else slope
    return float(max(math.ceil(x + (wanted_mm - y) / slope - 1e-6), 10))


def _passed(wish: Wish, found: Sized, recipe: Recipe, forged: Forged) -> Over:
    """The limits that the forging passes."""
    over: Over = {k: v for k, v in found.over.items() if k in ("width", "share", "thickness")}
    note(over, "stack", tallest_pile_mm(forged), tallest_mm(wish, found.way.width_mm))
    note(over, "bar", longest_bar_mm(forged), wish.limits.bar_mm)
    pieces = [row.piece_mm for row in forged.rows if row.piece_mm is not None]
    shortest = min([forged.rows[0].length_mm, *pieces])
    note(over, "length", wish_numbers("search")["least_piece_mm"], shortest)
    heats = sum(step.heats for step in recipe.steps if isinstance(step, FireStep))
    if wish.limits.heats is not None:
        note(over, "heats", float(heats), float(wish.limits.heats))
    off = abs(forged.final.layers_visible / wish.layers - 1.0)
    if off > wish.want.within:
        over["layers"] = (off, float(forged.final.layers_visible))
    return over


def tallest_pile_mm(forged: Forged) -> float:
    """The tallest pile that is welded."""
    return max(row.height_mm for row in forged.rows if row.loose)


def longest_bar_mm(forged: Forged) -> float:
    """The longest that the bar ever is."""
    return max(row.length_mm for row in forged.rows)


def off_by(wish: Wish, one: Fitted) -> OffBy:
    """What came less what was wished for."""
    core = wish.want.core
    wanted_um = wish.want.layer_um
    if wanted_um is None:
        sides = max(wish.layers - (core is not None), 1.0)
        wanted_um = 1000.0 * (wish.want.thickness_mm - wish.core_mm) / sides
    share = one.forged.rows[-1].mass_share
    apart = {name: share.get(name, 0.0) - asked for name, asked in wish.share.items()}
    return OffBy(one.forged.final.layers_visible - wish.layers, layer_um(one) - wanted_um, apart)


def layer_um(one: Fitted) -> float:
    """Mean layer without the outermost, and without a core laid between. [um]"""
    layers = one.forged.rows[-1].layers
    middle = len(layers) // 2 if one.sized.way.core_mm is not None else -1
    inner = layers[1:-1] if len(layers) > 3 else layers
    start = 1 if len(layers) > 3 else 0
    sizes = [mm for place, (_, mm) in enumerate(inner, start) if place != middle]
    return 1000.0 * sum(sizes) / max(len(sizes), 1)


def cut_list(wish: Wish, one: Fitted) -> tuple[CutRow, ...]:
    """Plates to cut from stock, those of the first pile and those laid in later."""
    kinds: dict[tuple[str, float, float], int] = {}
    stack = one.recipe.stack
    for plate in stack.plates:
        key = (plate.steel, plate.thickness_mm, stack.length_mm)  # type: ignore[union-attr]
        kinds[key] = kinds.get(key, 0) + 1
    for step, row in zip(one.recipe.steps, one.forged.rows[1:], strict=True):
        if isinstance(step, Restack) and step.lay is not None:
            for item in step.lay:
                if not isinstance(item, str):
                    key = (item.steel, item.thickness_mm, math.ceil(row.length_mm))  # type: ignore[union-attr]
                    kinds[key] = kinds.get(key, 0) + 1
    return tuple(_cut(wish, one, *key, pieces=count) for key, count in kinds.items())


def steel_kg(wish: Wish, one: Fitted) -> float:
    """All that is cut from stock, the metal that the saw takes counted."""
    return sum(row.mass_kg for row in cut_list(wish, one))


def _cut(wish: Wish, one: Fitted, name: str, thickness_mm: float, length_mm: float, pieces: int) -> CutRow:
    width_mm = one.recipe.stack.width_mm
    strip_mm = pieces * (length_mm + wish_numbers("schedule")["kerf_mm"])
    mass_kg = strip_mm * width_mm * thickness_mm * wish.steels[name].density_g_cm3 * 1e-6
    price = wish.price_kg.get(name)
    cost = None if price is None else price * mass_kg
    return CutRow(name, thickness_mm, width_mm, length_mm, pieces, strip_mm, mass_kg, cost)
