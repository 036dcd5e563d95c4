"""The skin that lost carbon through the faces of a bar: its profile against one whose faces were sealed.

A layer that carries little carbon by nature, or that drank some at a seam, is no skin: the sealed bar
has the same layers and the same seams, and what differs is what left through the faces alone.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from billet.diffusion.profile import Floats, Profile, joined, removed
from billet.diffusion.transport import hold, transport
from billet.forging.events import Event, Heat, HeatLoose
from billet.recipe.model import Atmosphere, Recipe
from billet.tables.practice import decision_numbers

FACE_MM = 1.5
"""So much metal under each face is carried through a heat treatment: no skin of it reaches deeper."""


def sealed_bar(recipe: Recipe, events: Sequence[Event], bar: Profile) -> Profile:
    """The same bar forged with sealed faces: the same sizes, scale and seams, no carbon through a face.

    `bar` itself where no fire of the forging was open.
    """
    opened = [e for e in events if isinstance(e, Heat | HeatLoose) and e.atmosphere != "sealed"]
    if not opened:
        return bar
    closed = [replace(e, atmosphere="sealed") if isinstance(e, Heat | HeatLoose) else e for e in events]
    compositions = {name: steel.composition for name, steel in recipe.steels.items()}
    densities = {name: steel.density_g_cm3 for name, steel in recipe.steels.items()}
    moved = transport(compositions, densities, closed)
    return moved.profile if moved.profile is not None else moved.steps[-1].profile


def decarburised_depth_mm(opened: Profile, sealed: Profile) -> tuple[float, float]:
    """Depth at bottom and top within which under nine tenths of the sealed bar's carbon is left. [mm]

    `opened` and `sealed` are one piece with open and with sealed faces, of the same layers and heights.
    Metal that would not harden with all its carbon is no skin: the nine tenths are asked in full from
    0.40 % carbon, not at all up to 0.30, straight between. Own construction; the share is practice.
    """
    at_mm, held_wt = _points(opened)
    short_wt = _asked_wt(_read_at(sealed, opened, at_mm)) - held_wt
    height_mm = opened.height_mm
    return (
        _first_sound_mm(at_mm, short_wt, height_mm),
        _first_sound_mm(height_mm - at_mm[::-1], short_wt[::-1], height_mm),
    )


def lost_in_heats_mm(profile: Profile, heats: Sequence[tuple[float, float]], atmosphere: Atmosphere) -> float:
    """Depth that such heats, (temperature in C, minutes) each, take off a piece with clean faces. [mm]

    The worse of both faces, to nine tenths of the carbon. Scale that eats part of it is not counted, so
    in air this is the upper end.
    """
    if not heats or atmosphere == "sealed":
        return 0.0
    faces = _faces_of(profile)
    kept = np.repeat(faces.ratio[:1], 2 if atmosphere == "reducing" else 1, axis=0)
    opened = hold(replace(faces, ratio=kept), heats, atmosphere=atmosphere)
    return max(decarburised_depth_mm(opened, hold(faces, heats)))


def _faces_of(profile: Profile) -> Profile:
    """The metal under both faces laid on each other; the whole piece where it is thin."""
    spare_mm = profile.height_mm - FACE_MM
    if spare_mm <= FACE_MM:
        return profile
    return joined([removed(profile, 0.0, spare_mm), removed(profile, spare_mm, 0.0)])


def _asked_wt(sealed_wt: Floats) -> Floats:
    share = float(decision_numbers("edge")["skin_left_frac"])
    soft_wt, hard_wt = (decision_numbers("role")[k] for k in ("soft_below_c_wt", "partly_below_c_wt"))
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
