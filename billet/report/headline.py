"""The answer in one sentence: how the fire does by the steels, how the oil does by the blade, what to do."""

from dataclasses import dataclass

from billet.contract.hardening_rows import HeadlineRow
from billet.contract.values import Fact, Grade, Reason
from billet.hardening.decision import blade_section
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.media_cooling import deepest_told_mm
from billet.hardening.quench import BarQuench
from billet.hardening.quench_grades import GOOD, GRADES, NO, BladeSection
from billet.hardening.shop_oils import OilByBar, best_oil
from billet.recipe.model import Recipe
from billet.report.control import better_method, good_and_works_k, set_point_grade
from billet.report.words import said

DRY = ("plates", "air")


@dataclass(frozen=True)
class Bath:
    """The bath the headline tells of: a class, or one of the smith's own oils.

    `sure_mm` and `likely_mm` are the thicknesses that the shallowest layer hardens through, None where it
    hardens deeper than the blade; `cracks` the layers that may crack in it.
    """

    medium: str
    own: str | None
    grade: Grade
    sure_mm: float | None
    likely_mm: float | None
    cracks: tuple[str, ...]


def headline_row(recipe: Recipe, answered: HeatTreatment) -> HeadlineRow:
    """One of nine headlines, by fire and oil; or why there is no set point."""
    judged, quench = answered.judged, answered.quench
    because = judged.none_because
    if because is not None or quench.medium is None:
        gap_k = float(judged.joint.window.gap_k[0]) if because == "gap" else None
        values: dict[str, Fact] = {
            "steels": tuple(layer.name for layer in judged.layers),
            "gap_k": gap_k,
            "least_bad_c": judged.least_bad_c,
        }
        return _row("no", "no", f"none-{because or 'soft'}", None, values)
    fire = set_point_grade(judged)
    section = blade_section(recipe, judged)
    bath = told_bath(quench, section)
    good_k, works_k = good_and_works_k(judged)
    better = better_method(judged, fire)
    values = {
        "set_c": judged.set_point_c,
        "fire_told": recipe.temperature_control is not None,
        "half_width_k": judged.half_width_k,
        "good_k": good_k,
        "works_k": works_k,
        "better": None if better is None else better.label,
        "better_k": None if better is None else better.half_width_k,
        "medium": bath.medium,
        "own_oil": bath.own,
        "own_oils": len(quench.in_shop),
        "class_medium": quench.medium,
        "class_hardens_edge": quench.grade != GRADES[NO],
        "edge_mm": section.thinnest_mm,
        "sure_mm": bath.sure_mm,
        "likely_mm": bath.likely_mm,
        "cracks": bath.cracks,
    }
    return _row(fire, bath.grade, f"{fire}-{bath.grade}", bath.own, values)


def _row(fire: Grade, oil: Grade, code: str, own: str | None, values: dict[str, Fact]) -> HeadlineRow:
    text, do = said(Reason(f"headline-{code}", values)), said(Reason(f"do-{code}", values))
    return HeadlineRow(fire, oil, code, own, text, do)


def told_bath(quench: BarQuench, section: BladeSection) -> Bath:
    """The best of the smith's own oils; the class that the bar takes where none is told, or where the steel
    hardens between plates or in air and needs none."""
    dry = quench.medium in DRY and quench.grade != GRADES[NO]
    own = None if dry else best_oil(quench.in_shop, section.thinnest_mm)
    return _own(own, section) if own is not None else _of_class(quench)


def _own(own: OilByBar, section: BladeSection) -> Bath:
    through = own.hardens_to_mm is not None and own.hardens_to_mm >= section.thickness_mm
    sure_mm, likely_mm = (None, None) if through else (own.hardens_to_mm, own.likely_mm)
    return Bath(own.medium, own.oil.name, _grade(own.grade, own.too_fast), sure_mm, likely_mm, own.too_fast)


def _of_class(quench: BarQuench) -> Bath:
    cracks = tuple(p.steel for p in quench.pays if p.how.code == "quench-cracks")
    short = [p.how.values for p in quench.pays if p.how.code != "quench-cracks"]
    sure, likely = ([_mm(v[name]) for v in short] for name in ("through_mm", "likely_mm"))
    grade = GRADES.index(quench.grade) if quench.grade is not None else NO
    return Bath(
        str(quench.medium),
        None,
        _grade(grade, cracks),
        min(sure) if sure else None,
        min(likely) if likely else None,
        cracks,
    )


def _mm(value: Fact) -> float:
    assert isinstance(value, float)
    return min(value, deepest_told_mm())


def _grade(grade: int, cracks: tuple[str, ...]) -> Grade:
    """A bath that a layer may crack in is never better than one that works."""
    if grade == NO:
        return "no"
    return "good" if grade == GOOD and not cracks else "works"
