"""One analysis counted in atoms, and the coefficients of its metals at one temperature."""

from dataclasses import dataclass
from functools import lru_cache

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.formulas.equilibrium.assessed import ELEMENTS
from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    CEMENTITE,
    FERRITE,
    INDEX,
    LOWEST_K,
    M6C,
    M7C3,
    PHASES,
    STEP_K,
    TUNGSTEN_CARBIDE,
    VANADIUM_CARBIDE,
    cut_table,
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


@lru_cache(maxsize=256)
def _rows(metals: tuple[int, ...]) -> list[Vector]:
    """The table of coefficients, cut down to these metals."""
    rows: list[Vector] = cut_table(metals).tolist()
    return rows


@lru_cache(maxsize=4096)
def terms_at(metals: tuple[int, ...], temperature_c: float) -> Terms:
    """Coefficients of these metals at a temperature, linear between the rows of the table."""
    temperature_k = c_to_k(temperature_c)
    rows = _rows(metals)
    place = min(max((temperature_k - LOWEST_K) / STEP_K, 0.0), len(rows) - 1.001)
    lower = int(place)
    part = place - lower
    row = [a + part * (b - a) for a, b in zip(rows[lower], rows[lower + 1], strict=True)]
    m = len(metals)
    cut = [row[i : i + m] for i in range(0, len(row) - 2, m)]
    eps, austenite = PHASES, PHASES + 1
    return Terms(
        cut[:eps],
        cut[eps],
        cut[austenite : austenite + m],
        cut[austenite + m : austenite + 2 * m],
        row[-2],
        row[-1],
        SELF_INTERACTION_K / temperature_k,
    )
