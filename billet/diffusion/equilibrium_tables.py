"""Carbon activity of low-alloy steels below `TABLES_BELOW_C`, from the equilibrium model.

The closed formula of austenite fades in between `ALL_TABLE_C` and `TABLES_BELOW_C`, and with much tungsten,
molybdenum and vanadium. Carbon is taken to move through the austenite alone, at the content the austenite
has at that activity; ferrite moves carbon about as well, for it holds less and lets it pass faster (own
construction).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.diffusion.activity_law import (
    NICKEL_WT,
    STILL_BELOW_C,
    Table,
    austenite_curve,
    mixed,
    nickel_share,
    ramp,
    sink_share,
)
from billet.diffusion.cell_law import TABLE_POINTS
from billet.diffusion.profile import Floats
from billet.diffusion.table_store import TableStore
from billet.formulas.activity import alloy_shift, austenite_reference, carbon_self_interaction
from billet.formulas.diffusion import agren_mobility, hot_length_ratio

# The closed formula of austenite fades in from the first to the second (own construction).
ALL_TABLE_C, TABLES_BELOW_C = 900.0, 930.0
# The equilibrium model reaches so far in W + Mo + V and in Cr, wt%; what is over is not counted.
MODEL_REFRACTORY_WT, MODEL_CHROMIUM_WT = 2.0, 5.0
# With so much W + Mo + V that the model leaves most of it uncounted, the closed formula, which counts all,
# fades in (own construction): else what a layer took up in a hot fire it would press out in a cold one.
REFRACTORY_RAMP_WT = (4.0, 8.0)
# Tables end here; those of a carbide-forming sink, which drains thick neighbours, at twice as much (own
# construction).
_MOST_CARBON_WT = 2.4
_KNOT_WT = 0.08
# Where three phases lie together the activity would stand still; it rises by so much for 1 wt% instead,
# so that every activity has one content (own construction).
_LEAST_RISE = 1e-3
# Newton's method for y of the austenite ends where no y moves by more than this, or after so many turns.
_LEAST_TURN, _MOST_TURNS = 1e-14, 30
# A turn goes no further than this towards y = 1, which no content reaches.
_MOST_RATIO = 0.95


@dataclass(frozen=True)
class Wanted:
    """A steel at a temperature, and the range of total carbon that its table must resolve, wt%."""

    composition: Composition
    temperature_c: float
    low_wt: float
    high_wt: float


_made: TableStore[Wanted, Table] = TableStore(512)


def is_tabled(composition: Composition, temperature_c: float) -> bool:
    """Whether a low-alloy steel follows a table at this temperature."""
    within = composition["Ni"] <= NICKEL_WT and _formula_share(composition) < 1.0
    return within and STILL_BELOW_C <= temperature_c < TABLES_BELOW_C


def _formula_share(composition: Composition) -> float:
    """How far the closed formula stands for the model, for what the model does not count."""
    return ramp(composition["W"] + composition["Mo"] + composition["V"], *REFRACTORY_RAMP_WT)


def equilibrium_tables(wanted: Sequence[Wanted]) -> list[Table]:
    """Tables of low-alloy steels from the equilibrium model; those not made before are made at once.

    Raises OutOfDomain as the model does.
    """
    return _made.many(wanted, _computed)


def even_ratio(composition: Composition) -> tuple[Floats, Floats]:
    """Even steps of y from 0, and the carbon in wt% at each: (TABLE_POINTS,) both."""
    most_wt = _MOST_CARBON_WT * (1.0 + sink_share(composition))
    most = most_wt / ATOMIC_WEIGHT["C"] / ((100.0 - most_wt) / composition.metal_weight)
    ratio = np.linspace(0.0, most, TABLE_POINTS)
    carbon = ratio * ATOMIC_WEIGHT["C"]
    return ratio, 100.0 * carbon / (carbon + composition.metal_weight)


def rising(activity: Floats, carbon_wt: Floats) -> Floats:
    """The same activity, nowhere level: (TABLE_POINTS,) both."""
    tilted: Floats = np.maximum.accumulate(activity) * (1.0 + _LEAST_RISE * carbon_wt)
    return tilted


def _computed(wanted: Sequence[Wanted]) -> list[Table]:
    from billet.formulas.equilibrium import states_many
    from billet.formulas.equilibrium.assessed import ALLOYING

    # Without carbon there is no activity, where the model keeps a trace for its logarithm.
    contents = [np.arange(w.low_wt, w.high_wt + _KNOT_WT, _KNOT_WT) for w in wanted]
    contents = [content[content > 0.0] for content in contents]
    counts = [len(content) for content in contents]
    carbon = np.concatenate(contents)
    wt: dict[str, Floats] = {"C": carbon}
    for element in sorted({e for w in wanted for e in w.composition.wt} & set(ALLOYING)):
        nominal = [w.composition[element] / (100.0 - w.composition["C"]) for w in wanted]
        wt[element] = np.repeat(nominal, counts) * (100.0 - carbon)
    temperature = np.repeat([w.temperature_c for w in wanted], counts)
    activity = states_many(_within_model(wt), temperature)["carbon_activity"]
    ends = np.cumsum(counts)
    return [
        _low_alloy_table(w, content, activity[end - len(content) : end])
        for w, content, end in zip(wanted, contents, ends, strict=True)
    ]


def _within_model(wt: dict[str, Floats]) -> dict[str, Floats]:
    """Chromium, and tungsten, molybdenum and vanadium together, counted as far as the model reaches."""
    refractory = sum((wt[e] for e in ("W", "Mo", "V") if e in wt), np.zeros(len(wt["C"])))
    counted = np.minimum(1.0, MODEL_REFRACTORY_WT * (1.0 - 1e-9) / np.maximum(refractory, 1e-9))
    out = {e: content * counted if e in ("W", "Mo", "V") else content for e, content in wt.items()}
    if "Cr" in out:
        out["Cr"] = np.minimum(out["Cr"], MODEL_CHROMIUM_WT)
    return out


def _low_alloy_table(wanted: Wanted, carbon_wt: Floats, activity: Floats) -> Table:
    composition, temperature_c = wanted.composition, wanted.temperature_c
    ratio, fine_wt = even_ratio(composition)
    knots = np.append(0.0, carbon_wt)
    values = np.append(0.0, np.maximum.accumulate(activity))
    fine = np.interp(fine_wt, knots, values)
    beyond = fine_wt > knots[-1]
    fine[beyond] += (fine_wt[beyond] - knots[-1]) * (values[-1] - values[-2]) / (knots[-1] - knots[-2])
    reference = austenite_reference(temperature_c) + alloy_shift(composition, temperature_c)
    slope = carbon_self_interaction(temperature_c)
    austenite = _austenite_ratio(fine, reference, slope)
    log_mobility, mobility_slope = agren_mobility(temperature_c)
    # B = mobility y (1 - y)/a, written without the quotient that is 0/0 at no carbon.
    mobility = np.exp(log_mobility + mobility_slope * austenite - reference - slope * austenite)
    shrink = hot_length_ratio(temperature_c) ** 2
    table = Table(float(ratio[1]), rising(fine, fine_wt), shrink / (mobility * (1.0 - austenite) ** 2))
    fading = max(
        ramp(temperature_c, ALL_TABLE_C, TABLES_BELOW_C),
        _formula_share(composition),
        min(1.0, 2.0 * nickel_share(composition)),
    )
    if fading <= 0.0:
        return table
    return mixed(table, austenite_curve(composition, temperature_c).table(ratio), fading)


def _austenite_ratio(activity: Floats, reference: float, slope: float) -> Floats:
    """y of austenite at an activity, by Newton's method on a rising, convex function."""
    # Above the root, as carbon raises its own activity: from there every turn falls.
    ratio: Floats = activity / (activity + np.exp(reference))
    for _ in range(_MOST_TURNS):
        value = np.exp(reference + slope * ratio) * ratio / (1.0 - ratio)
        rise = value * (1.0 / np.maximum(ratio, 1e-12) + 1.0 / (1.0 - ratio) + slope)
        turn = (value - activity) / np.maximum(rise, 1e-300)
        before, ratio = ratio, np.clip(ratio - turn, 0.0, _MOST_RATIO)
        if float(np.max(np.abs(ratio - before))) < _LEAST_TURN:
            break
    return ratio
