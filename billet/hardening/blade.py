"""The blade inside the bar: which layers it is cut from, and the carbon that each steel has there."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from billet.contract.report import BladeRow, CarbonSpread, LayerSize
from billet.diffusion.alike_bar import ground
from billet.diffusion.profile import Profile, carbon_by_steel, carbon_quantiles, removed
from billet.diffusion.side_by_side import side_by_side
from billet.diffusion.simulation import ColumnMetal, Metal
from billet.recipe.model import Blade, EdgeAt, Layer
from billet.tables.practice import decision_numbers

SHARES = (0.0, 0.10, 0.90, 1.0)
SLIVER_MM = 0.2
SLIVER_SHARE = 0.1


@dataclass(frozen=True)
class BladeColumn:
    """What the blade is cut from, between two places across its width; all of it where no bars lie side by
    side. `alike` tells that its layers reach every face alike, so that no part of it holds others."""

    share: float
    profile: Profile
    alike: bool


BladeColumns = tuple[BladeColumn, ...]


def blade_columns(metal: Metal, blade: Blade | None) -> BladeColumns:
    """The middle of the bar at the blade's thickness, column by column. Of a bar on edge, flat, all of it."""
    return tuple(BladeColumn(own.share, _cut_out(own, blade), own.alike) for own in metal.columns)


def _cut_out(own: ColumnMetal, blade: Blade | None) -> Profile:
    if own.alike:
        return _alike_blade(own, blade)
    return blade_profile(own.bar, None if own.through == "width" else blade)


def _alike_blade(own: ColumnMetal, blade: Blade | None) -> Profile:
    """Ground from both faces alike, of all layers in proportion; the skin goes with what is ground off."""
    height_mm = next(iter(own.skins.values())).profile.height_mm
    off_mm = 0.5 * spare_height_mm(height_mm, blade)
    left = 1.0 - 2.0 * off_mm / height_mm if own.through == "height" else 1.0
    return ground(own.bar, own.skins, off_mm, off_mm, left).piece if off_mm > 0.0 else own.bar


def in_one(columns: BladeColumns) -> Profile:
    """All columns as one piece, for what is summed over metal."""
    return side_by_side([column.profile for column in columns], [column.share for column in columns])


def each_held(columns: BladeColumns, held: Callable[[Profile], Profile]) -> BladeColumns:
    """The columns after heats that each goes through by itself."""
    return tuple(replace(column, profile=held(column.profile)) for column in columns)


def edge_columns(columns: BladeColumns, edge_at: EdgeAt) -> BladeColumns:
    """The columns that the edge is cut from: one at a side, else all of them."""
    if edge_at == "left":
        return columns[:1]
    return columns[-1:] if edge_at == "right" else columns


def blade_profile(bar: Profile, blade: Blade | None) -> Profile:
    """The middle of a flat bar at the blade's thickness; all of it where no blade is told or it is forged."""
    spare_mm = spare_height_mm(bar.height_mm, blade)
    return _without_slivers(removed(bar, 0.5 * spare_mm, 0.5 * spare_mm), bar)


def _without_slivers(piece: Profile, bar: Profile) -> Profile:
    """A cut that grazes a seam leaves a film of the neighbour that no grinder keeps."""
    thickness_mm, steel = piece.layers()
    if len(thickness_mm) < 2:
        return piece
    whole_mm, of_bar = bar.layers()
    ends = []
    for film_mm, metal in ((float(thickness_mm[i]), steel[i]) for i in (0, -1)):
        full_mm = float(np.max(whole_mm[of_bar == metal]))
        ends.append(film_mm if film_mm < min(SLIVER_MM, SLIVER_SHARE * full_mm) else 0.0)
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
    blade: Blade, columns: BladeColumns, grind_mm: float, carbon_wt: dict[str, CarbonSpread]
) -> BladeRow:
    """What the report tells of the blade: its layers, lines on the bevel, the edge to leave."""
    layers = [profile_layers(column.profile) for column in columns]
    size = _size_of_all([layer_size(each) for each in layers], [len(each) for each in layers])
    angle = blade.bevel_half_angle_deg
    bent = any(column.alike for column in columns)
    spacing = None if angle is None or bent else size.mean / 1000.0 / math.sin(math.radians(angle))
    least_edge = max(float(decision_numbers("edge")["least_mm"]), blade.edge_mm)
    return BladeRow(
        blade.thickness_mm,
        sum(map(len, layers)),
        size,
        mass_shares(in_one(columns)),
        carbon_wt,
        spacing,
        least_edge,
        grind_mm,
    )


def _size_of_all(sizes: list[LayerSize], counts: list[int]) -> LayerSize:
    """Mean over the layers of all columns, the thinnest and the thickest of any. [um]"""
    if len(sizes) == 1:
        return sizes[0]
    mean = sum(size.mean * count for size, count in zip(sizes, counts, strict=True)) / sum(counts)
    return LayerSize(mean, min(size.thinnest for size in sizes), max(size.thickest for size in sizes))
