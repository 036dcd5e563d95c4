"""How the heat is held, against what the steels take."""

from collections.abc import Mapping

from billet.contract.hardening_rows import ControlRow, GivesUp, MethodRow
from billet.contract.values import Grade, Reason
from billet.hardening.austenite_state import SteelState, states_of
from billet.hardening.decision import HardeningDecision
from billet.hardening.set_point import grade_of, widest_half_width_k
from billet.recipe.model import Control
from billet.report.words import said
from billet.tables.control import ControlMethod, control_method
from billet.tables.practice import decision_numbers


def set_point_grade(judged: HardeningDecision) -> Grade:
    """What the fire that was told makes of the set point."""
    return grade_of(float(judged.joint.point.loss[0]))


def good_and_works_k(judged: HardeningDecision) -> tuple[float, float]:
    """The roughest fire about the set point that is good, and that works. [K]"""
    joint, numbers = judged.joint, decision_numbers("loss")
    good, works = (
        float(widest_half_width_k(joint.worst, joint.point.c, numbers[name])[0])
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
    rows = []
    for m, made in judged.methods:
        grade: Grade = "no" if judged.none_because is not None else made
        rows.append(MethodRow(m.key, m.label, m.half_width_k, grade == "good", grade, m.how, m.basis))
    return tuple(rows)


def gives_up(judged: HardeningDecision, at_set: Mapping[str, SteelState]) -> tuple[GivesUp, ...]:
    """What each hardening layer loses where the fire swings to, when that is outside its good range.

    `at_set` are the states at the set point.
    """
    if judged.set_point_c is None or judged.half_width_k <= 0.0:
        return ()
    swings = [(sign, judged.set_point_c + sign * judged.half_width_k) for sign in (-1.0, 1.0)]
    outside = [
        (sign, heat_c, place, good)
        for sign, heat_c in swings
        for place, layer in enumerate(judged.layers)
        if (good := judged.windows[place].preferred) is not None
        if layer.role != "soft" and not good.low.c <= heat_c <= good.high.c
    ]
    states = states_of(
        [(judged.joint.layers[place], heat_c) for _, heat_c, place, _ in outside],
        [judged.joint.lines[place] for _, _, place, _ in outside],
    )
    found = []
    for (sign, heat_c, place, good), there in zip(outside, states, strict=True):
        name, end = judged.layers[place].name, good.low if sign < 0 else good.high
        reason = _loss_reason(at_set[name], there, sign, end.c)
        found.append(GivesUp(heat_c, name, reason.code, said(reason)))
    return tuple(found)


def _loss_reason(here: SteelState, there: SteelState, sign: float, end_c: float) -> Reason:
    side = "cold" if sign < 0 else "hot"
    values: dict[str, float] = {"by_k": abs(there.temperature_c - end_c)}
    if there.hrc is not None and there.retained_austenite is not None and here.hrc is not None:
        values["hrc"], values["hrc_at_set"] = there.hrc.value, here.hrc.value
        values["retained_austenite"] = there.retained_austenite.value
    if there.equilibrium is not None:
        values["ferrite"] = there.equilibrium.ferrite
    return Reason(f"gives-up-{side}", values)
