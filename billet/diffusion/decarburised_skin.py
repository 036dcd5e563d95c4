"""The skin that lost carbon through the faces of a bar: its profile against one whose faces were sealed.

A layer that carries little carbon by nature, or that drank some at a seam, is no skin: the sealed bar
has the same layers and the same seams, and what differs is what left through the faces alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from billet.diffusion.alike_bar import Skins, unharmed
from billet.diffusion.heat import REDUCING_SHARE, SPREADING
from billet.diffusion.profile import (
    CARBON_G_MOL,
    Floats,
    Metals,
    Profile,
    carbon_by_steel,
    joined,
    plate,
    removed,
)
from billet.diffusion.simulation import Metal
from billet.diffusion.transport import BURNS, hold, transport
from billet.forging.events import Event
from billet.forging.model import Forged
from billet.recipe.model import Recipe
from billet.tables.practice import decision_numbers

FACE_MM = 0.3
"""What lies so near a face counts in a heat treatment, by its share there."""
PLATE_MM = 1.6
"""Thickness of the plate that stands for two steels: no skin of a heat treatment reaches its middle."""


def bar_skin_mm(recipe: Recipe, forged: Forged, metal: Metal) -> tuple[float, float]:
    """Depth poor in carbon at the bottom and the top of the finished bar; the worst of its columns. [mm]

    Where the layers reach every face alike it is that of the steel whose faces lost most.
    """
    found = [
        _alike_skin_mm(own.skins) if own.alike else decarburised_depth_mm(
            own.bar, sealed_bar(recipe, column.events, own.bar, metal.made)
        )
        for column, own in zip(forged.columns, metal.columns, strict=True)
    ]  # fmt: skip
    return max(low for low, _ in found), max(high for _, high in found)


def _alike_skin_mm(skins: Skins) -> tuple[float, float]:
    depths = [decarburised_depth_mm(skin.profile, unharmed(skin)) for skin in skins.values()]
    return max((low for low, _ in depths), default=0.0), max((high for _, high in depths), default=0.0)


def sealed_bar(
    recipe: Recipe, events: Sequence[Event], bar: Profile, made: Mapping[tuple[str, int], Profile]
) -> Profile:
    """The same bar forged with sealed faces: the same sizes, scale and seams, no carbon through a face.

    `bar` itself where no fire of the forging was open; the row that it keeps of what it would hold, where
    no fire was in air. Bars made first are laid as they ended.
    """
    seen = {e.atmosphere for e in events if isinstance(e, BURNS)}
    if seen <= {"sealed"}:
        return bar
    if "air" not in seen and len(bar.ratio) > 1:
        return replace(bar, ratio=bar.ratio[1:])
    closed = [replace(e, atmosphere="sealed") if isinstance(e, BURNS) else e for e in events]
    compositions = {name: steel.composition for name, steel in recipe.steels.items()}
    densities = {name: steel.density_g_cm3 for name, steel in recipe.steels.items()}
    moved = transport(compositions, densities, closed, made=made)
    return moved.profile if moved.profile is not None else moved.steps[-1].profile


def decarburised_depth_mm(opened: Profile, sealed: Profile) -> tuple[float, float]:
    """Depth at bottom and top within which under nine tenths of the sealed bar's carbon is left. [mm]

    `opened` and `sealed` are one piece with open and with sealed faces, of the same layers and heights.
    Metal that would not harden with all its carbon is no skin: the nine tenths are asked in full from
    0.40 % carbon, not at all up to 0.30, straight between. Own construction; the share is practice.
    """
    at_mm, held_wt = _points(opened)
    return _lean_mm(at_mm, held_wt, _read_at(sealed, opened, at_mm), opened.height_mm)


def _lean_mm(at_mm: Floats, held_wt: Floats, whole_wt: Floats, height_mm: float) -> tuple[float, float]:
    """Depth at bottom and top to the first place where enough is held of what would be there. [mm]"""
    short_wt = _asked_wt(whole_wt) - held_wt
    return (
        _first_sound_mm(at_mm, short_wt, height_mm),
        _first_sound_mm(height_mm - at_mm[::-1], short_wt[::-1], height_mm),
    )


def lost_in_heats_mm(profile: Profile, heats: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Depth that such heats, (temperature in C, minutes) each, take off clean faces in air and in a
    reducing atmosphere. [mm]

    The worse of both faces, to nine tenths of the carbon: each steel under the face as if it lay there
    alone with the carbon it has, times how much of what lies there it is and how far it hardens. Scale
    that eats part of it is not counted, so this is the upper end. A reducing atmosphere takes a constant
    share of what air takes everywhere, which is exact where diffusion is linear.
    """
    if not heats:
        return 0.0, 0.0
    spare_mm = max(profile.height_mm - FACE_MM, 0.0)
    faces = [removed(profile, *ends) for ends in ((0.0, spare_mm), (spare_mm, 0.0))]
    under = {_under_face(face) for face in faces}
    lost = [_lost_under_mm(profile.metals, face, heats) for face in under]
    return max(in_air for in_air, _ in lost), max(reducing for _, reducing in lost)


Under = tuple[tuple[str, float, float], ...]
"""Steels under a face: name, share of the metal there, carbon in wt% to a thousandth."""


def _under_face(face: Profile) -> Under:
    held = carbon_by_steel(face)
    amount = np.bincount(face.steel, face.moles, len(face.metals.names))
    return tuple(
        (name, round(float(amount[face.metals.index(name)] / amount.sum()), 3), round(wt, 3))
        for name, wt in held.items()
    )


def _lost_under_mm(metals: Metals, under: Under, heats: Sequence[tuple[float, float]]) -> tuple[float, float]:
    counted = [
        ((name, whole_wt), weight)
        for name, share, whole_wt in under
        if (weight := share * _hardens(whole_wt)) > 0.0
    ]
    in_air_mm = reducing_mm = 0.0
    for place in range(0, len(counted), 2):
        pair = counted[place : place + 2]
        lost = _lost_back_to_back_mm(metals, (pair[0][0], pair[-1][0]), heats)
        for (_, weight), (in_air, reducing) in zip(pair, lost[: len(pair)], strict=True):
            in_air_mm, reducing_mm = in_air_mm + weight * in_air, reducing_mm + weight * reducing
    return in_air_mm, reducing_mm


Fresh = tuple[str, float]
"""A steel and its carbon in wt%."""


def _lost_back_to_back_mm(
    metals: Metals, steels: tuple[Fresh, Fresh], heats: Sequence[tuple[float, float]]
) -> list[tuple[float, float]]:
    """What the faces of a plate lose in air and in a reducing atmosphere, whose lower half is the first steel
    and whose upper half the second: as no skin reaches the middle, each is as if it lay there alone. [mm]"""
    opened = hold(joined([_half_plate(metals, *steel) for steel in steels]), heats, atmosphere="air")
    at_mm, held_wt = _points(opened)
    whole_wt = np.where(at_mm < 0.5 * opened.height_mm, steels[0][1], steels[1][1])
    lean = [
        _lean_mm(at_mm, whole_wt - part * (whole_wt - held_wt), whole_wt, opened.height_mm)
        for part in (1.0, REDUCING_SHARE)
    ]
    return list(zip(*lean, strict=True))


def _half_plate(metals: Metals, name: str, whole_wt: float) -> Profile:
    fresh = plate(metals, name, 0.5 * PLATE_MM, rows=1, columns=len(SPREADING))
    ratio = whole_wt / CARBON_G_MOL / ((100.0 - whole_wt) / metals.metal_weight[metals.index(name)])
    return replace(fresh, ratio=np.full((1, 1), ratio))


def _hardens(carbon_wt: float) -> float:
    """0 to 1: how far a steel of this carbon hardens."""
    soft_wt, hard_wt = decision_numbers("role")["carbon_wt"]
    return float(np.clip((carbon_wt - soft_wt) / (hard_wt - soft_wt), 0.0, 1.0))


def _asked_wt(sealed_wt: Floats) -> Floats:
    share = float(decision_numbers("edge")["skin_left_frac"])
    soft_wt, hard_wt = decision_numbers("role")["carbon_wt"]
    asked: Floats = share * sealed_wt * np.clip((sealed_wt - soft_wt) / (hard_wt - soft_wt), 0.0, 1.0)
    return asked


def _points(profile: Profile) -> tuple[Floats, Floats]:
    """Middles of the cells from the bottom, mm, and their carbon, wt%: (cells,) each."""
    return np.cumsum(profile.thickness_mm) - 0.5 * profile.thickness_mm, profile.carbon_wt


def _read_at(profile: Profile, like: Profile, at_mm: Floats) -> Floats:
    """Carbon of `profile` at the places of the cells of `like`, layer by layer; never over a seam. [wt%]"""
    middles, content = _points(profile)
    found = np.empty(len(at_mm))
    theirs = [*profile.layer_starts, len(content)]
    own = [*like.layer_starts, len(at_mm)]
    for layer in range(len(own) - 1):
        cells, inside = slice(own[layer], own[layer + 1]), slice(theirs[layer], theirs[layer + 1])
        found[cells] = np.interp(at_mm[cells], middles[inside], content[inside])
    return found


def _first_sound_mm(depth_mm: Floats, short_wt: Floats, height_mm: float) -> float:
    """Depth of the first place that lacks nothing, straight between two cells."""
    sound = np.flatnonzero(short_wt <= 0.0)
    if len(sound) == 0:
        return height_mm
    first = int(sound[0])
    if first == 0:
        return 0.0
    before, here = float(short_wt[first - 1]), float(short_wt[first])
    share = before / (before - here)
    return float(depth_mm[first - 1] + share * (depth_mm[first] - depth_mm[first - 1]))
