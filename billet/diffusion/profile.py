"""Where the carbon is: cells of metal from the bottom of a piece to its top.

Carbon is counted as y, carbon atoms for one metal atom: metal atoms stay where they are, so y is what
is conserved while carbon moves. Sizes are cold, amounts belong to one square metre of the piece's face.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.diffusion.cutting import Kept, cut_ends
from billet.diffusion.slopes import up_to_walls
from billet.errors import OutOfDomain

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]

CARBON_G_MOL = ATOMIC_WEIGHT["C"]


@dataclass(frozen=True)
class Metals:
    """The steels of a bar as the cells need them, each array in the order of `names`."""

    names: tuple[str, ...]
    compositions: tuple[Composition, ...]
    moles_per_mm: Floats  # metal, mol on one square metre for one mm of height
    metal_weight: Floats  # g/mol

    def index(self, steel: str) -> int:
        """Place of a steel in `names`."""
        return self.names.index(steel)


def gather_metals(compositions: Mapping[str, Composition], densities: Mapping[str, float]) -> Metals:
    """Metals of these steels; densities in g/cm3 at 20 C, by the same names."""
    names = tuple(compositions)
    weights = np.array([compositions[name].metal_weight for name in names])
    metal_share = np.array([1.0 - compositions[name]["C"] / 100.0 for name in names])
    grams_per_mm = np.array([densities[name] for name in names]) * 1000.0
    return Metals(names, tuple(compositions.values()), grams_per_mm * metal_share / weights, weights)


@dataclass(frozen=True)
class Profile:
    """One piece, from the bottom up. Neighbouring cells of one steel make one layer.

    thickness_mm, steel: (cells,). ratio: (rows, cells) of y; row 0 is the piece, row 1, where it is
    kept, is the same piece had its faces lost nothing. spread_mm2: (layers - 1, columns), how far each
    alloying metal has spread over each seam, sigma squared (columns: transport.SPREADING).
    """

    metals: Metals
    thickness_mm: Floats
    steel: Ints
    ratio: Floats
    spread_mm2: Floats

    @cached_property
    def height_mm(self) -> float:
        """Height of the piece."""
        return float(self.thickness_mm.sum())

    @property
    def moles(self) -> Floats:
        """Metal in each cell, mol/m2: (cells,)."""
        moles: Floats = self.thickness_mm * self.metals.moles_per_mm.take(self.steel)
        return moles

    @property
    def metal_mol_m2(self) -> float:
        """Metal under one square metre of face."""
        return float(self.thickness_mm.dot(self.metals.moles_per_mm.take(self.steel)))

    @cached_property
    def carbon_g_m2(self) -> float:
        """Carbon under one square metre of face."""
        return CARBON_G_MOL * float(self.moles.dot(self.ratio[0]))

    @property
    def carbon_wt(self) -> Floats:
        """Carbon in each cell, wt%: (cells,)."""
        return carbon_wt(self.ratio[0], self.metals.metal_weight[self.steel])

    @cached_property
    def layer_bounds(self) -> Ints:
        """First cell of each layer, and the number of cells: (layers + 1,)."""
        seams = (self.steel[1:] != self.steel[:-1]).nonzero()[0]
        bounds = np.empty(len(seams) + 2, dtype=np.intp)
        bounds[0], bounds[-1] = 0, len(self.steel)
        np.add(seams, 1, out=bounds[1:-1])
        return bounds

    @property
    def layer_starts(self) -> Ints:
        """First cell of each layer: (layers,)."""
        return self.layer_bounds[:-1]

    def layers(self) -> tuple[Floats, Ints]:
        """Thickness in mm and steel of each layer: (layers,), (layers,)."""
        starts = self.layer_starts
        return np.add.reduceat(self.thickness_mm, starts), self.steel[starts]


def carbon_wt(ratio: Floats, metal_weight: Floats) -> Floats:
    """Carbon in wt% from y and the weight of the metal atoms in g/mol, of one shape."""
    carbon = ratio * CARBON_G_MOL
    percent: Floats = 100.0 * carbon / (carbon + metal_weight)
    return percent


def plate(metals: Metals, steel: str, thickness_mm: float, *, rows: int, columns: int) -> Profile:
    """A fresh plate as one cell. Raises OutOfDomain when its thickness is not above 0."""
    if not thickness_mm > 0.0:
        raise OutOfDomain("thickness_mm", thickness_mm, "above 0")
    index = metals.index(steel)
    start = metals.compositions[index].carbon_ratio
    return Profile(
        metals,
        np.array([thickness_mm]),
        np.array([index], dtype=np.intp),
        np.full((rows, 1), start),
        np.zeros((0, columns)),
    )


def forged(profile: Profile, ratio: float) -> Profile:
    """Every height times `ratio`; the carbon in the metal stays where it is."""
    spread_mm2 = profile.spread_mm2 * ratio**2
    return Profile(profile.metals, profile.thickness_mm * ratio, profile.steel, profile.ratio, spread_mm2)


def turned(profile: Profile) -> Profile:
    """The piece upside down."""
    return replace(
        profile,
        thickness_mm=profile.thickness_mm[::-1],
        steel=profile.steel[::-1],
        ratio=profile.ratio[:, ::-1],
        spread_mm2=profile.spread_mm2[::-1],
    )


def joined(pieces: Sequence[Profile]) -> Profile:
    """Pieces one on another as one; a seam between two steels starts sharp."""
    spreads = [pieces[0].spread_mm2]
    for below, above in pairwise(pieces):
        if below.steel[-1] != above.steel[0]:
            spreads.append(np.zeros((1, below.spread_mm2.shape[1])))
        spreads.append(above.spread_mm2)
    return Profile(
        pieces[0].metals,
        np.concatenate([piece.thickness_mm for piece in pieces]),
        np.concatenate([piece.steel for piece in pieces]),
        np.concatenate([piece.ratio for piece in pieces], axis=1),
        np.concatenate(spreads),
    )


def removed(profile: Profile, bottom_mm: float, top_mm: float) -> Profile:
    """The piece without so much metal at bottom and top.

    Raises OutOfDomain when an amount is below 0 or nothing would be left.
    """
    if not (bottom_mm >= 0.0 and top_mm >= 0.0 and bottom_mm + top_mm < profile.height_mm):
        raise OutOfDomain("metal removed in mm", bottom_mm + top_mm, f"under {profile.height_mm}")
    if bottom_mm == 0.0 and top_mm == 0.0:
        return profile
    per_mm = profile.metals.moles_per_mm[profile.steel]
    kept = cut_ends(profile.thickness_mm, per_mm, profile.ratio, bottom_mm, top_mm)
    return kept_cells(profile, kept, profile.spread_mm2)


def kept_cells(profile: Profile, kept: Kept, spread_mm2: Floats) -> Profile:
    """The piece that these cells make; `spread_mm2` over all seams that the profile has."""
    low, high = profile.layer_bounds[1:-1].searchsorted((kept.first + 1, kept.last))
    steel = profile.steel[kept.first : kept.last]
    return Profile(profile.metals, kept.thickness_mm, steel, kept.ratio, spread_mm2[low:high])


def mean_carbon_wt(profile: Profile) -> float:
    """Carbon of the whole piece by mass, wt%."""
    moles = profile.moles
    carbon = CARBON_G_MOL * float(moles @ profile.ratio[0])
    return 100.0 * carbon / (carbon + float(moles @ profile.metals.metal_weight[profile.steel]))


def carbon_by_steel(profile: Profile) -> dict[str, float]:
    """Mean carbon of each steel that is in the piece, by mass, wt%."""
    moles, count = profile.moles, len(profile.metals.names)
    carbon = CARBON_G_MOL * np.bincount(profile.steel, moles * profile.ratio[0], count)
    metal = np.bincount(profile.steel, moles, count) * profile.metals.metal_weight
    return {
        name: float(100.0 * carbon[i] / (carbon[i] + metal[i]))
        for i, name in enumerate(profile.metals.names)
        if metal[i] > 0.0
    }


def carbon_quantiles(profile: Profile, steel: str, shares: Sequence[float]) -> list[float]:
    """Carbon in wt% below which these shares (0 to 1) of that steel's metal lie.

    Raises OutOfDomain when the piece holds none of that steel.
    """
    here = profile.steel == profile.metals.index(steel)
    if not np.any(here):
        raise OutOfDomain("steel", steel, "in the piece")
    content, weight = _parts(profile, here)
    order = np.argsort(content)
    content, weight = content[order], weight[order]
    middles = (np.cumsum(weight) - 0.5 * weight) / np.sum(weight)
    return [float(value) for value in np.interp(np.asarray(shares), middles, content)]


_PARTS = (np.arange(8) - 3.5) / 8.0


def _parts(profile: Profile, here: npt.NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """Carbon in wt% and metal of the eighths of the chosen cells, each cell taken as a slope."""
    slope = up_to_walls(profile.ratio[0], profile.thickness_mm, profile.layer_bounds)
    swing = (slope * profile.thickness_mm)[here]
    ratio = (profile.ratio[0, here] + _PARTS[:, None] * swing).ravel()
    weight = profile.metals.metal_weight[profile.steel[here]]
    parts = len(_PARTS)
    return carbon_wt(ratio, np.tile(weight, parts)), np.tile(profile.moles[here] / parts, parts)


@dataclass(frozen=True)
class Sampled:
    """A profile as points for a picture: at most so many, two at each seam."""

    position_mm: list[float]
    carbon_wt: list[float]
    steel: list[str]


def sampled(profile: Profile, most_points: int = 400) -> Sampled:
    """Points of the profile from the bottom up, two at each seam and the faces.

    Where there are more layers than points, the layers of the middle are left out evenly.
    """
    edges = np.concatenate([[0.0], np.cumsum(profile.thickness_mm)])
    middles = 0.5 * (edges[:-1] + edges[1:])
    content, starts = profile.carbon_wt, profile.layer_starts
    ends = np.concatenate([starts[1:], [len(content)]])
    kept = _kept_layers(len(starts), most_points)
    left = most_points - 2 * len(kept)
    drawn = np.zeros(len(starts), dtype=bool)
    drawn[kept] = True
    inside = drawn.repeat(ends - starts)
    inside[starts] = inside[ends - 1] = False
    inner = np.flatnonzero(inside)
    if len(inner) > left:
        inner = inner[np.linspace(0, len(inner) - 1, left).astype(np.intp)] if left > 0 else inner[:0]
    position = np.concatenate([edges[starts[kept]], edges[ends[kept]], middles[inner]])
    cell = np.concatenate([starts[kept], ends[kept] - 1, inner]).astype(np.intp)
    order = np.lexsort((cell, position))
    position, cell = position[order], cell[order]
    return Sampled(
        position.tolist(),
        content[cell].tolist(),
        [profile.metals.names[index] for index in profile.steel[cell].tolist()],
    )


def _kept_layers(layers: int, most_points: int) -> Ints:
    """Which layers are drawn: all, or evenly chosen ones that always hold both outer ones."""
    most = most_points // 2
    if layers <= most:
        return np.arange(layers)
    return np.unique(np.linspace(0, layers - 1, most).astype(np.intp))
