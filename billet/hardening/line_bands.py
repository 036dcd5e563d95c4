"""Critical lines of a steel with their bands."""

from billet.contract.values import Estimate
from billet.formulas.equilibrium import CriticalLines
from billet.hardening.bands import band_around
from billet.hardening.critical_lines import Lines
from billet.tables.practice import decision_numbers

LineBands = tuple[Estimate | None, Estimate | None, Estimate | None]
"""Ae1, Ae3 and Acm; None where an analysis has no such line. [C]"""


def line_estimates(lines: CriticalLines) -> LineBands:
    """Ae1, Ae3 and Acm with their bands. [C]"""
    errors = decision_numbers("state")
    return (
        _around(lines.ae1_c, errors["ae1_error_k"]),
        _around(lines.ae3_c, errors["ae3_error_k"]),
        _around(lines.acm_c, errors["acm_error_k"]),
    )


def line_bands(moved: Lines) -> LineBands:
    """Ae1, Ae3 and Acm of a layer over its analyses and the errors of the lines. [C]"""
    errors = decision_numbers("state")
    return (
        band_around(moved.ae1_c, errors["ae1_error_k"]),
        band_around(moved.ae3_c, errors["ae3_error_k"]),
        band_around(moved.acm_c, errors["acm_error_k"]),
    )


def _around(value: float | None, error: float) -> Estimate | None:
    return None if value is None else Estimate(value, value - error, value + error)
