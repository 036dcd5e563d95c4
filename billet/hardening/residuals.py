"""What scrap leaves in a steel and no nominal analysis tells: chromium, nickel, molybdenum, copper."""

from collections.abc import Collection, Mapping

from billet.composition import Composition
from billet.tables.practice import decision_numbers
from billet.tables.steels import Steel


def with_usual_residuals(wt: Mapping[str, float], printed: Collection[str]) -> dict[str, float]:
    """The analysis in wt% with the usual residuals in place of what is not `printed` of them.

    An element that is printed stays as it is, 0 included. Alloys of little iron get less of them.
    """
    share = usual_share(wt)
    usual = {e: share * v for e, v in decision_numbers("residuals")["usual_wt"].items() if e not in printed}
    return {**wt, **usual}


def usual_share(wt: Mapping[str, float]) -> float:
    """How much of the usual residuals an alloy gets, 0 to 1: all of them where half of it is iron."""
    iron_wt = 100.0 - sum(wt.values())
    whole_wt = decision_numbers("residuals")["whole_from_iron_wt"]
    return float(min(max(iron_wt / whole_wt, 0.0), 1.0))


def printed_residuals(analysis: Composition, grade: Steel | None) -> frozenset[str]:
    """Those of the residual elements that an analysis tells by itself.

    Of a grade's own nominal analysis: what its standard sets a lower limit to, or what lies over the band
    of the usual residual, for that was put in on purpose. Whatever a melt gives is told, 0 included.
    """
    limits = decision_numbers("residuals")
    return frozenset(
        e
        for e, usual in limits["usual_wt"].items()
        if e in analysis.wt and _told(analysis[e], e, limits["band"] * usual, grade)
    )


def _told(content_wt: float, element: str, most_wt: float, grade: Steel | None) -> bool:
    if grade is None or element not in grade.nominal.wt or content_wt != grade.nominal[element]:
        return True
    return grade.low.get(element, 0.0) > 0.0 or content_wt > most_wt
