"""Equilibrium of low-alloy steel between 450 and 1450 C: phases, dissolved carbon, Ae1, Ae3, Acm.

A compact thermodynamic model. Austenite, ferrite, M3C, M7C3, M6C, vanadium carbide and tungsten carbide
exchange C, Si, Mn, Cr, Ni, Mo, V and W with iron; every potential is equal in all phases that are
there. Parameters are published assessments (assessed.py, a source on every row), brought into the
dilute form (coefficients.py), with small corrections fitted to computed equilibria (calibrated.py).
M23C6 and M2C were left out: they carried nothing in the compositions this was fitted to.

Carbon activity in austenite, graphite = 1, as in billet.formulas.activity:
    ln a = const + ln(y/(1-y)) + k y + sum eps u,   const = 42536/(RT) - 15.877/R,  k = 69342/(RT)
with eps as ASSESSED there plus the corrections of calibrated.CARBON.
"""

from billet.formulas.equilibrium import errors
from billet.formulas.equilibrium.lines import critical_lines, lines_many
from billet.formulas.equilibrium.results import CriticalLines, EquilibriumState, outside_range
from billet.formulas.equilibrium.states import carbon_activity_of_total, equilibrium_state, states_many

__all__ = [
    "CriticalLines",
    "EquilibriumState",
    "carbon_activity_of_total",
    "critical_lines",
    "equilibrium_state",
    "errors",
    "lines_many",
    "outside_range",
    "states_many",
]
