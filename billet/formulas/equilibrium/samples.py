"""Analyses counted in atoms: n samples with the metals and phases that any of them has."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from billet.composition import ATOMIC_WEIGHT
from billet.errors import OutOfDomain
from billet.formulas.equilibrium.assessed import ALLOYING, ELEMENTS
from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    CARBON_PER_METAL,
    CEMENTITE,
    FERRITE,
    INDEX,
    M6C,
    M7C3,
    TUNGSTEN_CARBIDE,
    VANADIUM_CARBIDE,
    Array,
)
from billet.formulas.equilibrium.results import MOST_CHROMIUM_WT, MOST_REFRACTORY_WT

Mask = NDArray[np.bool_]
Columns = Mapping[str, Array]

WEIGHTS: tuple[float, ...] = tuple(ATOMIC_WEIGHT[e] for e in ELEMENTS)
CARBON_WEIGHT = ATOMIC_WEIGHT["C"]
LEAST_RATIO = 1e-8  # carbon atoms for one metal atom below which carbon counts as this trace
COUNTED = ("C", *ALLOYING)
# A carbide can form only where one of these is.
MAKERS: dict[int, tuple[str, ...]] = {
    M7C3: ("Cr", "Mo", "V"),
    M6C: ("Mo", "W"),
    VANADIUM_CARBIDE: ("V",),
    TUNGSTEN_CARBIDE: ("W",),
}
_PER_WEIGHT = np.array([1.0 / ATOMIC_WEIGHT[e] for e in COUNTED])


@dataclass(frozen=True)
class System:
    """Metals (places in ELEMENTS, iron first) and phases of a batch, austenite and ferrite first."""

    metals: tuple[int, ...]
    phases: tuple[int, ...]

    @property
    def carbon(self) -> Array:
        """Carbon atoms for one metal atom of each phase (0 stands for the two solutions)."""
        return np.array([CARBON_PER_METAL[p] for p in self.phases])

    @property
    def weights(self) -> Array:
        """Atomic weights of the metals."""
        return np.array([WEIGHTS[j] for j in self.metals])

    def place(self, phase: int) -> int | None:
        """Where a phase stands among `phases`."""
        return self.phases.index(phase) if phase in self.phases else None

    def mark(self, *phases: int) -> Mask:
        """Marks some phases among `phases`."""
        return np.array([p in phases for p in self.phases])


@dataclass(frozen=True)
class Samples:
    """n steels: `wt` (n, 8) of COUNTED in wt%, `u` (n, metals) atoms of a metal for one metal atom,
    `y0` (n,) carbon atoms for one, and `possible` (n, phases): what each could form."""

    system: System
    wt: Array
    u: Array
    y0: Array
    possible: Mask

    def of(self, element: str) -> Array:
        """One element in wt% (n,)."""
        column: Array = self.wt[:, COUNTED.index(element)]
        return column

    def part(self, keep: NDArray[np.intp]) -> "Samples":
        """The steels at these places, one place as often as it is named."""
        return Samples(self.system, self.wt[keep], self.u[keep], self.y0[keep], self.possible[keep])


def samples_of(wt: Columns) -> Samples:
    """Steels from one array of wt% an element, or one number for all. Elements beside C, Si, Mn, Cr,
    Ni, Mo, V, W count as iron.

    Raises OutOfDomain for an unknown element, a value below 0 or not finite, over 5 % Cr and over 2 %
    W + Mo + V.
    """
    for e in wt:
        if e not in ATOMIC_WEIGHT or e == "Fe":
            raise OutOfDomain("element", e, "a known element other than iron")
    arrays = {e: np.atleast_1d(np.asarray(v, dtype=np.float64)) for e, v in wt.items()}
    n = max((len(v) for v in arrays.values()), default=1)
    table = np.zeros((n, len(COUNTED)))
    for e, v in arrays.items():
        if not ((v >= 0.0) & (v <= 100.0)).all():
            raise OutOfDomain(f"{e} in wt%", float(np.min(v)), "numbers of 0 or more")
        if e in COUNTED:
            table[:, COUNTED.index(e)] = v
    most = table.max(0)
    _refuse_high_alloy(table, most)
    return _in_atoms(table, most)


def _refuse_high_alloy(table: Array, most: Array) -> None:
    chromium = float(most[COUNTED.index("Cr")])
    if chromium > MOST_CHROMIUM_WT:
        raise OutOfDomain("Cr in wt%", chromium, "5 or less for a computed equilibrium")
    refractory = [COUNTED.index(e) for e in ("W", "Mo", "V")]
    if most[refractory].sum() > MOST_REFRACTORY_WT:
        together = float(table[:, refractory].sum(1).max())
        if together > MOST_REFRACTORY_WT:
            told = round(together, 6)
            raise OutOfDomain("W + Mo + V in wt%", told, "2 or less for a computed equilibrium")


def _in_atoms(table: Array, most: Array) -> Samples:
    present = [e for e, top in zip(COUNTED, most, strict=True) if top > 0.0 and e != "C"]
    columns = [COUNTED.index(e) for e in present]
    moles = table * _PER_WEIGHT
    u = np.empty((len(table), 1 + len(present)))
    u[:, 0] = (100.0 - table.sum(1)) / WEIGHTS[0]
    u[:, 1:] = moles[:, columns]
    total = u.sum(1)
    u /= total[:, None]
    y0 = np.maximum(moles[:, 0] / total, LEAST_RATIO)
    phases = [AUSTENITE, FERRITE, CEMENTITE]
    phases += [p for p, makers in MAKERS.items() if set(makers) & set(present)]
    possible = np.ones((len(table), len(phases)), dtype=bool)
    for j, p in enumerate(phases[3:], start=3):
        possible[:, j] = table[:, [COUNTED.index(e) for e in MAKERS[p]]].any(1)
    system = System((0, *(INDEX[e] for e in present)), tuple(phases))
    return Samples(system, table, u, y0, possible)
