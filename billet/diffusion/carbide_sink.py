"""Carbon activity where carbide or ferrite takes part, as a table against total carbon.

Over 5 % chromium: the tabulated grades that are nearest in chromium, nickel, molybdenum and vanadium,
between their temperatures by the logarithm of the activity against 1/T. Below 3 % chromium: the
equilibrium model where it is cold enough and reaches so far, else the closed formula of austenite. Between
3 and 5 % the one goes over into the other, so that no step in an analysis moves carbon by a jump.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.diffusion.activity_law import Table, austenite_curve, mixed, sink_share
from billet.diffusion.equilibrium_tables import (
    MODEL_REFRACTORY_WT,
    REFRACTORY_RAMP_WT,
    TABLES_BELOW_C,
    Wanted,
    equilibrium_tables,
    even_ratio,
    is_tabled,
    rising,
)
from billet.diffusion.profile import Floats, Metals
from billet.formulas.diffusion import agren_mobility, hot_length_ratio
from billet.published import OutsideFit
from billet.tables.chromium_sink import SinkGrade, sink_grades, sink_limits
from billet.units import c_to_k

_RANGE_STEP_WT = 0.4
# Grades count up to twice as far off as the nearest, which is taken to lie no nearer (own construction).
_LEAST_REACH = 0.05
# Beyond its temperatures the table is drawn on by so many steps of 50 K and then kept (own construction).
_DRAWN_ON = 1.0
# Carbide is not counted to fill more of a steel than this where the table is drawn on below 850 C.
_LEAST_SOLID = 0.3


def tables_at(
    metals: Metals, temperatures_c: Sequence[float], low_wt: float, high_wt: float
) -> list[dict[int, Table]]:
    """For each temperature the tables of the steels that need one, by their place in `metals`.

    low_wt, high_wt: total carbon between which the tables of low-alloy steels are resolved.
    """
    # Rounded outwards, so that a table serves more than one profile.
    low_wt = max(math.floor(low_wt / _RANGE_STEP_WT), 0) * _RANGE_STEP_WT
    high_wt = math.ceil(high_wt / _RANGE_STEP_WT) * _RANGE_STEP_WT
    found: list[dict[int, Table]] = [{} for _ in temperatures_c]
    places, wanted = [], []
    for place, temperature_c in enumerate(temperatures_c):
        for index, composition in enumerate(metals.compositions):
            if sink_share(composition) < 1.0 and is_tabled(composition, temperature_c):
                places.append((place, index))
                wanted.append(Wanted(composition, temperature_c, low_wt, high_wt))
    for (place, index), table in zip(places, equilibrium_tables(wanted), strict=True):
        found[place][index] = table
    for place, temperature_c in enumerate(temperatures_c):
        for index, composition in enumerate(metals.compositions):
            share = sink_share(composition)
            if share > 0.0:
                dilute = found[place].get(index) or _dilute_table(composition, temperature_c)
                found[place][index] = mixed(dilute, _sink_table(composition, temperature_c), share)
    return found


def grade_shares(composition: Composition) -> list[tuple[SinkGrade, float]]:
    """The tabulated grades that stand for a steel, nearest first, and the share of each."""
    limits = sink_limits()

    def distance(grade: SinkGrade) -> float:
        return math.sqrt(
            sum((abs(composition[e] - grade.metals_wt.get(e, 0.0)) / x) ** 2 for e, x in limits.items())
        )

    far = sorted(((distance(grade), grade) for grade in sink_grades()), key=lambda pair: pair[0])
    least = far[0][0]
    # A grade that lies on the steel stands alone: the others count less the nearer the nearest is.
    reach = max(least, _LEAST_REACH)
    weights = [(grade, max(0.0, 1.0 - (d - least) / reach) ** 2) for d, grade in far]
    total = sum(weight for _, weight in weights)
    return [(grade, weight / total) for grade, weight in weights if weight > 0.0]


def nearest_grade(composition: Composition) -> SinkGrade:
    """The tabulated grade whose metals lie nearest."""
    return grade_shares(composition)[0][0]


@dataclass(frozen=True)
class OutsideTable:
    """An input that no table of carbon activity covers, and the steel that it is of."""

    steel: str
    fault: OutsideFit


def outside_tables(name: str, composition: Composition, temperature_c: float) -> list[OutsideTable]:
    """What of a steel the tables do not cover at this temperature; empty where none is asked."""
    return [OutsideTable(name, fault) for fault in _outside(composition, temperature_c)]


def _outside(composition: Composition, temperature_c: float) -> list[OutsideFit]:
    if sink_share(composition) <= 0.0:
        refractory = composition["W"] + composition["Mo"] + composition["V"]
        hot = temperature_c >= TABLES_BELOW_C
        # Hot, the formula serves while carbides take little part.
        if refractory <= (REFRACTORY_RAMP_WT[0] if hot else MODEL_REFRACTORY_WT):
            return []
        return [OutsideFit("W + Mo + V", refractory, 0.0, MODEL_REFRACTORY_WT)]
    grade = nearest_grade(composition)
    low_c, high_c = float(grade.temperature_c[0]), float(grade.temperature_c[-1])
    found = []
    if not low_c <= temperature_c <= high_c:
        found.append(OutsideFit("temperature_c", temperature_c, low_c, high_c))
    for element, limit in sink_limits().items():
        base = grade.metals_wt.get(element, 0.0)
        if abs(composition[element] - base) > limit:
            found.append(OutsideFit(element, composition[element], max(base - limit, 0.0), base + limit))
    if composition["C"] > float(grade.carbon_wt[-1]):
        found.append(OutsideFit("C", composition["C"], 0.0, float(grade.carbon_wt[-1])))
    return found


def _dilute_table(composition: Composition, temperature_c: float) -> Table:
    return austenite_curve(composition, temperature_c).table(even_ratio(composition)[0])


@lru_cache(maxsize=256)
def _sink_table(composition: Composition, temperature_c: float) -> Table:
    shares = grade_shares(composition)
    table, done = _grade_table(shares[0][0], composition, temperature_c), shares[0][1]
    for grade, share in shares[1:]:
        done += share
        table = mixed(table, _grade_table(grade, composition, temperature_c), share / done)
    return table


def _grade_table(grade: SinkGrade, composition: Composition, temperature_c: float) -> Table:
    ratio, carbon_wt = even_ratio(composition)
    inverse_k = -1.0 / (grade.temperature_c + c_to_k(0.0))
    place = float(np.interp(-1.0 / c_to_k(temperature_c), inverse_k, np.arange(len(inverse_k))))
    low = min(int(place), len(inverse_k) - 2)
    span = inverse_k[low + 1] - inverse_k[low]
    share = float((-1.0 / c_to_k(temperature_c) - inverse_k[low]) / span)
    share = min(max(share, -_DRAWN_ON), 1.0 + _DRAWN_ON)

    def between(plane: Floats) -> Floats:
        logs = np.log(plane)
        between_both: Floats = np.exp(logs[low] + share * (logs[low + 1] - logs[low]))
        return between_both

    activity = between(grade.activity)
    austenite_wt = between(np.stack([_filled(grade, row) for row in range(len(inverse_k))]))
    solid = 1.0 - (1.0 - share) * grade.carbide_frac[low] - share * grade.carbide_frac[low + 1]
    solid = np.clip(solid, _LEAST_SOLID, 1.0)
    austenite = austenite_wt / ATOMIC_WEIGHT["C"] / ((100.0 - austenite_wt) / composition.metal_weight)
    log_mobility, slope = agren_mobility(temperature_c)
    shrink = hot_length_ratio(temperature_c) ** 2
    mobility = solid * np.exp(log_mobility + slope * austenite) * austenite * (1.0 - austenite)
    hindrance = activity * shrink / mobility
    fine = np.interp(carbon_wt, np.append(0.0, grade.carbon_wt), np.append(0.0, activity))
    beyond = carbon_wt > grade.carbon_wt[-1]
    # Where carbide has taken most of the chromium the activity rises by a share for each wt%, no less than
    # in proportion (own construction).
    step_wt = float(grade.carbon_wt[-1] - grade.carbon_wt[-2])
    rise = max(float(np.log(activity[-1] / activity[-2])) / step_wt, 1.0 / float(grade.carbon_wt[-1]))
    fine[beyond] = activity[-1] * np.exp(rise * (carbon_wt[beyond] - grade.carbon_wt[-1]))
    return Table(float(ratio[1]), rising(fine, carbon_wt), np.interp(carbon_wt, grade.carbon_wt, hindrance))


def _filled(grade: SinkGrade, row: int) -> Floats:
    """Carbon in austenite at one temperature; where all is ferrite, what austenite would hold there."""
    carbon, activity = grade.austenite_carbon_wt[row], grade.activity[row]
    known = np.isfinite(carbon)
    held = np.interp(activity, activity[known], carbon[known] / activity[known])
    filled: Floats = np.where(known, carbon, activity * held)
    return filled
