"""How far the analysis of a bought steel may lie off what is told: the one rule for bands and for draws."""

from billet.tables.steels import Steel
from billet.tables.uncertainty import spread


def grade_limits_wt(grade: Steel, element: str, usual_wt: float) -> tuple[float, float]:
    """Least and most of an element that the standard of a grade lets through, around the usual. [wt%]

    A limit that the standard does not set lies as far off as the other; without both there is no spread.
    """
    low, high = grade.low.get(element), grade.high.get(element)
    if low is None and high is None:
        return usual_wt, usual_wt
    if low is None:
        low = max(2.0 * usual_wt - float(high or 0.0), 0.0)
    if high is None:
        high = 2.0 * usual_wt - low
    return min(low, usual_wt), max(high, usual_wt)


def laboratory_error_wt(element: str, told_wt: float) -> float:
    """Error of a given analysis, nine in ten inside. [wt%]"""
    errors = spread("analysis")
    if element == "C":
        return float(errors["laboratory_carbon_wt"])
    return float(max(errors["laboratory_frac"] * told_wt, errors["laboratory_least_wt"]))
