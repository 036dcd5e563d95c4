"""The hand: layers are never quite even, and a grind through them shows it as the lines of a map.

Random waves over the width and the length lift the layers; they are drawn from a seed, so one bar always
looks alike. Lengths and height of the waves are our own choice, the figure is one possible hand.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.pattern.lattice import read_plane
from billet.pattern.points import Floats, Points
from billet.tables.practice import decision_numbers

TILE_MM = (128.0, 512.0)
"""The waves repeat after so much across and along."""
GRID_MM = 0.5
KEPT_TILES = 8


@dataclass(frozen=True)
class Unevenness:
    """Lifts layers by waves of so much in the root mean square."""

    seed: int
    rms_mm: float

    def __call__(self, new: Points) -> Points:
        waves = _tile(self.seed)
        rows, columns = waves.shape[0] - 1, waves.shape[1] - 1
        row, column = np.broadcast_arrays(np.mod(new.x / GRID_MM, rows), np.mod(new.z / GRID_MM, columns))
        (lift,) = read_plane((waves,), row, column)
        return Points(new.x, new.y + self.rms_mm * lift, new.z)


def hand_of(seed: int, height_mm: float) -> Unevenness:
    """The hand in a bar of this height: a share of it, within bounds."""
    told = decision_numbers("hand")
    low, high = told["rms_mm"]
    return Unevenness(seed, float(np.clip(told["rms_of_height"] * height_mm, low, high)))


@lru_cache(maxsize=KEPT_TILES)
def _tile(seed: int) -> Floats:
    """Waves of mean square 1 that repeat, with the first row and column once more at the end."""
    shortest, longest = decision_numbers("hand")["waves_mm"]
    across, along = (round(size / GRID_MM) for size in TILE_MM)
    k = np.hypot(np.fft.fftfreq(across, GRID_MM)[:, None], np.fft.rfftfreq(along, GRID_MM)[None, :])
    rng = np.random.default_rng(seed)
    shape = k.shape
    noise = rng.standard_normal(shape) + 1j * rng.standard_normal(shape)
    inside = (k > 1.0 / longest) & (k < 1.0 / shortest)
    waves = np.fft.irfft2(np.where(inside, noise / np.where(inside, k, 1.0), 0.0), s=(across, along))
    waves /= np.sqrt(np.mean(waves**2))
    waves = np.concatenate([waves, waves[:1]], axis=0)
    return np.concatenate([waves, waves[:, :1]], axis=1)
