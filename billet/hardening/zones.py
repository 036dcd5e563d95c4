"""The zone of the edge and the whole blade, as the cells of each steel in them."""

from collections.abc import Mapping, Sequence

import numpy as np

from billet.diffusion.profile import Floats, Profile
from billet.hardening.samples import Array, CellCarbon
from billet.recipe.model import EdgeAt
from billet.tables.practice import decision_numbers


def edge_zone_mm(thickness_mm: float, edge_mm: float) -> float:
    """Height of the zone about the middle plane that decides the edge: the edge as it is quenched and a
    quarter of the thickness, never more than the blade. [mm] Own construction."""
    share = decision_numbers("role")["edge_zone_thickness_frac"]
    return float(min(edge_mm + share * thickness_mm, thickness_mm))


def edge_zone(profile: Profile, height_mm: float, edge_at: EdgeAt = "middle") -> dict[str, CellCarbon]:
    """Cells of each steel within this height about the middle plane of a piece, or from the upper face of a
    blade ground from one side; a sample of one each."""
    top_mm = profile.height_mm if edge_at == "face" else 0.5 * (profile.height_mm + height_mm)
    return _zone(profile, top_mm - height_mm, top_mm)


def together(zones: Sequence[tuple[float, Mapping[str, CellCarbon]]]) -> dict[str, CellCarbon]:
    """Zones side by side as one, each with its part of the width; the parts need not add up to 1."""
    if len(zones) == 1:
        return dict(zones[0][1])
    wide = sum(part for part, _ in zones)
    names = dict.fromkeys(name for _, zone in zones for name in zone)
    return {
        name: _beside([(part / wide, zone[name]) for part, zone in zones if name in zone]) for name in names
    }


def _beside(cells: Sequence[tuple[float, CellCarbon]]) -> CellCarbon:
    carbon = np.concatenate([cell.carbon_wt for _, cell in cells], axis=1)
    return CellCarbon(carbon, np.concatenate([part * cell.share for part, cell in cells]))


def whole(profile: Profile) -> dict[str, CellCarbon]:
    """Cells of each steel in the whole piece, a sample of one each."""
    return _zone(profile, 0.0, profile.height_mm)


def shifted(zone: CellCarbon, more_wt: Array) -> CellCarbon:
    """The zone in many samples: the carbon of the steel's cells off by so much in each, never under 0."""
    return CellCarbon(np.maximum(zone.carbon_wt + more_wt[:, None], 0.0), zone.share)


def _zone(profile: Profile, low_mm: float, high_mm: float) -> dict[str, CellCarbon]:
    ends = np.concatenate([[0.0], np.cumsum(profile.thickness_mm)])
    inside = np.clip(np.minimum(ends[1:], high_mm) - np.maximum(ends[:-1], low_mm), 0.0, None)
    share = inside / max(high_mm - low_mm, 1e-12)
    return _by_steel(profile, share, profile.carbon_wt)


def _by_steel(profile: Profile, share: Floats, carbon: Floats) -> dict[str, CellCarbon]:
    found: dict[str, CellCarbon] = {}
    for place, name in enumerate(profile.metals.names):
        own = (profile.steel == place) & (share > 0.0)
        if np.any(profile.steel == place):
            found[name] = CellCarbon(carbon[own][None, :], share[own])
    return found
