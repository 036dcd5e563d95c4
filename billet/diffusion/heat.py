"""One fire of one piece: cells for it, scale eating in, carbon moving, alloy creeping over seams."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.composition import Composition
from billet.diffusion.activity_law import STILL_BELOW_C, SteelLaw
from billet.diffusion.cell_law import MOST_RATIO
from billet.diffusion.cutting import Kept
from billet.diffusion.flow import Faces, Flow, Remaining
from billet.diffusion.mesh import remeshed
from billet.diffusion.profile import CARBON_G_MOL, Floats, Profile, kept_cells, removed
from billet.diffusion.solver import LEAST_RATIO, Effort, advance
from billet.errors import ToolFault
from billet.formulas.diffusion import (
    carbon_diffusivity_agren_m2_s,
    chromium_diffusivity_stainless_m2_s,
    hot_length_ratio,
    substitutional_diffusivity_m2_s,
)
from billet.recipe.model import Atmosphere

REDUCING_SHARE = 0.3
# Columns of Profile.spread_mm2; the last is chromium where stainless austenite is on one side.
SPREADING = ("Ni", "Mn", "Cr", "Si", "Mo", "V", "W", "Co", "Cr stainless")
# Error in y that the first-order result of one step may have, over one reach of the fire.
_STEP_ERROR = 4.0e-3
# Slices in which scale goes while a fire lasts. Against many of them, in a reducing fire: the outermost cell
# of fresh metal keeps 4 % of the change too much and 4 % less goes through the face (more with the scale, the
# sum within 1 %); of metal that was in the fire before, 3 % each. In air the outermost cell keeps up to 12 %.
_SCALE_PARTS = 3
# Activity that varies by less than this share of its highest counts as level.
_LEVEL = 0.01
# Carbon does not move a cell in so little time, s.
_LEAST_TIME_S = 0.01
BOOKS_SHARE = 1e-9
"""So far, as a share of what was there, may the carbon of one fire fail to add up."""
_HIGH_CARBON = Composition({"C": 0.8})


@dataclass(frozen=True)
class Fire:
    """What the piece sees: `scale_mm` of metal goes from bottom and top while it lasts."""

    temperature_c: float
    minutes: float
    atmosphere: Atmosphere
    scale_mm: tuple[float, float]


def burn(piece: Profile, law: SteelLaw, fire: Fire, refine: int) -> tuple[Profile, float, float]:
    """The piece after the fire, carbon through its faces and carbon gone with its scale, g/m2."""
    seconds = fire.minutes * 60.0
    if seconds < _LEAST_TIME_S or fire.temperature_c < STILL_BELOW_C:
        left = removed(piece, *fire.scale_mm)
        return left, 0.0, piece.carbon_g_m2 - left.carbon_g_m2
    reach_mm, growth_mm2 = _reach_and_spread(fire.temperature_c, seconds)
    is_open, before = fire.atmosphere != "sealed", piece
    piece = remeshed(piece, law.activity, reach_mm, (is_open, is_open), fire.scale_mm, refine)
    parts = _parts(fire, refine)
    rows, ratio = _moving_rows(law, piece), piece.ratio
    cells, effort = Remaining(piece), Effort(refine)
    allowed = _allowed(piece, reach_mm) / refine
    step_s: float | None = None
    bottom_mm, top_mm = fire.scale_mm
    gone_share, faces, metal = 0.0, 0.0, 0.0
    for part in range(parts):
        # Scale grows with the root of time: equal parts of it, each gone at the middle of its time.
        target = (part + 0.5) / parts
        ratio, gone = cells.cut(ratio, (target - gone_share) * bottom_mm, (target - gone_share) * top_mm)
        metal, gone_share = metal + gone, target
        held = _faces(fire.atmosphere, ratio)
        span = seconds * ((part + 1) ** 2 - part**2) / parts**2
        flow = Flow(cells, law, rows)
        moved, step_s = advance(flow, ratio[:rows].reshape(-1), held, span, step_s, allowed, effort)
        moved = moved.reshape(rows, -1)
        ratio = moved if rows == len(ratio) else np.concatenate([moved, ratio[rows:]])
        faces += held.gone[0] + held.gone[1]
    ratio, gone = cells.cut(ratio, (1.0 - gone_share) * bottom_mm, (1.0 - gone_share) * top_mm)
    least, most = ratio.item(ratio.argmin()), ratio.item(ratio.argmax())
    if not (least >= LEAST_RATIO and most <= MOST_RATIO):
        raise ToolFault("a cell was left with less than no carbon, or with more than steel holds")
    ratio = np.maximum(ratio, 0.0)
    kept = Kept(cells.first, cells.last, cells.thickness_mm, ratio)
    after = kept_cells(piece, kept, piece.spread_mm2 + growth_mm2)
    faces_g_m2, metal_g_m2 = CARBON_G_MOL * faces, CARBON_G_MOL * (metal + gone)
    _check(before, after, faces_g_m2, metal_g_m2)
    return after, faces_g_m2, metal_g_m2


def _parts(fire: Fire, refine: int) -> int:
    """In how many parts of the time a fire is followed, the scale going between them: one where each face
    stands still throughout."""
    return _SCALE_PARTS * refine if any(fire.scale_mm) else 1


def _allowed(piece: Profile, reach_mm: float) -> float:
    """Error that the first-order result of one step may have, as the root of moles times y squared."""
    reach_moles = min(reach_mm * max(piece.metals.moles_per_mm.tolist()), piece.metal_mol_m2)
    return _STEP_ERROR * math.sqrt(reach_moles)


def _check(before: Profile, after: Profile, faces_g_m2: float, metal_g_m2: float) -> None:
    """What every fire must keep. Raises ToolFault."""
    held_g_m2, left_g_m2 = before.carbon_g_m2, after.carbon_g_m2
    # Where nearly no carbon was left, what y is rounded to counts beside it.
    rounding = BOOKS_SHARE * held_g_m2 - LEAST_RATIO * CARBON_G_MOL * before.metal_mol_m2
    if not abs(left_g_m2 + faces_g_m2 + metal_g_m2 - held_g_m2) <= rounding:
        raise ToolFault("the carbon before a fire is not what is left and what was lost")
    if not (left_g_m2 <= held_g_m2 + rounding and faces_g_m2 >= -rounding and metal_g_m2 >= -rounding):
        raise ToolFault("a fire added carbon, which none does")


def _moving_rows(law: SteelLaw, piece: Profile) -> int:
    """Rows in which carbon still moves: the piece that lost nothing stands still once it is level."""
    if len(piece.ratio) == 1:
        return 1
    activity = law.activity(piece.ratio[1], piece.steel)
    least, most = activity.item(activity.argmin()), activity.item(activity.argmax())
    return 1 if most - least < _LEVEL * most else 2


def _faces(atmosphere: Atmosphere, ratio: Floats) -> Faces:
    """How the faces are held in this atmosphere."""
    if atmosphere == "sealed":
        return Faces()
    if atmosphere == "air":
        return Faces(held=(0.0, 0.0))
    return Faces(share=1.0 - REDUCING_SHARE, unharmed=(float(ratio[1, 0]), float(ratio[1, -1])))


@lru_cache(maxsize=256)
def _reach_and_spread(temperature_c: float, seconds: float) -> tuple[float, Floats]:
    """sqrt(D t) of carbon in mm, and by how much sigma squared of the metals grows, mm2 (columns,)."""
    shrink = hot_length_ratio(temperature_c) ** 2
    carbon = carbon_diffusivity_agren_m2_s(_HIGH_CARBON, temperature_c)
    metals = [substitutional_diffusivity_m2_s(element, temperature_c) for element in SPREADING[:-1]]
    metals.append(chromium_diffusivity_stainless_m2_s(temperature_c))
    growth = 2e6 * np.array(metals) * seconds / shrink
    growth.flags.writeable = False
    return 1e3 * (carbon * seconds / shrink) ** 0.5, growth
