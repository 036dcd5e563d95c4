"""The blade inside the bar: which layers it is cut from, and the carbon that each steel has there."""

import math

import numpy as np

from billet.contract.report import BladeRow, CarbonSpread, LayerSize
from billet.diffusion.profile import Profile, carbon_by_steel, carbon_quantiles, removed
from billet.recipe.model import Blade, Layer
from billet.tables.practice import decision_numbers

SHARES = (0.0, 0.10, 0.90, 1.0)
SLIVER_MM = 0.2
SLIVER_SHARE = 0.1


def blade_profile(bar: Profile, blade: Blade | None) -> Profile:
    """The middle of the bar at the blade's thickness; all of it where no blade is told or it is forged."""
    spare_mm = spare_height_mm(bar.height_mm, blade)
    return _without_slivers(removed(bar, 0.5 * spare_mm, 0.5 * spare_mm), bar)


def _without_slivers(piece: Profile, bar: Profile) -> Profile:
    """A cut that grazes a seam leaves a film of the neighbour that no grinder keeps: one of less than half
    of a sliver is gone, a whole sliver stays, and between them what is left grows steadily."""
    thickness_mm, steel = piece.layers()
    if len(thickness_mm) < 2:
        return piece
    whole_mm, of_bar = bar.layers()
    ends = []
    for film_mm, metal in ((float(thickness_mm[i]), steel[i]) for i in (0, -1)):
        full_mm = float(np.max(whole_mm[of_bar == metal]))
        sliver_mm = min(SLIVER_MM, SLIVER_SHARE * full_mm)
        ends.append(film_mm * min(max(2.0 - 2.0 * film_mm / sliver_mm, 0.0), 1.0))
    return removed(piece, *ends)


def spare_height_mm(bar_height_mm: float, blade: Blade | None) -> float:
    """What is ground off both faces together before hardening. [mm]"""
    if blade is None or blade.made == "forged":
        return 0.0
    return max(bar_height_mm - blade.thickness_mm, 0.0)


def carbon_spreads(profile: Profile, start_wt: dict[str, float]) -> dict[str, CarbonSpread]:
    """Carbon of each steel in a piece: start, mean by mass, percentiles, least and most."""
    means = carbon_by_steel(profile)
    found = {}
    for name, mean in means.items():
        least, p10, p90, most = carbon_quantiles(profile, name, SHARES)
        found[name] = CarbonSpread(start_wt[name], mean, p10, p90, least, most)
    return found


def profile_layers(profile: Profile) -> tuple[Layer, ...]:
    """The layers of a piece from the bottom up."""
    thickness, steel = profile.layers()
    names = profile.metals.names
    return tuple(Layer(names[i], float(t)) for t, i in zip(thickness, steel, strict=True))


def mass_shares(profile: Profile) -> dict[str, float]:
    """Share of each steel in the mass of a piece, 0 to 1; 0 for a steel that is not in it."""
    metals = profile.metals
    grams = profile.moles * metals.metal_weight[profile.steel]
    by_steel = np.bincount(profile.steel, grams, len(metals.names))
    return {name: float(by_steel[i] / np.sum(by_steel)) for i, name in enumerate(metals.names)}


def layer_size(layers: tuple[Layer, ...]) -> LayerSize:
    """Mean, thinnest and thickest layer without the outermost on each side, where there are others. [um]"""
    inner = layers[1:-1] if len(layers) > 2 else layers
    sizes = [1000.0 * layer.thickness_mm for layer in inner]
    return LayerSize(sum(sizes) / len(sizes), min(sizes), max(sizes))


def blade_row(
    blade: Blade, profile: Profile, grind_mm: float, carbon_wt: dict[str, CarbonSpread]
) -> BladeRow:
    """What the report tells of the blade: its layers, lines on the bevel, the edge to leave."""
    layers = profile_layers(profile)
    size = layer_size(layers)
    angle = blade.bevel_half_angle_deg
    spacing = None if angle is None else size.mean / 1000.0 / math.sin(math.radians(angle))
    least_edge = max(float(decision_numbers("edge")["least_mm"]), blade.edge_mm)
    return BladeRow(
        blade.thickness_mm, len(layers), size, mass_shares(profile), carbon_wt, spacing, least_edge, grind_mm
    )
