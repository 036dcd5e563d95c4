"""The shape of what is cut or pressed into a face, and where along the bar it lies.

A groove and the mark of a die are a raised cosine across their width, a dimple is what a ball-nosed cutter
leaves (own construction). Marks lie even about the middle of the bar, none cut through by an end.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from billet.recipe.model import CutFaces, Dimple, Groove, Press

Floats = npt.NDArray[np.float64]
FaceName = Literal["bottom", "top"]
FACES: dict[CutFaces, tuple[FaceName, ...]] = {
    "both": ("bottom", "top"),
    "top": ("top",),
    "bottom": ("bottom",),
}


@dataclass(frozen=True)
class MarkRow:
    """Marks of one face in a line along the bar: their middles from the handle end, cold. [mm]

    `across_mm` is the distance of the line from the left side; None where each mark goes right across.
    """

    face: FaceName
    across_mm: float | None
    along_mm: tuple[float, ...]


@dataclass(frozen=True)
class Cut:
    """What is cut into one face: deepest place, and how much of the face it covers.

    `width_mm` is the width at the face, `share` the part of the face that lies inside the marks (0 to 1).
    """

    depth_mm: float
    width_mm: float
    share: float
    round: bool
    """A dimple; else a groove."""

    @property
    def mean_mm(self) -> float:
        """Metal cut away, spread over the whole face. [mm]"""
        return float(self.taken_mm(np.array([self.depth_mm]))[0])

    def taken_mm(self, below_mm: Floats) -> Floats:
        """Metal cut away down to these depths under the face, spread over the whole face. [mm] (any shape)"""
        deep = np.clip(below_mm / self.depth_mm, 0.0, 1.0)
        if not self.round:
            x = 2.0 * deep - 1.0
            return (
                self.share * self.depth_mm * 0.5 * (1.0 + (x * np.arccos(x) - np.sqrt(1.0 - x * x)) / np.pi)
            )
        return self.share * _cap_mm3(self, deep) / (math.pi * (0.5 * self.width_mm) ** 2)

    def depth_at_mm(self, off_mm: Floats) -> Floats:
        """Depth of one mark at this distance from its middle. [mm] (any shape)"""
        off = np.abs(off_mm)
        if self.round:
            radius = _ball_mm(self)
            within = np.sqrt(np.maximum(radius**2 - off**2, 0.0)) - (radius - self.depth_mm)
            return np.where(off < 0.5 * self.width_mm, np.maximum(within, 0.0), 0.0)
        wave = 0.5 * self.depth_mm * (1.0 + np.cos(2.0 * np.pi * off / self.width_mm))
        return np.where(off < 0.5 * self.width_mm, wave, 0.0)


def _ball_mm(cut: Cut) -> float:
    """Radius of the ball whose cap is the dimple. [mm]"""
    half = 0.5 * cut.width_mm
    return (half**2 + cut.depth_mm**2) / (2.0 * cut.depth_mm)


def _cap_mm3(cut: Cut, deep: Floats) -> Floats:
    """Volume of one dimple from the face down to this share of its depth. [mm3]"""
    radius, depth = _ball_mm(cut), cut.depth_mm

    def cap(height: Floats) -> Floats:
        return np.pi * height**2 * (radius - height / 3.0)

    return cap(np.full_like(deep, depth)) - cap(depth * (1.0 - deep))


def carved_mm(thickness_mm: Floats, bottom: Cut | None, top: Cut | None) -> Floats:
    """Thickness that layers or cells, lying flat from the bottom up, keep beside the cuts. [mm] (layers,)"""
    edges = np.concatenate([[0.0], np.cumsum(thickness_mm)])
    kept = thickness_mm.copy()
    if bottom is not None:
        kept -= np.diff(bottom.taken_mm(edges))
    if top is not None:
        kept += np.diff(top.taken_mm(edges[-1] - edges))
    return kept


def cut_of(
    step: Groove | Press | Dimple, rows: tuple[MarkRow, ...], width_mm: float, length_mm: float
) -> Cut:
    """The cut of one face whose marks these are, in a bar of this width and length."""
    count = sum(len(row.along_mm) for row in rows)
    if isinstance(step, Dimple):
        share = count * math.pi * (0.5 * step.diameter_mm) ** 2 / (width_mm * length_mm)
        return Cut(step.depth_mm, step.diameter_mm, share, True)
    return Cut(step.depth_mm, step.width_mm, count * step.width_mm / length_mm, False)


def marks_of(step: Groove | Press | Dimple, width_mm: float, length_mm: float) -> tuple[MarkRow, ...]:
    """Where the marks of all faces lie on a bar of this size, bottom first. Empty where none fits."""
    found: list[MarkRow] = []
    for face in FACES[step.faces]:
        if isinstance(step, Dimple):
            found += _dimple_rows(step, face, width_mm, length_mm)
        else:
            between = isinstance(step, Groove) and step.offset and step.faces == "both" and face == "bottom"
            found.append(MarkRow(face, None, _even(step.pitch_mm, step.width_mm, length_mm, between)))
    return tuple(row for row in found if row.along_mm)


def count_of_marks(step: Groove | Press | Dimple, width_mm: float, length_mm: float) -> int:
    """How many marks there will be at most, without laying them out."""
    lines = width_mm / (math.sqrt(0.75) * step.pitch_mm) + 1.0 if isinstance(step, Dimple) else 1.0
    return math.ceil(len(FACES[step.faces]) * lines * (length_mm / step.pitch_mm + 1.0))


def _even(pitch_mm: float, wide_mm: float, over_mm: float, between: bool = False) -> tuple[float, ...]:
    """Middles of marks a pitch apart, even about the middle; `between` lies in the gaps of the others."""
    if wide_mm > over_mm:
        return ()
    count = math.floor((over_mm - wide_mm) / pitch_mm + 1e-9) + 1
    count -= 1 if between else 0
    first = 0.5 * (over_mm - (count - 1) * pitch_mm)
    return tuple(first + index * pitch_mm for index in range(count))


def _dimple_rows(step: Dimple, face: FaceName, width_mm: float, length_mm: float) -> list[MarkRow]:
    apart = math.sqrt(0.75) * step.pitch_mm if step.staggered else step.pitch_mm
    lines = _even(apart, step.diameter_mm, width_mm)
    return [
        MarkRow(
            face, at, _even(step.pitch_mm, step.diameter_mm, length_mm, step.staggered and index % 2 == 1)
        )
        for index, at in enumerate(lines)
    ]
