"""One analysis counted in atoms, and the coefficients of its metals at one temperature."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.formulas.equilibrium.assessed import ELEMENTS
from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    BLOCK,
    CEMENTITE,
    FERRITE,
    INDEX,
    M6C,
    M7C3,
    METALS,
    PHASES,
    TUNGSTEN_CARBIDE,
    VANADIUM_CARBIDE,
    rows_at,
)
from billet.formulas.equilibrium.pure import GAS_CONSTANT
from billet.units import c_to_k

WEIGHTS: tuple[float, ...] = tuple(ATOMIC_WEIGHT[e] for e in ELEMENTS)
CARBON_WEIGHT = ATOMIC_WEIGHT["C"]
SELF_INTERACTION_K = 69342.0 / GAS_CONSTANT
LEAST_RATIO = 1e-8  # carbon atoms for one metal atom below which carbon counts as this trace

Vector = list[float]


@dataclass(frozen=True)
class Mixture:
    """Metals that are present (their places in ELEMENTS), their shares, and the carbon ratio."""

    metals: tuple[int, ...]
    shares: tuple[float, ...]
    carbon_ratio: float
    phases: tuple[int, ...]

    @property
    def weights(self) -> Vector:
        """Atomic weights of the metals that are present."""
        return [WEIGHTS[j] for j in self.metals]


def possible_phases(present: set[str]) -> tuple[int, ...]:
    """Phases that these elements can form; carbides whose maker is absent are left out."""
    phases = [AUSTENITE, FERRITE, CEMENTITE]
    if present & {"Cr", "Mo", "V"}:
        phases.append(M7C3)
    if present & {"W", "Mo"}:
        phases.append(M6C)
    if "V" in present:
        phases.append(VANADIUM_CARBIDE)
    if "W" in present:
        phases.append(TUNGSTEN_CARBIDE)
    return tuple(phases)


@lru_cache(maxsize=1024)
def mixture_of(composition: Composition) -> Mixture:
    """The analysis in atoms. Elements beside C, Si, Mn, Cr, Ni, Mo, V, W count as iron."""
    wt = composition.wt
    moles = {e: wt.get(e, 0.0) / ATOMIC_WEIGHT[e] for e in ELEMENTS[1:]}
    iron_wt = 100.0 - wt.get("C", 0.0) - sum(wt.get(e, 0.0) for e in ELEMENTS[1:])
    moles["Fe"] = iron_wt / ATOMIC_WEIGHT["Fe"]
    total = sum(moles.values())
    present = [e for e in ELEMENTS if e == "Fe" or moles[e] > 0.0]
    ratio = wt.get("C", 0.0) / CARBON_WEIGHT / total
    return Mixture(
        tuple(INDEX[e] for e in present),
        tuple(moles[e] / total for e in present),
        max(ratio, LEAST_RATIO),
        possible_phases(set(present)),
    )


@dataclass(frozen=True)
class Terms:
    """Coefficients of the present metals at one temperature, as plain lists for fast arithmetic."""

    transfer: list[Vector]
    carbon: Vector
    austenite: list[Vector]
    ferrite: list[Vector]
    const: float
    const_ferrite: float
    self_interaction: float


@lru_cache(maxsize=4096)
def _all_terms(temperature_k: float) -> list[float]:
    row, _ = rows_at(np.array([temperature_k]))
    values: list[float] = row[0].tolist()
    return values


@lru_cache(maxsize=4096)
def terms_at(metals: tuple[int, ...], temperature_c: float) -> Terms:
    """Coefficients of these metals at a temperature."""
    temperature_k = c_to_k(temperature_c)
    row = _all_terms(temperature_k)
    carbon, austenite, ferrite = BLOCK.carbon.start, BLOCK.austenite.start, BLOCK.ferrite.start
    return Terms(
        [[row[p * METALS + j] for j in metals] for p in range(PHASES)],
        [row[carbon + j] for j in metals],
        [[row[austenite + j * METALS + k] for k in metals] for j in metals],
        [[row[ferrite + j * METALS + k] for k in metals] for j in metals],
        row[BLOCK.const],
        row[BLOCK.const_ferrite],
        SELF_INTERACTION_K / temperature_k,
    )
