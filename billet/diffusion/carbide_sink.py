"""Carbon activity where carbide or ferrite takes part, as a table against total carbon.

Over 5 % chromium: the tabulated grade that is nearest in chromium, nickel, molybdenum and vanadium,
between its temperatures by the logarithm of the activity against 1/T. Below `AUSTENITE_FROM_C` every
other steel: the equilibrium model. Carbon is taken to move through the austenite alone, at the content
the austenite has at that activity; ferrite moves carbon about as well, for it holds less and lets it
pass faster (own construction).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.diffusion.activity_law import NICKEL_WT, STILL_BELOW_C, Table
from billet.diffusion.profile import Floats, Metals
from billet.formulas.activity import alloy_shift, austenite_reference, carbon_self_interaction
from billet.formulas.diffusion import agren_mobility, hot_length_ratio
from billet.published import OutsideFit
from billet.tables.chromium_sink import SinkGrade, sink_grades, sink_limits
from billet.units import c_to_k

SINK_CR_WT = 5.0
AUSTENITE_FROM_C = 900.0
# The equilibrium model reaches so far in W + Mo + V, wt%; beyond, austenite alone is counted.
MODEL_REFRACTORY_WT = 2.0
_MOST_CARBON_WT = 2.4
_POINTS = 481
_KNOT_WT = 0.08
_RANGE_STEP_WT = 0.4


@dataclass(frozen=True)
class Wanted:
    """A steel at a temperature, and the range of total carbon that its table must resolve, wt%."""

    composition: Composition
    temperature_c: float
    low_wt: float
    high_wt: float


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
            if composition["Cr"] > SINK_CR_WT:
                found[place][index] = _sink_table(composition, temperature_c)
            elif STILL_BELOW_C <= temperature_c < AUSTENITE_FROM_C and _modelled(composition):
                places.append((place, index))
                wanted.append(Wanted(composition, temperature_c, low_wt, high_wt))
    for (place, index), table in zip(places, equilibrium_tables(wanted), strict=True):
        found[place][index] = table
    return found


def _modelled(composition: Composition) -> bool:
    refractory = composition["W"] + composition["Mo"] + composition["V"]
    return composition["Ni"] <= NICKEL_WT and refractory <= MODEL_REFRACTORY_WT


def nearest_grade(composition: Composition) -> SinkGrade:
    """The tabulated grade whose metals lie nearest."""

    def distance(grade: SinkGrade) -> float:
        return sum(
            (abs(composition[e] - grade.metals_wt.get(e, 0.0)) / limit) ** 2
            for e, limit in sink_limits().items()
        )

    return min(sink_grades(), key=distance)


def outside_tables(name: str, composition: Composition, temperature_c: float) -> list[OutsideFit]:
    """What of a steel the tables do not cover at this temperature; empty where none is asked."""
    if composition["Cr"] <= SINK_CR_WT:
        refractory = composition["W"] + composition["Mo"] + composition["V"]
        if temperature_c >= AUSTENITE_FROM_C or refractory <= MODEL_REFRACTORY_WT:
            return []
        return [OutsideFit(f"W + Mo + V in {name}", refractory, 0.0, MODEL_REFRACTORY_WT)]
    grade = nearest_grade(composition)
    low_c, high_c = float(grade.temperature_c[0]), float(grade.temperature_c[-1])
    found = []
    if not low_c <= temperature_c <= high_c:
        found.append(OutsideFit(f"temperature_c at {name}", temperature_c, low_c, high_c))
    for element, limit in sink_limits().items():
        base = grade.metals_wt.get(element, 0.0)
        if abs(composition[element] - base) > limit:
            value = composition[element]
            found.append(OutsideFit(f"{element} in {name}", value, max(base - limit, 0.0), base + limit))
    if composition["C"] > float(grade.carbon_wt[-1]):
        found.append(OutsideFit(f"C in {name}", composition["C"], 0.0, float(grade.carbon_wt[-1])))
    return found


def _even_ratio(composition: Composition) -> tuple[Floats, Floats]:
    """Even steps of y from 0, and the carbon in wt% at each: (points,), (points,)."""
    most = _MOST_CARBON_WT / ATOMIC_WEIGHT["C"] / ((100.0 - _MOST_CARBON_WT) / composition.metal_weight)
    ratio = np.linspace(0.0, most, _POINTS)
    carbon = ratio * ATOMIC_WEIGHT["C"]
    return ratio, 100.0 * carbon / (carbon + composition.metal_weight)


@lru_cache(maxsize=256)
def _sink_table(composition: Composition, temperature_c: float) -> Table:
    grade = nearest_grade(composition)
    ratio, carbon_wt = _even_ratio(composition)
    inverse_k = -1.0 / (grade.temperature_c + c_to_k(0.0))
    place = float(np.interp(-1.0 / c_to_k(temperature_c), inverse_k, np.arange(len(inverse_k))))
    low = min(int(place), len(inverse_k) - 2)
    span = inverse_k[low + 1] - inverse_k[low]
    share = float((-1.0 / c_to_k(temperature_c) - inverse_k[low]) / span)

    def between(plane: Floats) -> Floats:
        logs = np.log(plane)
        mixed: Floats = np.exp(logs[low] + share * (logs[low + 1] - logs[low]))
        return mixed

    activity = between(grade.activity)
    austenite_wt = between(np.stack([_filled(grade, row) for row in range(len(inverse_k))]))
    solid = 1.0 - (1.0 - share) * grade.carbide_frac[low] - share * grade.carbide_frac[low + 1]
    austenite = austenite_wt / ATOMIC_WEIGHT["C"] / ((100.0 - austenite_wt) / composition.metal_weight)
    log_mobility, slope = agren_mobility(temperature_c)
    shrink = hot_length_ratio(temperature_c) ** 2
    mobility = solid * np.exp(log_mobility + slope * austenite) * austenite * (1.0 - austenite)
    hindrance = activity * shrink / mobility
    fine = np.interp(carbon_wt, np.append(0.0, grade.carbon_wt), np.append(0.0, activity))
    beyond = carbon_wt > grade.carbon_wt[-1]
    rise = (activity[-1] - activity[-2]) / (grade.carbon_wt[-1] - grade.carbon_wt[-2])
    fine[beyond] = activity[-1] + rise * (carbon_wt[beyond] - grade.carbon_wt[-1])
    fine = np.maximum.accumulate(fine)
    return Table(float(ratio[1]), fine, np.interp(carbon_wt, grade.carbon_wt, hindrance))


def _filled(grade: SinkGrade, row: int) -> Floats:
    """Carbon in austenite at one temperature; where all is ferrite, what austenite would hold there."""
    carbon, activity = grade.austenite_carbon_wt[row], grade.activity[row]
    known = np.isfinite(carbon)
    held = np.interp(activity, activity[known], carbon[known] / activity[known])
    filled: Floats = np.where(known, carbon, activity * held)
    return filled


_MADE: dict[Wanted, Table] = {}
_MOST_MADE = 512


def equilibrium_tables(wanted: Sequence[Wanted]) -> list[Table]:
    """Tables of low-alloy steels from the equilibrium model; those not made before are made at once.

    Raises OutOfDomain as the model does.
    """
    missing = [w for w in dict.fromkeys(wanted) if w not in _MADE]
    made = dict(zip(missing, _computed(missing), strict=True)) if missing else {}
    tables = [made[w] if w in made else _MADE[w] for w in wanted]
    if len(_MADE) + len(made) > _MOST_MADE:
        _MADE.clear()
    _MADE.update(made)
    return tables


def _computed(wanted: Sequence[Wanted]) -> list[Table]:
    from billet.formulas.equilibrium import states_many
    from billet.formulas.equilibrium.assessed import ALLOYING

    contents = [np.arange(w.low_wt, w.high_wt + _KNOT_WT, _KNOT_WT) for w in wanted]
    counts = [len(content) for content in contents]
    carbon = np.concatenate(contents)
    wt: dict[str, Floats] = {"C": carbon}
    for element in sorted({e for w in wanted for e in w.composition.wt} & set(ALLOYING)):
        nominal = [w.composition[element] / (100.0 - w.composition["C"]) for w in wanted]
        wt[element] = np.repeat(nominal, counts) * (100.0 - carbon)
    temperature = np.repeat([w.temperature_c for w in wanted], counts)
    activity = states_many(wt, temperature)["carbon_activity"]
    ends = np.cumsum(counts)
    return [
        _low_alloy_table(w, content, activity[end - len(content) : end])
        for w, content, end in zip(wanted, contents, ends, strict=True)
    ]


def _low_alloy_table(wanted: Wanted, carbon_wt: Floats, activity: Floats) -> Table:
    ratio, fine_wt = _even_ratio(wanted.composition)
    knots, values = np.append(-1e-9, carbon_wt), np.append(0.0, np.maximum.accumulate(activity))
    fine = np.interp(fine_wt, knots, values)
    beyond = fine_wt > knots[-1]
    fine[beyond] += (fine_wt[beyond] - knots[-1]) * (values[-1] - values[-2]) / (knots[-1] - knots[-2])
    reference = austenite_reference(wanted.temperature_c)
    reference += alloy_shift(wanted.composition, wanted.temperature_c)
    slope = carbon_self_interaction(wanted.temperature_c)
    austenite = _austenite_ratio(fine, reference, slope)
    log_mobility, mobility_slope = agren_mobility(wanted.temperature_c)
    # B = mobility y (1 - y)/a, written without the quotient that is 0/0 at no carbon.
    mobility = np.exp(log_mobility + mobility_slope * austenite - reference - slope * austenite)
    shrink = hot_length_ratio(wanted.temperature_c) ** 2
    return Table(float(ratio[1]), fine, shrink / (mobility * (1.0 - austenite) ** 2))


def _austenite_ratio(activity: Floats, reference: float, slope: float) -> Floats:
    """y of austenite at an activity, by Newton's method on a rising, convex function."""
    ratio = np.full_like(activity, 0.2)
    for _ in range(30):
        value = np.exp(reference + slope * ratio) * ratio / (1.0 - ratio)
        rise = value * (1.0 / np.maximum(ratio, 1e-12) + 1.0 / (1.0 - ratio) + slope)
        ratio = np.maximum(ratio - (value - activity) / np.maximum(rise, 1e-300), 0.0)
    return ratio
