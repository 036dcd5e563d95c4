"""Carbon in a bar whose layers reach every face alike: twisted, cut and flattened, pressed, on end, split.

Its layers no longer lie one on another under a face, so they are followed as means: among themselves they
share carbon as flat layers of their mean thickness do, with no face open. What the faces take is found for
each steel by a plate of it alone, as high as the bar, that goes through the same fires, scale and grinding:
its `skin`. Of every steel the bar loses the share that this plate loses, spread over all its metal. (Own
construction. It takes bends for flat layers, so what moves between thin layers near a face or a sharp vein
is in doubt.)
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from billet.diffusion.activity_law import SteelLaw
from billet.diffusion.heat import Fire, burn
from billet.diffusion.profile import CARBON_G_MOL, Floats, Profile, forged, joined, removed
from billet.forging.cut_shapes import Cut, carved_mm


@dataclass(frozen=True)
class Skin:
    """The plate of one steel alone that stands for its faces; `whole` is its y where no face took any."""

    profile: Profile
    whole: float


Skins = Mapping[str, Skin]


@dataclass(frozen=True)
class Changed:
    """The bar and its skins after something, and what left it, g on the unit of face that the bar has."""

    piece: Profile
    skins: Skins
    faces_g_m2: float
    metal_g_m2: float


def skins_of(piece: Profile, height_mm: float, faces_known: bool) -> Skins:
    """A skin for every steel of a bar so high. Where its faces are those that the flat bar had, they keep
    what they lost there, as a share of what would be at that depth."""
    lean = _lean(piece) if faces_known and len(piece.ratio) > 1 else None
    found: dict[str, Skin] = {}
    for index, name in enumerate(piece.metals.names):
        here = piece.steel == index
        if not np.any(here):
            continue
        whole = float(np.average(piece.ratio[-1, here], weights=piece.thickness_mm[here]))
        thickness_mm = piece.thickness_mm if lean is not None else np.array([height_mm])
        ratio = np.full((len(piece.ratio), len(thickness_mm)), whole)
        if lean is not None:
            ratio[0] *= np.minimum(lean, 1.0)
        steel = np.full(len(thickness_mm), index, dtype=np.intp)
        profile = Profile(piece.metals, thickness_mm, steel, ratio, piece.spread_mm2[:0])
        found[name] = Skin(resized(profile, height_mm), whole)
    return found


def _lean(piece: Profile) -> Floats:
    """What the cells under faces that burnt keep, of what they would hold under closed ones; all of it where
    there is no carbon to lose."""
    closed = piece.ratio[1]
    lean: Floats = np.divide(piece.ratio[0], closed, out=np.ones_like(closed), where=closed > 0.0)
    return lean


def resized(profile: Profile, height_mm: float) -> Profile:
    """A plate of one steel with metal of its middle taken out or put in, so that it is so high."""
    more_mm = height_mm - profile.height_mm
    if abs(more_mm) <= 1e-12 * height_mm:
        return profile
    half_mm = 0.5 * min(height_mm, profile.height_mm)
    bottom = removed(profile, 0.0, profile.height_mm - half_mm)
    top = removed(profile, profile.height_mm - half_mm, 0.0)
    if more_mm < 0.0:
        return joined([bottom, top])
    middle = replace(
        profile,
        thickness_mm=np.array([more_mm]),
        steel=profile.steel[:1],
        ratio=0.5 * (bottom.ratio[:, -1:] + top.ratio[:, :1]),
    )
    return joined([bottom, middle, top])


def same_height(skins: Skins, height_mm: float) -> Skins:
    """The skins of a bar that was turned: its faces are what they were, its height is another."""
    return {name: replace(skin, profile=resized(skin.profile, height_mm)) for name, skin in skins.items()}


def stretched(skins: Skins, ratio: float) -> Skins:
    """The skins once the bar is forged to another height."""
    return {name: replace(skin, profile=forged(skin.profile, ratio)) for name, skin in skins.items()}


def heated(
    piece: Profile, skins: Skins, law: SteelLaw, fire: Fire, left: float, refine: int
) -> Changed:  # fmt: skip
    """One fire: the layers among themselves, then what the faces and the scale take of each steel.

    Of the thickness of every layer `left` is left after the scale of the fire.
    """
    shared, _, _ = burn(piece, law, Fire(fire.temperature_c, fire.minutes, "sealed", (0.0, 0.0)), refine)
    burnt = {name: burn(skin.profile, law, fire, refine) for name, skin in skins.items()}
    after = {name: profile for name, (profile, _, _) in burnt.items()}
    faces = {name: gone for name, (_, gone, _) in burnt.items()}
    return _spread(shared, skins, after, faces, left)


def ground(piece: Profile, skins: Skins, bottom_mm: float, top_mm: float, left: float) -> Changed:
    """Metal ground off bottom and top, of all layers in proportion."""
    after = {name: removed(skin.profile, bottom_mm, top_mm) for name, skin in skins.items()}
    return _spread(piece, skins, after, {}, left)


def carved_alike(piece: Profile, skins: Skins, bottom: Cut | None, top: Cut | None, left: float) -> Changed:
    """Grooves or dimples cut, of all layers in proportion."""
    after = {name: carved(skin.profile, bottom, top) for name, skin in skins.items()}
    return _spread(piece, skins, after, {}, left)


def carved(profile: Profile, bottom: Cut | None, top: Cut | None) -> Profile:
    """A flat piece without what grooves or dimples take out of each depth."""
    return replace(profile, thickness_mm=carved_mm(profile.thickness_mm, bottom, top))


def _spread(
    piece: Profile, skins: Skins, after: Mapping[str, Profile], faces: Mapping[str, float], left: float
) -> Changed:
    """Give every steel of the bar the share of its carbon that its skin kept."""
    faces_g_m2 = metal_g_m2 = 0.0
    ratio = piece.ratio.copy()
    for name, skin in skins.items():
        here, before = piece.steel == piece.metals.index(name), skin.profile
        held_g_m2 = CARBON_G_MOL * float(piece.moles[here] @ piece.ratio[0, here])
        if held_g_m2 <= 0.0 or before.carbon_g_m2 <= 0.0:
            continue
        kept = after[name].carbon_g_m2 / before.carbon_g_m2
        out = faces.get(name, 0.0) / before.carbon_g_m2
        faces_g_m2 += held_g_m2 * out
        metal_g_m2 += held_g_m2 * (1.0 - kept - out)
        ratio[0, here] *= kept * before.height_mm / after[name].height_mm
    changed = replace(piece, ratio=ratio, thickness_mm=piece.thickness_mm * left)
    new = {name: replace(skin, profile=after[name]) for name, skin in skins.items()}
    return Changed(changed, new, faces_g_m2, metal_g_m2)


def unharmed(skin: Skin) -> Profile:
    """The skin as it would be had no face taken any carbon."""
    ratio: Floats = np.full((1, len(skin.profile.steel)), skin.whole)
    return replace(skin.profile, ratio=ratio)
