"""Equilibrium near one steel, solved at a few compositions and read off between them.

Between neighbouring carbon contents, and for every metal to either side of the steel's own content, the
answer is taken as straight. Solving each bar on its own would take twenty times as long; the tests hold
what is read off here against what is solved.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from billet.composition import Composition
from billet.formulas.equilibrium import lines_many, states_many
from billet.formulas.equilibrium.results import MOST_CHROMIUM_WT, MOST_REFRACTORY_WT
from billet.variation.draws import Array

MODEL_METALS = ("Si", "Mn", "Cr", "Ni", "Mo", "V", "W")
REFRACTORY = ("Mo", "V", "W")
CARBON_STEP_WT = 0.035
LEAST_SPAN_WT = 0.004
LEAST_STEP_WT = 1e-4
LEAST_CARBON_WT = 0.01


@dataclass(frozen=True)
class Surface:
    """Values at carbon contents, and their slope by each metal.

    carbon: (nodes,); base: (nodes, ...); slopes by metal: (nodes, ...) for 1 wt%.
    """

    carbon: Array
    base: Array
    slopes: Mapping[str, Array]

    def at(self, carbon_wt: Array, off_wt: Mapping[str, Array]) -> Array:
        """Values of bars: (bars, ...). `off_wt` tells how far each metal is off the steel's own."""
        place = np.clip(np.searchsorted(self.carbon, carbon_wt) - 1, 0, len(self.carbon) - 2)
        share = (carbon_wt - self.carbon[place]) / (self.carbon[place + 1] - self.carbon[place])
        wide = (slice(None), *(None,) * (self.base.ndim - 1))
        share = share[wide]
        found: Array = (1.0 - share) * self.base[place] + share * self.base[place + 1]
        for metal, slope in self.slopes.items():
            found = found + off_wt[metal][wide] * ((1.0 - share) * slope[place] + share * slope[place + 1])
        return found


def carbon_nodes(*carbon_wt: Array) -> Array:
    """Even contents from the least to the most of these, no further apart than the step."""
    low = min(float(c.min()) for c in carbon_wt) - LEAST_SPAN_WT
    high = max(float(c.max()) for c in carbon_wt) + LEAST_SPAN_WT
    low = max(low, LEAST_CARBON_WT)
    return np.linspace(low, max(high, low + LEAST_SPAN_WT), int(np.ceil((high - low) / CARBON_STEP_WT)) + 1)


def line_surfaces(steel: Composition, off_wt: Mapping[str, Array], carbon: Array) -> dict[str, Surface]:
    """Ae1, Ae3 and Acm around a steel: `ae1_c`, `ae3_c`, `acm_c`; nan where there is none."""
    return _surfaces(steel, off_wt, carbon, lines_many)


def state_surfaces(
    steel: Composition, off_wt: Mapping[str, Array], carbon: Array, temperatures_c: Array
) -> dict[str, Surface]:
    """`austenite`, `carbide` and `<element>_in_austenite` at each temperature: (nodes, temperatures)."""
    many = len(temperatures_c)

    def solve(wt: dict[str, Array]) -> dict[str, Array]:
        repeated = {e: np.repeat(v, many) for e, v in wt.items()}
        found = states_many(repeated, np.tile(temperatures_c, len(wt["C"])))
        return {name: values.reshape(-1, many) for name, values in found.items()}

    return _surfaces(steel, off_wt, carbon, solve)


def _surfaces(
    steel: Composition,
    off_wt: Mapping[str, Array],
    carbon: Array,
    solve: Callable[[dict[str, Array]], dict[str, Array]],
) -> dict[str, Surface]:
    """One call of `solve` for the steel itself and for each of its metals a step less and more."""
    steps = {metal: step for metal in off_wt if (step := _step(steel, metal, off_wt[metal])) is not None}
    kinds: list[tuple[str, float]] = [("", 0.0)]
    for metal, (less, more) in steps.items():
        kinds += [(metal, -less), (metal, more)]
    columns = {"C": np.tile(carbon, len(kinds))}
    at_carbon = [steel.with_carbon(float(c)) for c in carbon]
    for metal in MODEL_METALS:
        own = np.array([c[metal] for c in at_carbon])
        columns[metal] = np.concatenate([own + (by if kind == metal else 0.0) for kind, by in kinds])
    found = solve(columns)
    return {
        name: _surface(values.reshape(len(kinds), len(carbon), *values.shape[1:]), carbon, steps)
        for name, values in found.items()
    }


def _surface(values: Array, carbon: Array, steps: Mapping[str, tuple[float, float]]) -> Surface:
    slopes = {
        metal: (values[2 * i + 2] - values[2 * i + 1]) / (less + more)
        for i, (metal, (less, more)) in enumerate(steps.items())
    }
    return Surface(carbon, values[0], slopes)


def _step(steel: Composition, metal: str, off_wt: Array) -> tuple[float, float] | None:
    """How far to go below and above the steel's own content of a metal; None where it does not differ."""
    if metal not in MODEL_METALS:
        return None
    wide = float(np.max(np.abs(off_wt)))
    own = steel[metal]
    room = wide
    if metal == "Cr":
        room = MOST_CHROMIUM_WT - own
    elif metal in REFRACTORY:
        room = MOST_REFRACTORY_WT - sum(steel[m] for m in REFRACTORY)
    less, more = min(wide, 0.99 * own), max(min(wide, 0.99 * room), 0.0)
    return (less, more) if less + more > LEAST_STEP_WT else None
