"""How the heat is held, against what the steels take."""

from billet import written
from billet.contract.hardening_rows import ControlRow, GivesUp, MethodRow
from billet.contract.values import Grade, Reason
from billet.hardening.austenite_state import SteelState
from billet.hardening.decision import HardeningDecision, Swing
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.set_point import grade_of, widest_half_width_k
from billet.recipe.model import Control
from billet.report.words import said
from billet.tables.control import ControlMethod, control_method
from billet.tables.practice import decision_numbers


def set_point_grade(judged: HardeningDecision) -> Grade:
    """What the fire that was told makes of the set point."""
    return grade_of(float(judged.joint.point.loss[0]))


def good_and_works_k(judged: HardeningDecision) -> tuple[float, float]:
    """The roughest fire about the set point that is good, and that works, down to a written kelvin. [K]"""
    joint, numbers = judged.joint, decision_numbers("loss")
    good, works = (
        written.k_below(float(widest_half_width_k(joint.worst, joint.point.c, numbers[name])[0]))
        for name in ("good", "possible")
    )
    return good, works


def control_row(control: Control | None, judged: HardeningDecision) -> ControlRow | None:
    """How the smith holds the temperature, and what that is worth here; None where it is not told."""
    if control is None:
        return None
    method = None if control.method is None else control_method(control.method)
    label = method.label if method is not None else None
    if judged.none_because is not None:
        return ControlRow(
            control.method, label, judged.half_width_k, False, "no", said(Reason("control-no-window"))
        )
    grade = set_point_grade(judged)
    return ControlRow(
        control.method, label, judged.half_width_k, grade == "good", grade, said(_advice(judged, grade))
    )


def _advice(judged: HardeningDecision, grade: Grade) -> Reason:
    good_k, works_k = good_and_works_k(judged)
    values: dict[str, float | str | None] = {
        "half_width_k": judged.half_width_k,
        "good_k": good_k,
        "works_k": works_k,
    }
    if grade == "good":
        return Reason("control-good", values)
    better = better_method(judged, grade)
    if better is not None:
        values |= {"better": better.label, "better_k": better.half_width_k}
    return Reason(f"control-{grade}", values)


def better_method(judged: HardeningDecision, grade: Grade) -> ControlMethod | None:
    """The roughest way of holding a temperature that is better than this grade; None where none is."""
    order: tuple[Grade, ...] = ("good", "works", "no")
    if grade == order[0]:
        return None
    for aim in order[: order.index(grade)]:
        found = [m for m, made in judged.methods if made == aim]
        if found:
            return max(found, key=lambda m: m.half_width_k)
    return None


def method_rows(judged: HardeningDecision) -> tuple[MethodRow, ...]:
    """Every method of the table against the steels of this bar."""
    rows, none = [], judged.none_because is not None
    for m, made in judged.methods:
        grade: Grade = "no" if none else made
        rows.append(MethodRow(m.key, m.label, m.half_width_k, grade == "good", grade, m.how, m.basis))
    return tuple(rows)


def gives_up(answered: HeatTreatment) -> tuple[GivesUp, ...]:
    """What each hardening layer loses where the fire swings to, when that is outside its good range."""
    found = []
    for swing in answered.swings:
        reason = _loss_reason(answered.states[swing.steel], swing)
        found.append(GivesUp(swing.heat_c, swing.steel, reason.code, said(reason)))
    return tuple(found)


def _loss_reason(here: SteelState, swing: Swing) -> Reason:
    there = swing.state
    values: dict[str, float] = {"by_k": abs(swing.heat_c - swing.end_c)}
    if there.hrc is not None and there.retained_austenite is not None:
        values["hrc"] = there.hrc.value
        if here.hrc is not None and swing.heat_c < here.temperature_c:
            values["hrc_at_set"] = here.hrc.value
        values["retained_austenite"] = there.retained_austenite.value
    if there.equilibrium is not None:
        values["ferrite"] = there.equilibrium.ferrite
    return Reason(f"gives-up-{swing.side}", values)
