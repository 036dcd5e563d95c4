"""The metal while it is worked: joined pieces, one or several lying loose one on another."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from billet.forging.stack import Palette


@dataclass(frozen=True)
class Piece:
    """Joined layers from the bottom up: their steels, and their thicknesses in mm."""

    names: Sequence[str]
    mm: Sequence[float]

    @property
    def thickness_mm(self) -> float:
        return math.fsum(self.mm)

    def turned(self) -> "Piece":
        """The same piece upside down."""
        return Piece(self.names[::-1], self.mm[::-1])

    def kg_mm2(self, palette: Palette) -> float:
        """Mass over each mm2 of its face."""
        density = palette.density_kg_mm3
        return math.fsum(t * density[n] for n, t in zip(self.names, self.mm, strict=True))

    def visible_mm(self, palette: Palette) -> list[float]:
        """Thickness of each layer that the eye tells apart: neighbours of equal analysis are one."""
        seen: list[float] = []
        last = -1
        for name, thickness in zip(self.names, self.mm, strict=True):
            kind = palette.kind[name]
            if kind == last:
                seen[-1] += thickness
            else:
                seen.append(thickness)
            last = kind
        return seen


def joined(pieces: Sequence[Piece]) -> Piece:
    """The pieces welded into one; neighbours of one name become one layer."""
    names: list[str] = []
    mm: list[float] = []
    for piece in pieces:
        for name, thickness in zip(piece.names, piece.mm, strict=True):
            if names and names[-1] == name:
                mm[-1] += thickness
            else:
                names.append(name)
                mm.append(thickness)
    return Piece(names, mm)


@dataclass
class Lost:
    """Mass that leaves in one step, kg, by the way it leaves; `added` is what is laid fresh."""

    scale: float = 0.0
    grind: float = 0.0
    trim: float = 0.0
    kerf: float = 0.0
    left_over: float = 0.0
    added: float = 0.0


@dataclass
class Pile:
    """The work as it lies. `side_mm` is the size across, in the plane of the layers.

    Standing `on_edge` the layers lie across the width, and `side_mm` is the height.
    """

    palette: Palette
    pieces: list[Piece]
    side_mm: float
    length_mm: float
    laid: int
    on_edge: bool = False
    disturbed: bool = False
    lost: Lost = field(default_factory=Lost)

    @property
    def loose(self) -> bool:
        return len(self.pieces) > 1

    @property
    def layers_mm(self) -> float:
        """Size through all layers."""
        return math.fsum(piece.thickness_mm for piece in self.pieces)

    @property
    def height_mm(self) -> float:
        return self.side_mm if self.on_edge else self.layers_mm

    @property
    def width_mm(self) -> float:
        return self.layers_mm if self.on_edge else self.side_mm

    @property
    def kg_mm2(self) -> float:
        return math.fsum(piece.kg_mm2(self.palette) for piece in self.pieces)

    @property
    def mass_kg(self) -> float:
        return self.kg_mm2 * self.side_mm * self.length_mm

    def steel_kg(self) -> dict[str, float]:
        """Mass of each steel of the palette; 0 for one that is not there."""
        mm = dict.fromkeys(self.palette.density_kg_mm3, 0.0)
        for piece in self.pieces:
            for name, thickness in zip(piece.names, piece.mm, strict=True):
                mm[name] += thickness
        face_mm2 = self.side_mm * self.length_mm
        return {n: t * self.palette.density_kg_mm3[n] * face_mm2 for n, t in mm.items()}

    def visible(self) -> int:
        """Layers to the eye within the pieces, summed."""
        return len(self.visible_mm())

    def visible_mm(self) -> list[float]:
        """Thickness of every layer to the eye, bottom up, piece by piece."""
        return [mm for piece in self.pieces for mm in piece.visible_mm(self.palette)]
