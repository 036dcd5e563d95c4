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
