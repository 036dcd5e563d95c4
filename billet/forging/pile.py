"""The metal while it is worked: joined pieces, one or several lying loose one on another."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from billet.forging.solid import Size
from billet.forging.stack import Palette


@dataclass(frozen=True)
class Piece:
    """Joined layers from the bottom up: their steels, and their thicknesses in mm.

    `across` tells of each whether it goes through all columns of a bar with bars side by side; it is empty
    where there is but one column.
    """

    names: Sequence[str]
    mm: Sequence[float]
    across: Sequence[bool] = ()

    @cached_property
    def thickness_mm(self) -> float:
        return math.fsum(self.mm)

    def turned(self) -> "Piece":
        """The same piece upside down."""
        return Piece(self.names[::-1], self.mm[::-1], self.across[::-1])

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

    def visible_across(self, palette: Palette) -> int:
        """How many of these layers go through all columns, with what they have grown together with."""
        if not self.across:
            return 0
        found: list[bool] = []
        last = -1
        for name, across in zip(self.names, self.across, strict=True):
            kind = palette.kind[name]
            if kind == last:
                found[-1] = found[-1] or across
            else:
                found.append(across)
            last = kind
        return sum(found)


def joined(pieces: Sequence[Piece]) -> Piece:
    """The pieces welded into one; neighbours of one name become one layer."""
    names: list[str] = []
    mm: list[float] = []
    through: list[bool] = []
    for piece in pieces:
        flags = piece.across or [False] * len(piece.names)
        for name, thickness, across in zip(piece.names, piece.mm, flags, strict=True):
            if names and names[-1] == name:
                mm[-1] += thickness
                through[-1] = through[-1] or across
            else:
                names.append(name)
                mm.append(thickness)
                through.append(across)
    return Piece(names, mm, through if any(piece.across for piece in pieces) else ())


@dataclass
class Lost:
    """Mass that leaves in one step, kg, by the way it leaves; `added` is what is laid fresh."""

    scale: float = 0.0
    grind: float = 0.0
    cut: float = 0.0
    """Cut away as grooves or dimples."""
    trim: float = 0.0
    kerf: float = 0.0
    left_over: float = 0.0
    added: float = 0.0


WIDTH, HEIGHT, LENGTH = 0, 1, 2
"""The axes of a bar: across, up, along."""
IN_PLANE = ((HEIGHT, LENGTH), (WIDTH, LENGTH), (WIDTH, HEIGHT))
"""The two axes in the plane of layers that lie across each axis."""


@dataclass
class Pile:
    """The work as it lies: its layers, and its size along each axis.

    The layers follow each other along `axis`: the height, the width of a bar on edge, the length of one that
    stood on end. Of `sizes_mm` that axis is not read: it is what the layers add up to. `relief_mm` is how far
    the faces stand over the height by volume while grooves or dimples lie open.

    Once the layers reach every face alike (twisted, cut and flattened, pressed, stood on end, split), what
    is taken off any face is taken from all of them in proportion: counts stay, thickness goes by volume.
    """

    palette: Palette
    pieces: list[Piece]
    sizes_mm: list[float]
    laid: int
    axis: int = HEIGHT
    alike: bool = False
    disturbed: bool = False
    relief_mm: float = 0.0
    thinnest_mm: float = 0.0
    """Metal left at the thinnest place while grooves or dimples lie open."""
    apart: bool = False
    """Bars lie side by side that no weld has joined yet."""
    lost: Lost = field(default_factory=Lost)

    @property
    def loose(self) -> bool:
        return len(self.pieces) > 1 or self.apart

    @property
    def on_edge(self) -> bool:
        """The layers lie across the width."""
        return self.axis == WIDTH

    @property
    def layers_mm(self) -> float:
        """Size through all layers."""
        return math.fsum(piece.thickness_mm for piece in self.pieces)

    def size_mm(self, axis: int) -> float:
        """Size along an axis; the height by volume."""
        return self.layers_mm if axis == self.axis else self.sizes_mm[axis]

    @property
    def other_axes(self) -> tuple[int, int]:
        """The two axes in the plane of the layers."""
        return IN_PLANE[self.axis]

    @property
    def solid_height_mm(self) -> float:
        """Height by volume."""
        return self.size_mm(HEIGHT)

    @property
    def height_mm(self) -> float:
        """Height from face to face."""
        return self.solid_height_mm + self.relief_mm

    @property
    def width_mm(self) -> float:
        return self.size_mm(WIDTH)

    @property
    def section_mm2(self) -> float:
        """Section across the length, by volume."""
        return self.solid_height_mm * self.width_mm

    @property
    def length_mm(self) -> float:
        return self.size_mm(LENGTH)

    @property
    def size(self) -> Size:
        """Outer size."""
        return Size(self.width_mm, self.height_mm, self.length_mm)

    @property
    def face_mm2(self) -> float:
        """Area in the plane of the layers."""
        first, second = self.other_axes
        return self.sizes_mm[first] * self.sizes_mm[second]

    def stretch_layers(self, ratio: float) -> None:
        """All layers become `ratio` times as thick."""
        self.pieces = [replace(piece, mm=[ratio * mm for mm in piece.mm]) for piece in self.pieces]

    def set_size(self, axis: int, mm: float) -> float:
        """Give the bar this size along an axis, all layers alike; returns the ratio of their thickness."""
        if axis != self.axis:
            self.sizes_mm[axis] = mm
            return 1.0
        ratio = mm / self.layers_mm
        self.stretch_layers(ratio)
        return ratio

    def exchange(self, first: int, second: int) -> None:
        """Two axes change places: the bar is turned on edge or stood on end."""
        sizes_mm = [self.size_mm(axis) for axis in (WIDTH, HEIGHT, LENGTH)]
        sizes_mm[first], sizes_mm[second] = sizes_mm[second], sizes_mm[first]
        self.axis = {first: second, second: first}.get(self.axis, self.axis)
        self.sizes_mm = sizes_mm

    @property
    def kg_mm2(self) -> float:
        return math.fsum(piece.kg_mm2(self.palette) for piece in self.pieces)

    @property
    def mass_kg(self) -> float:
        return self.kg_mm2 * self.face_mm2

    def steel_kg(self) -> dict[str, float]:
        """Mass of each steel of the palette; 0 for one that is not there."""
        mm = dict.fromkeys(self.palette.density_kg_mm3, 0.0)
        for piece in self.pieces:
            for name, thickness in zip(piece.names, piece.mm, strict=True):
                mm[name] += thickness
        return {n: t * self.palette.density_kg_mm3[n] * self.face_mm2 for n, t in mm.items()}

    def visible(self) -> int:
        """Layers to the eye within the pieces, summed."""
        return len(self.visible_mm())

    def visible_across(self) -> int:
        """How many of them go through all columns of the bar."""
        return sum(piece.visible_across(self.palette) for piece in self.pieces)

    def visible_mm(self) -> list[float]:
        """Thickness of every layer to the eye, bottom up, piece by piece."""
        return [mm for piece in self.pieces for mm in piece.visible_mm(self.palette)]
