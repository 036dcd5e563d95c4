"""The decision as rows of the report."""

from billet.contract.report import Estimate, HardeningRow, HardeningSteel, LeastBad, Suffers
from billet.contract.values import Reason
from billet.formulas.equilibrium import CriticalLines
from billet.formulas.thermometry import magnet_point_c
from billet.hardening.austenite_state import SteelState
from billet.hardening.austenitising_window import SteelWindow
from billet.hardening.decision import HardeningDecision
from billet.hardening.heat_cycle import HeatCycle
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.layer import LayerSteel
from billet.hardening.line_bands import line_estimates
from billet.hardening.published_hardness import published_hrc
from billet.hardening.soft_layer_hardness import soft_hardness_hrc
from billet.recipe.model import Recipe
from billet.report.control import control_row, gives_up, good_and_works_k, method_rows, set_point_grade
from billet.report.heat_cycle import anneal_row, cold_row, grain_row, skin_row
from billet.report.verdict import suffers, verdict_reason
from billet.report.words import said


def hardening_row(recipe: Recipe, answered: HeatTreatment, cycle: HeatCycle) -> HardeningRow:
    """Verdict, window, set point, heats and every steel's own part in them."""
    judged = answered.judged
    window, joint = judged.window, judged.joint
    none = judged.none_because
    told = none in (None, "gap")
    works = joint.window
    good_k, works_k = (None, None) if window is None else good_and_works_k(judged)
    return HardeningRow(
        verdict=judged.verdict,
        none_because=none,
        window_c=None if window is None else window.range_c,
        works_c=None if window is None else (float(works.works_low_c[0]), float(works.works_high_c[0])),
        set_point_c=judged.set_point_c,
        loss=None if window is None else float(joint.worst.at(joint.point.c)[0]),
        grade=None if window is None else set_point_grade(judged),
        good_within_k=good_k,
        works_within_k=works_k,
        gap_k=float(works.gap_k[0]) if none == "gap" else None,
        low_set_by=judged.low_set_by if told else None,
        high_set_by=judged.high_set_by if told else None,
        because=said(verdict_reason(judged)),
        least_bad=_least_bad(judged),
        could_change=tuple(said(way) for way in _could_change(judged)),
        normalise_c=judged.normalising.temperatures_c,
        normalise_because=said(judged.normalising.because),
        soak_min=None if judged.soak is None else judged.soak.minutes,
        soak_because=None if judged.soak is None else said(judged.soak.because),
        heat_through_min=cycle.heat_through_min,
        anneal=anneal_row(cycle),
        grain=grain_row(cycle),
        skin=skin_row(cycle),
        cold_treatment=cold_row(cycle.cold),
        per_steel=tuple(
            _steel(layer, window, answered, judged.heat_c)
            for layer, window in zip(judged.layers, judged.windows, strict=True)
        ),
        control=control_row(recipe.temperature_control, judged),
        methods=method_rows(judged),
        gives_up=gives_up(answered),
    )


def _could_change(judged: HardeningDecision) -> tuple[Reason, ...]:
    """What the smith could alter where the answer is none or narrow."""
    reason = judged.none_because
    if reason == "soft":
        return Reason("change-thicker-plates"), Reason("change-core")
    if reason == "unknown":
        return (Reason("change-harden-c"),)
    if reason == "gap":
        return Reason("change-partner-overlaps"), Reason("change-soft-sides")
    if judged.verdict == "narrow":
        finer = (Reason("change-instrument"),) if good_and_works_k(judged)[0] > 0.0 else ()
        return *finer, Reason("change-partner-wider")
    return ()


def _steel(
    layer: LayerSteel, window: SteelWindow, answered: HeatTreatment, heat_c: float | None
) -> HardeningSteel:
    state = answered.states.get(layer.name)
    supplied = window.supplied
    preferred = window.preferred if layer.role != "soft" else None
    possible = window.possible if layer.role != "soft" else None
    why = window.unknown_because if layer.role != "soft" else None
    unknown = None if why is None else said(why)
    ae1, ae3, acm = answered.lines.get(layer.name) or _lines(window.lines)
    return HardeningSteel(
        steel=layer.name,
        role=layer.role,
        role_because=said(layer.role_because),
        supplied_c=supplied.range_c if supplied else None,
        supplied_source=supplied.source if supplied else None,
        supplied_basis=supplied.basis if supplied else None,
        preferred_c=preferred.range_c if preferred else None,
        possible_c=possible.range_c if possible else None,
        low_because=said(preferred.low.because) if preferred else unknown,
        high_because=said(preferred.high.because) if preferred else unknown,
        ae1_c=ae1,
        ae3_c=ae3,
        acm_c=acm,
        austenite_carbon_wt=_after_soak(state, "austenite_carbon_wt"),
        carbide=_after_soak(state, "carbide"),
        ms_c=state.ms_c if state else None,
        retained_austenite=state.retained_austenite if state else None,
        hrc=state.hrc if state and state.hrc else published_hrc(layer, heat_c),
        hrc_soft=soft_hardness_hrc(layer) if layer.role == "soft" else None,
        magnet_c=_magnet_c(layer),
    )


def _magnet_c(layer: LayerSteel) -> Estimate | None:
    found = magnet_point_c(layer.composition)
    return None if found is None else Estimate(found.value, found.low, found.high)


def _lines(lines: CriticalLines | None) -> tuple[Estimate | None, Estimate | None, Estimate | None]:
    return (None, None, None) if lines is None else line_estimates(lines)


def _after_soak(state: SteelState | None, field: str) -> Estimate | None:
    if state is None or state.after_soak is None:
        return None
    value: Estimate = getattr(state.after_soak, field)
    return value


def _least_bad(judged: HardeningDecision) -> LeastBad | None:
    heat_c = judged.least_bad_c
    if heat_c is None:
        return None
    rows = tuple(
        Suffers(layer.name, said(suffers(layer, window, heat_c)))
        for layer, window in zip(judged.layers, judged.windows, strict=True)
    )
    return LeastBad(heat_c, rows)
