"""How the heat is held, against what the steels take."""

from billet.contract.hardening_rows import ControlRow, GivesUp, MethodRow
from billet.contract.values import Grade, Reason
from billet.hardening.austenite_state import SteelState, states_of
from billet.hardening.decision import HardeningDecision
from billet.hardening.set_point import grade_of, grades_of_fires, widest_half_width_k
from billet.recipe.model import Control
from billet.report.words import said
from billet.tables.control import ControlMethod, control_method, control_methods
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
    graded = _graded_methods(judged)
    better = [m for m, made in graded if made == "good"]
    if not better and grade != "works":
        better = [m for m, made in graded if made == "works"]
    if better:
        best = max(better, key=lambda m: m.half_width_k)
        values |= {"better": best.label, "better_k": best.half_width_k}
    return Reason(f"control-{grade}", values)


def _graded_methods(judged: HardeningDecision) -> list[tuple[ControlMethod, Grade]]:
    """Every method of the table with what it makes of these steels."""
    methods = control_methods()
    grades = grades_of_fires(judged.joint.worst, [m.half_width_k for m in methods])
    return list(zip(methods, grades, strict=True))


def method_rows(judged: HardeningDecision) -> tuple[MethodRow, ...]:
    """Every method of the table against the steels of this bar."""
    rows = []
    for m, made in _graded_methods(judged):
        grade: Grade = "no" if judged.none_because is not None else made
        rows.append(MethodRow(m.key, m.label, m.half_width_k, grade == "good", grade, m.how, m.basis))
    return tuple(rows)


def gives_up(judged: HardeningDecision) -> tuple[GivesUp, ...]:
    """What each hardening layer loses where the fire swings to, when that is outside its good range."""
    if judged.set_point_c is None or judged.half_width_k <= 0.0:
        return ()
    told = [
        own for own, layer in zip(judged.joint.layers, judged.layers, strict=True) if layer.role != "soft"
    ]
    heats_c = {sign: judged.set_point_c + sign * judged.half_width_k for sign in (-1.0, 1.0)}
    states = states_of([(own, c) for c in (judged.set_point_c, *heats_c.values()) for own in told])
    at_set, at_ends = states[: len(told)], iter(states[len(told) :])
    found = []
    for sign, heat_c in heats_c.items():
        for layer, here in zip(told, at_set, strict=True):
            there = next(at_ends)
            window = next(w for w in judged.windows if w.steel == layer.name).preferred
            if window is None or window.low.c <= heat_c <= window.high.c:
                continue
            reason = _loss_reason(here, there, sign, window.low.c if sign < 0 else window.high.c)
            found.append(GivesUp(heat_c, layer.name, reason.code, said(reason)))
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
