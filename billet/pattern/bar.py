"""The bar of a plan as a solid that can be cut, with what is known of its figure beforehand."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from billet.diffusion.profile import Profile, carbon_by_steel
from billet.diffusion.simulation import ColumnMetal, Metal
from billet.errors import OutOfDomain
from billet.forging.model import Forged
from billet.forging.solid import Carved, Change, Laid, Pressed, Size
from billet.pattern.chain import Made, lies_flat, worked
from billet.pattern.etch import grey_of_steel, section_grey
from billet.pattern.figure import Figure, figure_of
from billet.pattern.points import Floats
from billet.pattern.share_mean import RunningGrey
from billet.pattern.solid import Flat, Solid
from billet.pattern.unevenness import hand_of
from billet.recipe.model import Recipe

MOST_CUTS = 10
"""Each is a flow that is followed before anything can be drawn."""
MOST_RULE = f"at most {MOST_CUTS}"
DARK_SHARE, BRIGHT_SHARE = 0.02, 0.98


@dataclass(frozen=True)
class SolidBar:
    """A finished bar that can be cut anywhere, cold.

    `layer_mm` is the mean thickness of a layer to the eye. greys: a fiftieth of the metal is darker than
    the one, a fiftieth brighter than the other.
    """

    solid: Solid
    size: Size
    figure: Figure
    layers: int
    layer_mm: float
    greys: tuple[float, float]


def solid_of(recipe: Recipe, forged: Forged, metal: Metal) -> SolidBar:
    """The solid of a recipe; its hand is drawn from the number of the bar. Raises what `solid_bar` raises."""
    return solid_bar(forged, metal, int(recipe.bar_id, 16))


def solid_bar(forged: Forged, metal: Metal, seed: int) -> SolidBar:
    """The solid of a bar from its books and its metal; `seed` draws the hand.

    Raises NotFollowed where it was worked in a way that cannot be followed back, OutOfDomain where more
    cuts were flattened than are drawn.
    """
    _check_work(forged)
    made: dict[str, SolidBar] = {}
    for place, (name, bar) in enumerate(forged.bars.items()):
        made[name] = solid_bar(bar, metal.bars[name], seed + place + 1)
    changes = forged.changes
    flat = _flat_until(changes)
    whole, section = None, None
    if flat > 0:
        whole, section = _base(changes, flat, metal.columns[0], seed)
    carbon_wt = carbon_by_steel(metal.bar)
    steels = {name: grey_of_steel(c, carbon_wt.get(name, c["C"])) for name, c in metal.compositions.items()}
    bars = {name: Made(bar.solid, bar.size) for name, bar in made.items()}
    solid = worked(whole, changes[flat:], steels, bars)
    final = forged.final
    return SolidBar(
        solid,
        Size(final.width_mm, final.height_mm, final.length_mm),
        figure_of(changes, {name: bar.figure for name, bar in made.items()}),
        final.layers_visible,
        _across_mm(forged) / max(final.layers_visible, 1),
        _greys(section, made.values()),
    )


def _check_work(forged: Forged) -> None:
    cuts = sum(isinstance(change, Carved | Pressed) for change in forged.changes)
    if cuts > MOST_CUTS:
        raise OutOfDomain("times that grooves, dimples or a die were put into a drawn bar", cuts, MOST_RULE)


def _flat_until(changes: Sequence[Change]) -> int:
    """How many changes come before the first step after which the layers no longer lie flat."""
    bent = next((c.step for c in changes if not lies_flat(c)), None)
    return len(changes) if bent is None else sum(change.step < bent for change in changes)


def _across_mm(forged: Forged) -> float:
    return float(sum(layer.thickness_mm for layer in forged.final.layers))


def _base(changes: Sequence[Change], flat: int, metal: ColumnMetal, seed: int) -> tuple[Solid, RunningGrey]:
    """The layers as they last lay flat, with the carbon and the seams that they have in the end."""
    size = changes[flat - 1].after
    profile = metal.bar
    if flat < len(changes):
        last = changes[flat].step - 1
        profile = next(each.profile for each in metal.moved.steps if each.step == last)
        if not any(isinstance(change, Laid) for change in changes[flat:]):
            profile = _as_in_the_end(profile, metal.bar)
    section = section_grey(profile)
    return Flat(section, hand_of(seed, size.height_mm)), section


def _as_in_the_end(flat: Profile, end: Profile) -> Profile:
    """The flat layers with the cells of the end, each layer stretched back to the thickness it had.

    Where a layer is gone in the end the flat one is told as it was.
    """
    was_mm, was = flat.layers()
    now_mm, now = end.layers()
    if len(was) != len(now) or np.any(was != now):
        return flat
    sizes = np.diff(np.append(end.layer_starts, len(end.steel)))
    stretch: Floats = was_mm / now_mm
    back = float(np.sum(was_mm) / np.sum(now_mm))
    thickness_mm = end.thickness_mm * np.repeat(stretch, sizes)
    return replace(end, thickness_mm=thickness_mm, spread_mm2=end.spread_mm2 * back**2)


def _greys(section: RunningGrey | None, made: Iterable[SolidBar]) -> tuple[float, float]:
    found = [bar.greys for bar in made]
    if section is not None:
        low, high = np.quantile(section.cells + section.mean, (DARK_SHARE, BRIGHT_SHARE))
        found.append((float(low), float(high)))
    return min(low for low, _ in found), max(high for _, high in found)
