"""The line that the published hardening ranges of plain steels make with carbon."""

import itertools

from billet.composition import Composition
from billet.contract.report import Range
from billet.formulas.equilibrium import critical_lines
from billet.tables.practice import plain_line, plain_reference

SWITCH_TO_ACM_WT = 0.70


def plain_carbon_range_c(carbon_wt: float) -> Range:
    """Low and high end of the hardening range of a plain steel, held at the ends of the line. [C]"""
    rows = plain_line()
    if carbon_wt <= rows[0][0]:
        return rows[0][1], rows[0][2]
    for (c0, low0, high0), (c1, low1, high1) in itertools.pairwise(rows):
        if carbon_wt <= c1:
            part = (carbon_wt - c0) / (c1 - c0)
            return low0 + part * (low1 - low0), high0 + part * (high1 - high0)
    return rows[-1][1], rows[-1][2]


def range_without_publication_c(composition: Composition) -> Range:
    """A range for a low-alloy steel that no publication names: the plain line, moved. [C]

    Moved by how much Ae3 (under 0.7 % carbon) or Acm (above) lies off that of the plain steel of
    the line; the upper end is only ever raised. Own construction; read it as +-20 K.
    """
    carbon = composition["C"]
    low, high = plain_carbon_range_c(carbon)
    here, plain = critical_lines(composition), critical_lines(plain_reference(carbon))
    if carbon < SWITCH_TO_ACM_WT:
        shift = _apart(here.ae3_c, plain.ae3_c)
    else:
        shift = _apart(here.acm_c or here.ae1_c, plain.acm_c or plain.ae1_c)
    return low + shift, high + max(shift, 0.0)


def _apart(here_c: float | None, plain_c: float | None) -> float:
    return 0.0 if here_c is None or plain_c is None else here_c - plain_c
