"""A plate cooled on both faces by a film that changes with surface temperature.

Finite volumes over half the thickness, nodes on the middle and on the face. Each step is taken once
whole and once in two halves with the fully implicit rule, and the two are extrapolated, which is of
second order in time and does not ring. Many plates are cooled at once; each has its own time step.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from billet.errors import OutOfDomain
from billet.formulas.domain import (
    refuse_impossible_temperature,
    refuse_not_finite,
    refuse_not_positive,
)
from billet.formulas.radiation import STEFAN_BOLTZMANN_W_M2_K4
from billet.units import ZERO_CELSIUS_K, c_to_k

Array = NDArray[np.float64]
COLDEST_C, HOTTEST_C = -20, 1400  # the film is tabulated once a degree between these
STEP_FRAC = 0.003  # a step takes about this share of what is left above the bath
MOST_STEPS = 20000


@dataclass(frozen=True)
class Metal:
    """Properties as straight lines in temperature: a + b T, T in C; conductivity, heat, density."""

    conductivity_w_m_k: tuple[float, float]
    specific_heat_j_kg_k: tuple[float, float]
    density_kg_m3: tuple[float, float]


# Undercooled austenite, as in billet.formulas.steel_heat (all from memory).
AUSTENITE = Metal(
    conductivity_w_m_k=(20.14, 9.313e-3),
    specific_heat_j_kg_k=((24.481 + 8.368e-3 * ZERO_CELSIUS_K) / 0.055845, 8.368e-3 / 0.055845),
    density_kg_m3=(8099.79, -0.506),
)


@dataclass(frozen=True)
class Film:
    """(surface temperature in C, W/m2K) nodes, straight lines between, end values held outside.

    `emissivity` above 0 adds radiation to walls at `bath_c`; `factor` multiplies the whole.
    """

    nodes: tuple[tuple[float, float], ...]
    bath_c: float
    emissivity: float = 0.0
    factor: float = 1.0

    def times(self, factor: float) -> "Film":
        """The same film, all of it multiplied."""
        return replace(self, factor=self.factor * factor)

    def tabulated_w_m2_k(self) -> Array:
        """Coefficient at every whole degree from COLDEST_C to HOTTEST_C."""
        surface_c = np.arange(COLDEST_C, HOTTEST_C + 1, dtype=np.float64)
        film = np.interp(surface_c, [n[0] for n in self.nodes], [n[1] for n in self.nodes])
        hot, cold = surface_c + ZERO_CELSIUS_K, c_to_k(self.bath_c)
        film += self.emissivity * STEFAN_BOLTZMANN_W_M2_K4 * (hot**2 + cold**2) * (hot + cold)
        return np.asarray(film * self.factor, dtype=np.float64)


@dataclass(frozen=True)
class Plate:
    """One plate to cool: whole thickness, film on both faces, start and end of the middle in C."""

    thickness_mm: float
    film: Film
    start_c: float = 815.0
    end_c: float = 500.0


@dataclass(frozen=True)
class Cooling:
    """Seconds since the plunge, and middle and face in C; equal lengths, falling."""

    seconds: Array
    middle_c: Array
    face_c: Array

    def seconds_to_c(self, temperature_c: float) -> float:
        """When the middle passes a temperature. Raises OutOfDomain where it never does."""
        if not self.middle_c[-1] <= temperature_c <= self.middle_c[0]:
            raise OutOfDomain("temperature_c", temperature_c, "between the ends of the curve")
        if temperature_c == self.middle_c[0]:
            return 0.0
        return float(np.interp(-temperature_c, -self.middle_c, self.seconds))

    def mean_rate_k_s(self, high_c: float = 700.0, low_c: float = 550.0) -> float:
        """Mean cooling rate of the middle between two temperatures, K/s.

        Raises OutOfDomain where the curve does not reach them or they stand the wrong way round.
        """
        if not high_c > low_c:
            raise OutOfDomain("high_c", high_c, f"above {low_c}")
        return (high_c - low_c) / (self.seconds_to_c(low_c) - self.seconds_to_c(high_c))


def _refuse(plates: Sequence[Plate], nodes: int) -> None:
    if not plates:
        raise OutOfDomain("plates", 0, "one or more")
    if nodes < 3:
        raise OutOfDomain("nodes", nodes, "3 or more")
    for plate in plates:
        refuse_not_positive("thickness_mm", plate.thickness_mm)
        refuse_not_positive("factor", plate.film.factor)
        refuse_impossible_temperature("bath_c", plate.film.bath_c)
        refuse_not_finite("end_c", plate.end_c)
        if not COLDEST_C <= plate.film.bath_c < plate.end_c < plate.start_c <= HOTTEST_C:
            raise OutOfDomain("end_c", plate.end_c, "between bath and start, all of them in -20 to 1400 C")


def _line(pair: tuple[float, float], t: Array) -> Array:
    return pair[0] + pair[1] * t


class _Batch:
    """Plates side by side, as the columns of an array of (nodes, plates)."""

    def __init__(self, plates: Sequence[Plate], nodes: int, metal: Metal) -> None:
        self.metal = metal
        self.bath_c = np.array([p.film.bath_c for p in plates])
        self.end_c = np.array([p.end_c for p in plates])
        self.start_c = np.array([p.start_c for p in plates])
        self.table = np.stack([p.film.tabulated_w_m2_k() for p in plates])
        self.columns = np.arange(len(plates))
        self.cell_m = np.array([p.thickness_mm for p in plates]) / 2000.0 / (nodes - 1)
        self.volume_m = np.tile(self.cell_m, (nodes, 1))
        self.volume_m[0] *= 0.5
        self.volume_m[-1] *= 0.5

    def film_w_m2_k(self, face_c: Array) -> Array:
        place = np.clip(face_c - COLDEST_C, 0.0, self.table.shape[1] - 1.001)
        index = place.astype(np.int64)
        below, above = self.table[self.columns, index], self.table[self.columns, index + 1]
        return np.asarray(below + (above - below) * (place - index), dtype=np.float64)

    def implicit(self, t: Array, seconds: Array, properties_at: Array) -> Array:
        """One implicit step from `t`, with properties and film at the temperatures `properties_at`."""
        heat = _line(self.metal.density_kg_m3, properties_at) * _line(
            self.metal.specific_heat_j_kg_k, properties_at
        )
        between_c = 0.5 * (properties_at[1:] + properties_at[:-1])
        conduct = _line(self.metal.conductivity_w_m_k, between_c) / self.cell_m
        film = self.film_w_m2_k(properties_at[-1])
        store = heat * self.volume_m / np.maximum(seconds, 1e-30)
        diagonal = store.copy()
        diagonal[:-1] += conduct
        diagonal[1:] += conduct
        diagonal[-1] += film
        right = store * t
        right[-1] += film * self.bath_c
        return _tridiagonal(conduct, diagonal, right)

    def step(self, t: Array, seconds: Array) -> Array:
        whole = self.implicit(t, seconds, t)
        half = self.implicit(t, 0.5 * seconds, t)
        halves = self.implicit(half, 0.5 * seconds, half)
        return 2.0 * halves - whole

    def time_step_s(self, t: Array) -> Array:
        heat = _line(self.metal.density_kg_m3, t[-1]) * _line(self.metal.specific_heat_j_kg_k, t[-1])
        depth_m = self.volume_m.sum(axis=0)
        conduct = _line(self.metal.conductivity_w_m_k, t[-1]) / (0.5 * depth_m)
        film = self.film_w_m2_k(t[-1])
        return np.asarray(STEP_FRAC * heat * depth_m * (1.0 / film + 1.0 / conduct), dtype=np.float64)


def _tridiagonal(off: Array, diagonal: Array, right: Array) -> Array:
    """Solve systems whose off-diagonals are -off on both sides; columns are systems of their own."""
    last = len(diagonal) - 1
    gain = np.empty_like(off)
    solution = right.copy()
    pivot = diagonal[0]
    solution[0] /= pivot
    for i in range(1, last + 1):
        gain[i - 1] = off[i - 1] / pivot
        pivot = diagonal[i] - off[i - 1] * gain[i - 1]
        solution[i] = (right[i] + off[i - 1] * solution[i - 1]) / pivot
    for i in range(last - 1, -1, -1):
        solution[i] += gain[i] * solution[i + 1]
    return solution


def cool_plates(plates: Sequence[Plate], *, nodes: int = 17, metal: Metal = AUSTENITE) -> list[Cooling]:
    """Cool plates from an even temperature until the middle of each is at its end temperature.

    No heat of transformation. `nodes` counts from the middle to the face. One Cooling a plate.
    Raises OutOfDomain for a thickness or factor not above 0, or an end not between bath and start.
    """
    _refuse(plates, nodes)
    batch = _Batch(plates, nodes, metal)
    t = np.tile(batch.start_c, (nodes, 1))
    now_s = np.zeros(len(plates))
    history: list[tuple[Array, Array, Array]] = [(now_s.copy(), t[0].copy(), t[-1].copy())]
    for _ in range(MOST_STEPS):
        running = t[0] > batch.end_c
        if not running.any():
            break
        seconds = batch.time_step_s(t)
        t = np.where(running, batch.step(t, seconds), t)
        now_s = np.where(running, now_s + seconds, now_s)
        history.append((now_s.copy(), t[0].copy(), t[-1].copy()))
    else:
        raise OutOfDomain("end_c", min(p.end_c for p in plates), "further above the bath")
    times, middles, faces = (np.stack(part) for part in zip(*history, strict=True))
    return [_one(times[:, i], middles[:, i], faces[:, i]) for i in range(len(plates))]


def _one(seconds: Array, middle_c: Array, face_c: Array) -> Cooling:
    moved = np.concatenate([[True], np.diff(seconds) > 0.0])
    return Cooling(seconds[moved], middle_c[moved], face_c[moved])
