"""Faces that were cut into a regular relief are forged flat again: the layers beneath follow them.

The relief repeats: a cell of it is mirrored at its middle and at its rims. While the faces go straight from
relief to flat, metal flows as in `creeping_flow`, carried on the faces as they are at each moment: with eta
the height between them from -1 to 1 and tau their distance,

    d(x, z)/ds = grad(phi) / tau,    d eta/ds = rise / tau,

so volume is kept and the faces arrive exactly; for long waves it is the rule of plain columns,
z h = int (t - b) dz. Carrying the wave on the moving faces is our own construction.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from billet.pattern.creeping_flow import faces_alike, faces_opposed
from billet.pattern.lattice import read_block, read_plane
from billet.pattern.points import Floats, Points

MOMENTS = 4
"""Steps of the fourth order in which the flow is followed back."""


@dataclass(frozen=True)
class Relief:
    """What is cut from the faces of a bar, on half a cell: from the middle of a mark to half a pitch on.

    top_mm, bottom_mm: depths, (across, along), at equal distances from 0 to `half_mm` along each axis;
    a relief that is alike right across the bar has one row. `first_mm`: place of the first mark along.
    """

    height_mm: float
    top_mm: Floats
    bottom_mm: Floats
    half_mm: tuple[float, float]
    first_mm: float = 0.0
    first_across_mm: float = 0.0

    @property
    def thickness_mm(self) -> Floats:
        """Between the faces: (across, along)."""
        return self.height_mm - self.top_mm - self.bottom_mm

    @property
    def middle_mm(self) -> Floats:
        """Height of the middle between the faces: (across, along)."""
        return 0.5 * (self.height_mm - self.top_mm + self.bottom_mm)

    @property
    def mean_mm(self) -> float:
        """Mean thickness of the cell: the height of the flat bar of that length."""
        return mean_of_cell(self.thickness_mm)


def mean_of_cell(values: Floats) -> float:
    """Mean over the whole mirrored cell of values on half of it: the rims count half."""
    for axis in (0, 1):
        if values.shape[axis] > 1:
            inner = np.sum(np.take(values, range(1, values.shape[axis] - 1), axis=axis), axis=axis)
            rims = np.take(values, (0, -1), axis=axis).sum(axis=axis)
            values = np.expand_dims((inner + 0.5 * rims) / (values.shape[axis] - 1), axis)
    return float(values[0, 0])


@dataclass(frozen=True)
class Flattened:
    """Back from the flat bar, `mean_mm` high, to the relief: a table of how far the metal has moved."""

    relief: Relief
    mean_mm: float
    moved: tuple[Floats, Floats, Floats]
    """Old less new x, y and z: (levels, across, along)."""

    def __call__(self, new: Points) -> Points:
        levels, across, along = self.moved[0].shape
        half_x, half_z = self.relief.half_mm
        folded_z, sign_z = folded(new.z - self.relief.first_mm, half_z)
        level = new.y * ((levels - 1) / self.mean_mm)
        column = folded_z * ((along - 1) / half_z)
        if across == 1:
            y, z = read_plane(tuple(m[:, 0] for m in self.moved[1:]), *np.broadcast_arrays(level, column))
            return Points(new.x, new.y + y, new.z + sign_z * z)
        folded_x, sign_x = folded(new.x - self.relief.first_across_mm, half_x)
        place = np.broadcast_arrays(level, folded_x * ((across - 1) / half_x), column)
        x, y, z = read_block(self.moved, (place[0], place[1], place[2]))
        return Points(new.x + sign_x * x, new.y + y, new.z + sign_z * z)


def folded(along: Floats, half_mm: float) -> tuple[Floats, Floats]:
    """Distance to the nearest mark, and on which side of it."""
    beside = along - 2.0 * half_mm * np.round(along / (2.0 * half_mm))
    return np.abs(beside), np.copysign(1.0, beside)


def flattened(relief: Relief, levels: int = 49) -> Flattened:
    """Follow the metal of the flat bar back to where it was when the relief had just been cut."""
    flow = _Flow(relief, levels)
    across, along = relief.top_mm.shape
    eta, i, j = np.meshgrid(
        np.linspace(-1.0, 1.0, levels), np.arange(across), np.arange(along), indexing="ij"
    )
    new = np.stack([eta, i.astype(np.float64), j.astype(np.float64)])
    old = flow.back(new)
    cell_x = relief.half_mm[0] / max(across - 1, 1)
    cell_z = relief.half_mm[1] / (along - 1)
    middle, thickness = flow.on_plane((relief.middle_mm, relief.thickness_mm), old)
    risen = middle + 0.5 * old[0] * thickness - 0.5 * (1.0 + eta) * flow.mean_mm
    moved = ((old[1] - new[1]) * cell_x, risen, (old[2] - new[2]) * cell_z)
    return Flattened(relief, flow.mean_mm, moved)


class _Flow:
    """Speeds on the grid of half a cell; places are counted in grid points, eta apart."""

    def __init__(self, relief: Relief, levels: int) -> None:
        self.shape = relief.top_mm.shape
        self.levels = levels
        self.mean_mm = relief.mean_mm
        self.thickness_mm = relief.thickness_mm
        middle, closing = self.mean_mm * 0.5 - relief.middle_mm, self.mean_mm - self.thickness_mm
        across, along = self.shape
        waves_x = np.fft.fftfreq(max(2 * across - 2, 1), relief.half_mm[0] / max(across - 1, 1))
        waves_z = np.fft.fftfreq(2 * along - 2, relief.half_mm[1] / (along - 1))
        self.k_x, self.k_z = np.meshgrid(2.0 * np.pi * waves_x, 2.0 * np.pi * waves_z, indexing="ij")
        rise, spread = self._levels(_mirrored(middle), _mirrored(closing))
        cells = (relief.half_mm[0] / max(across - 1, 1), relief.half_mm[1] / (along - 1))
        self.fields = (rise, *(self._gradient(spread, k) / c for k, c in
                               zip((self.k_x, self.k_z), cells, strict=True)))  # fmt: skip

    def _levels(self, middle: Floats, closing: Floats) -> tuple[Floats, Floats]:
        """tau d eta/ds on half the cell, and the waves of phi on the whole: (levels, across, along)."""
        k = np.hypot(self.k_x, self.k_z)[None]
        eta = np.linspace(-1.0, 1.0, self.levels)[:, None, None]
        a = 0.5 * self.mean_mm * k
        alike, alike_slope = faces_alike(a, eta)
        opposed, opposed_slope = faces_opposed(a, eta)
        moving, closes = 2.0 * np.fft.fft2(middle)[None], np.fft.fft2(closing)[None]
        rise = moving * (alike - 1.0) + closes * (opposed - eta)
        phi = (moving * alike_slope + closes * opposed_slope) / np.where(k > 0.0, k, 1.0) ** 2
        return self._half(rise), np.where(k > 0.0, phi, 0.0)

    def _gradient(self, phi: Floats, k: Floats) -> Floats:
        return self._half((1j * k[None] * phi).astype(np.complex128))

    def _half(self, waves: npt.NDArray[np.complex128]) -> Floats:
        across, along = self.shape
        found: Floats = np.real(np.fft.ifft2(waves))[:, :across, :along].copy()
        return found

    def back(self, new: Floats) -> Floats:
        """From flat (s = 1) to the relief (s = 0); (eta, across, along) of each point."""
        here, step = new, -1.0 / MOMENTS
        for moment in range(MOMENTS):
            s = 1.0 + moment * step
            first = self._speed(here, s)
            second = self._speed(here + 0.5 * step * first, s + 0.5 * step)
            third = self._speed(here + 0.5 * step * second, s + 0.5 * step)
            fourth = self._speed(here + step * third, s + step)
            here = here + (step / 6.0) * (first + 2.0 * (second + third) + fourth)
        return here

    def _speed(self, place: Floats, s: float) -> Floats:
        (thickness,) = self.on_plane((self.thickness_mm,), place)
        tau = (1.0 - s) * thickness + s * self.mean_mm
        level = (place[0] + 1.0) * (0.5 * (self.levels - 1))
        if self.shape[0] == 1:
            rise, along = read_plane((self.fields[0][:, 0], self.fields[2][:, 0]), level, place[2])
            return np.stack([rise, np.zeros_like(rise), along]) / tau
        speeds = read_block(self.fields, (level, place[1], place[2]))
        return np.stack(speeds) / tau

    def on_plane(self, tables: tuple[Floats, ...], place: Floats) -> list[Floats]:
        """Values of (across, along) tables at places."""
        if self.shape[0] == 1:
            tables = tuple(np.repeat(table, 2, axis=0) for table in tables)
        return read_plane(tables, place[1], place[2])


def _mirrored(half: Floats) -> Floats:
    """The whole cell from half of it: (across, along) to (2 across - 2, 2 along - 2), or one row."""
    for axis in (0, 1):
        if half.shape[axis] > 1:
            inner = np.flip(np.take(half, range(1, half.shape[axis] - 1), axis=axis), axis=axis)
            half = np.concatenate([half, inner], axis=axis)
    return half
