"""Where melting begins."""

from billet.composition import Composition
from billet.formulas.domain import refuse_negative
from billet.published import published


@published(
    "from-memory",
    where="formula in three pieces by carbon",
    equation="> 0.17 % C: 1527 - 187.5 C; 0.09 to 0.17: 1495; below: 1538 - 478 C; all less"
    " 20.5 Si + 6.5 Mn + 2 Cr + 11.5 Ni + 5.5 Al + 500 P + 700 S",
    unit="C",
    basis="memory",
    note="Lies 1 to 11 K under the plain iron-carbon line from 0.4 to 1.5 % C: the safe side.",
    C=(0.0, 1.5),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def solidus_c(composition: Composition) -> float:
    """Temperature at which the steel begins to melt. [C]"""
    wt = composition
    carbon = wt["C"]
    if carbon > 0.17:
        plain = 1527.0 - 187.5 * carbon
    else:
        plain = 1495.0 if carbon >= 0.09 else 1538.0 - 478.0 * carbon
    alloy = 20.5 * wt["Si"] + 6.5 * wt["Mn"] + 2.0 * wt["Cr"] + 11.5 * wt["Ni"] + 5.5 * wt["Al"]
    return plain - alloy - 500.0 * wt["P"] - 700.0 * wt["S"]


@published(
    "from-memory",
    where="formula in one piece",
    equation="1536 - 175 C - 20 Si - 30 Mn - 280 P - 575 S - 6.5 Cr - 4 V - 4.75 Ni - 7.5 Al - 2.5 W"
    " - 40 Ti - 5 Mo - 60 Nb",
    unit="C",
    basis="memory",
    note="Up to 16 K over the plain iron-carbon line at high carbon; not the one used.",
    C=(0.17, 1.5),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def solidus_one_piece_c(composition: Composition) -> float:
    """Temperature at which the steel begins to melt, the other formula in circulation. [C]"""
    wt = composition
    common = 20.0 * wt["Si"] + 30.0 * wt["Mn"] + 280.0 * wt["P"] + 575.0 * wt["S"] + 6.5 * wt["Cr"]
    rest = 4.0 * wt["V"] + 4.75 * wt["Ni"] + 7.5 * wt["Al"] + 2.5 * wt["W"] + 40.0 * wt["Ti"]
    return 1536.0 - 175.0 * wt["C"] - common - rest - 5.0 * wt["Mo"] - 60.0 * wt["Nb"]


@published(
    "iron-carbon-lines",
    where="straight line from 1495 C at 0.17 % C to 1148 C at 2.11 % C",
    equation="1495 - (1495 - 1148) (C - 0.17) / (2.11 - 0.17)",
    unit="C",
    basis="memory",
    note="Within 2 K of the computed line from 0.4 to 1.5 % C.",
    carbon_wt=(0.17, 1.5),
)
def solidus_iron_carbon_c(carbon_wt: float) -> float:
    """Temperature at which plain iron-carbon begins to melt. [C]"""
    refuse_negative("carbon_wt", carbon_wt)
    return 1495.0 - (1495.0 - 1148.0) * (carbon_wt - 0.17) / (2.11 - 0.17)
