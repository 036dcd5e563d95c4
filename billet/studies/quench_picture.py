"""What the pictures of a plan are drawn from: hardness over hardening heat, cooling of a blade."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from billet.composition import Composition
from billet.contract.study import TimeCurve

if TYPE_CHECKING:
    from billet.contract.report import Report

STEP_C = 10.0
BELOW_K, ABOVE_K = 25.0, 45.0
CLOCK_FROM_C, CLOCK_TO_C = 700.0, 550.0
USUAL_MEDIA = ("water", "fast oil", "medium oil", "slow oil", "air")
USUAL_THICKNESS_MM = 3.0


@dataclass(frozen=True)
class HardnessCurve:
    """What one steel gives at each hardening temperature; all sequences of one length.

    Temperatures in degrees Celsius, hardness in HRC, retained austenite as mass fraction.
    """

    steel: str
    temperature_c: Sequence[float]
    hrc: Sequence[float]
    retained_austenite: Sequence[float]


@dataclass(frozen=True)
class CriticalTime:
    """The latest time a steel may take from 700 to 550 C and still harden, with its band. [s]"""

    name: str
    value_s: float
    low_s: float
    high_s: float


@dataclass(frozen=True)
class QuenchPicture:
    """Cooling of the middle of a plate in several media, timed from 700 C, and each steel's gate."""

    thickness_mm: float
    cooling: tuple[TimeCurve, ...]
    gates: tuple[CriticalTime, ...]


def hardness_curves(report: "Report") -> tuple[HardnessCurve, ...]:
    """Hardness and retained austenite of every hardening steel, on the carbon it has in the blade.

    Steels for which no state is computed are left out. From below the lowest possible window to above
    the highest, at the middle values; the set point is among the temperatures.
    """
    rows = [row for row in report.hardening.per_steel if row.role != "soft"]
    windows = [row.possible_c or row.preferred_c for row in rows]
    ends = [end for window in windows if window is not None for end in window]
    if not ends:
        return ()
    temperatures = _steps(min(ends) - BELOW_K, max(ends) + ABOVE_K, report.hardening.set_point_c)
    curves = _hardness_curves(report, [row.steel for row in rows], temperatures)
    return tuple(curve for curve in curves if curve.temperature_c)


def _steps(low_c: float, high_c: float, set_point_c: float | None) -> list[float]:
    first, last = round(low_c / STEP_C), round(high_c / STEP_C)
    values = {index * STEP_C for index in range(first, last + 1)}
    return sorted(values if set_point_c is None else values | {set_point_c})


def _hardness_curves(
    report: "Report", names: Sequence[str], temperatures_c: Sequence[float]
) -> list[HardnessCurve]:
    """All steels at all temperatures, solved together."""
    from billet.hardening.austenite_state import middle_hardness, of_composition

    start = report.recipe.get("blade", {}).get("start", "normalised")
    layers = [of_composition(blade_composition(report, name), start) for name in names]
    found = iter(middle_hardness([(layer, c) for layer in layers for c in temperatures_c]))
    curves = []
    for name in names:
        points = [(c, point) for c in temperatures_c if (point := next(found)) is not None]
        curves.append(
            HardnessCurve(
                name,
                tuple(c for c, _ in points),
                tuple(hrc for _, (hrc, _) in points),
                tuple(kept for _, (_, kept) in points),
            )
        )
    return curves


def blade_composition(report: "Report", name: str) -> Composition:
    """Analysis of a steel after forging, with its mean carbon in the blade where there is one."""
    steel = next(item for item in report.steels if item.steel == name)
    wt = dict(steel.wt)
    if report.blade is not None and name in report.blade.carbon_wt:
        wt["C"] = report.blade.carbon_wt[name].mean
    return Composition(wt)


def quench_picture(report: "Report") -> QuenchPicture:
    """Cooling of the blade (or of 3 mm) in the usual media and in the one that was chosen.

    The gates are the critical rates by which the decision was made, told as times from 700 to 550 C.
    """
    from billet.studies.cooling import timed_cooling

    thickness = float(report.recipe.get("blade", {}).get("thickness_mm", USUAL_THICKNESS_MM))
    chosen = report.quench.medium
    names = USUAL_MEDIA if chosen is None or chosen in USUAL_MEDIA else (*USUAL_MEDIA, chosen)
    span = CLOCK_FROM_C - CLOCK_TO_C
    gates = tuple(
        CriticalTime(row.steel, span / rate.value, span / rate.high, span / rate.low)
        for row in report.quench.per_steel
        if (rate := row.critical_rate_k_s) is not None
    )
    return QuenchPicture(thickness, tuple(timed_cooling(name, thickness) for name in names), gates)
