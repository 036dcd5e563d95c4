"""Where a steel, or nickel sheet, begins to melt."""

from billet.composition import Composition
from billet.formulas.solidus import solidus_c
from billet.tables.forging import forging_rule


def melts_from_c(composition: Composition) -> float:
    """Temperature at which the metal begins to melt. [C] Nickel has its own figure (from memory)."""
    nickel = forging_rule("nickel")
    if composition["Ni"] >= nickel["from_wt"]:
        return float(nickel["melts_from_c"])
    return solidus_c(composition)
