"""A steel of iron and carbon at equilibrium: this program beside pycalphad, from the same energies.

The database holds what `billet/formulas/equilibrium` has of iron and carbon: Dinsdale's and Hallstedt's pure
phases with their magnetic terms, Gustafson's carbon in austenite and in ferrite.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

CARBON_WT = (0.4, 0.8, 1.2)
TEMPERATURES_C = (735.0, 760.0, 800.0, 850.0)
PHASES = ("FCC_A1", "BCC_A2", "CEMENTITE")
DATABASE = """
 ELEMENT /-  ELECTRON_GAS 0 0 0 !
 ELEMENT VA  VACUUM       0 0 0 !
 ELEMENT FE  BCC_A2       55.847 4489 27.2797 !
 ELEMENT C   GRAPHITE     12.011 1054 5.7423 !
 FUNCTION IRON 298.15 +1225.7+124.134*T-23.5143*T*LN(T)-.00439752*T**2-5.8927E-08*T**3+77359*T**(-1); 1811 N !
 FUNCTION GRAPHITE 298.15 -17368.441+170.73*T-24.3*T*LN(T)-4.723E-04*T**2+2562600*T**(-1)-2.643E+08*T**(-2)
   +1.2E+10*T**(-3); 6000 N !
 TYPE_DEFINITION % SEQ *!
 TYPE_DEFINITION F GES A_P_D FCC_A1 MAGNETIC -3.0 .28 !
 TYPE_DEFINITION B GES A_P_D BCC_A2 MAGNETIC -1.0 .4 !
 TYPE_DEFINITION M GES A_P_D CEMENTITE MAGNETIC -3.0 .28 !
 DEFINE_SYSTEM_DEFAULT ELEMENT 2 !
 PHASE FCC_A1 %F 2 1 1 !
 CONSTITUENT FCC_A1 :FE : C,VA : !
 PHASE BCC_A2 %B 2 1 3 !
 CONSTITUENT BCC_A2 :FE : C,VA : !
 PHASE CEMENTITE %M 2 3 1 !
 CONSTITUENT CEMENTITE :FE : C : !
 PARAMETER G(FCC_A1,FE:VA;0) 298.15 +IRON#-1462.4+8.282*T-1.15*T*LN(T)+6.4E-04*T**2; 6000 N !
 PARAMETER G(FCC_A1,FE:C;0) 298.15 +IRON#-1462.4+8.282*T-1.15*T*LN(T)+6.4E-04*T**2+GRAPHITE#+77207-15.877*T;
   6000 N !
 PARAMETER L(FCC_A1,FE:C,VA;0) 298.15 -34671; 6000 N !
 PARAMETER TC(FCC_A1,FE:VA;0) 298.15 -201; 6000 N !
 PARAMETER BMAGN(FCC_A1,FE:VA;0) 298.15 -2.1; 6000 N !
 PARAMETER TC(FCC_A1,FE:C;0) 298.15 -201; 6000 N !
 PARAMETER BMAGN(FCC_A1,FE:C;0) 298.15 -2.1; 6000 N !
 PARAMETER G(BCC_A2,FE:VA;0) 298.15 +IRON#; 6000 N !
 PARAMETER G(BCC_A2,FE:C;0) 298.15 +IRON#+3*GRAPHITE#+322050+75.667*T; 6000 N !
 PARAMETER L(BCC_A2,FE:C,VA;0) 298.15 -190*T; 6000 N !
 PARAMETER TC(BCC_A2,FE:VA;0) 298.15 1043; 6000 N !
 PARAMETER BMAGN(BCC_A2,FE:VA;0) 298.15 2.22; 6000 N !
 PARAMETER TC(BCC_A2,FE:C;0) 298.15 1043; 6000 N !
 PARAMETER BMAGN(BCC_A2,FE:C;0) 298.15 2.22; 6000 N !
 PARAMETER G(CEMENTITE,FE:C;0) 298.15 -10195.860754+690.949887637*T-118.47637*T*LN(T)-7E-04*T**2
   +590527*T**(-1); 6000 N !
 PARAMETER TC(CEMENTITE,FE:C;0) 298.15 485; 6000 N !
 PARAMETER BMAGN(CEMENTITE,FE:C;0) 298.15 1.008; 6000 N !
"""


def ours(carbon_wt: float) -> Callable[[], list[float]]:
    """Share of austenite at each temperature, all in one solution."""
    from billet.formulas.equilibrium import states_many

    wt = {"C": np.full(len(TEMPERATURES_C), carbon_wt)}
    heat_c = np.asarray(TEMPERATURES_C)
    return lambda: [float(share) for share in states_many(wt, heat_c)["austenite"]]


def one_of_ours(carbon_wt: float, temperature_c: float) -> Callable[[], float]:
    """The same of one state alone."""
    from billet.formulas.equilibrium import states_many

    wt, heat_c = {"C": np.array([carbon_wt])}, np.array([temperature_c])
    return lambda: float(states_many(wt, heat_c)["austenite"][0])


def pycalphads() -> Callable[[float, float], float]:
    """Share of austenite by mass at a temperature, models compiled beforehand."""
    from pycalphad import Database, Workspace
    from pycalphad import variables as v

    database = Database.from_string(DATABASE, fmt="tdb")
    kept: dict[str, Any] = {}

    def share(carbon_wt: float, temperature_c: float) -> float:
        carbon = (carbon_wt / 12.011) / (carbon_wt / 12.011 + (100.0 - carbon_wt) / 55.847)
        asked = {v.T: temperature_c + 273.15, v.P: 101325.0, v.N: 1.0, v.X("C"): carbon}
        if "work" not in kept:
            kept["work"] = Workspace(database, ["FE", "C", "VA"], list(PHASES), asked)
        work = kept["work"]
        work.conditions = asked
        found = dict.fromkeys(PHASES, 0.0)
        mass = {}
        for name in PHASES:
            moles = float(np.nansum(np.atleast_1d(work.get(v.NP(name)))))
            inside = float(np.nansum(np.atleast_1d(work.get(v.X(name, "C"))))) if moles > 0.0 else 0.0
            mass[name] = moles * (inside * 12.011 + (1.0 - inside) * 55.847)
        found.update(mass)
        return found["FCC_A1"] / sum(found.values())

    return share
