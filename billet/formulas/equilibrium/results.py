"""What the equilibrium answers, and where it stops answering."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.published import OutsideFit

LOWEST_C, HIGHEST_C = 450.0, 1450.0
# Ranges of the 1,500 computed compositions the corrections were fitted to and tested on, in wt%.
FITTED: dict[str, tuple[float, float]] = {
    "C": (0.15, 1.35),
    "Si": (0.0, 2.0),
    "Mn": (0.0, 2.1),
    "Cr": (0.0, 1.8),
    "Ni": (0.0, 3.5),
    "Mo": (0.0, 0.5),
    "V": (0.0, 0.25),
    "W": (0.0, 1.6),
}
# What an element that is not in the model may reach before it is reported.
UNMODELLED_LIMIT_WT = 0.10
OUT_BY_WT = 0.005  # what reads like the limit when it is written does not lie outside it
MOST_CHROMIUM_WT, MOST_REFRACTORY_WT = 5.0, 2.0


@dataclass(frozen=True)
class EquilibriumState:
    """Equilibrium at one temperature; mass fractions 0 to 1, elements in wt% of the austenite.

    `carbide` counts every carbide; `mc` is the part of it that is vanadium or tungsten carbide
    (MC and WC). `austenite_wt` is empty where there is no austenite. `carbon_activity` is against
    graphite.
    """

    temperature_c: float
    austenite: float
    ferrite: float
    carbide: float
    mc: float
    austenite_wt: Mapping[str, float]
    carbon_activity: float


@dataclass(frozen=True)
class CriticalLines:
    """Equilibrium temperatures in C; None where the steel has no such line.

    ae1_c: end of ferrite + austenite + carbide on heating (MC and WC not counted); in steel with so
    little carbon that carbide is gone before, the first austenite. ae3_c: last ferrite. acm_c: last
    carbide other than MC and WC; M6C that comes out of WC only above that, in steel rich in tungsten,
    counts with WC.
    """

    ae1_c: float | None
    ae3_c: float | None
    acm_c: float | None


def refuse_temperature(temperature_c: float) -> None:
    """Raise OutOfDomain outside 450 to 1450 C, where nothing is tabulated (and steel may melt)."""
    if not LOWEST_C <= temperature_c <= HIGHEST_C:
        raise OutOfDomain("temperature_c", temperature_c, "between 450 and 1450 C for an equilibrium")


def outside_range(composition: Composition) -> list[OutsideFit]:
    """Elements beyond the compositions this was fitted to and tested on (still computed)."""
    out = [
        OutsideFit(e, composition[e], low, high)
        for e, (low, high) in FITTED.items()
        if not low - OUT_BY_WT <= composition[e] <= high + OUT_BY_WT
    ]
    return out + [
        OutsideFit(e, value, 0.0, UNMODELLED_LIMIT_WT)
        for e, value in composition.wt.items()
        if e not in FITTED and value > UNMODELLED_LIMIT_WT + OUT_BY_WT
    ]
