"""The decision as rows of the report."""

from billet.contract.report import Estimate, HardeningRow, HardeningSteel
from billet.formulas.equilibrium import CriticalLines
from billet.formulas.thermometry import magnet_point_c
from billet.hardening.austenite_state import SteelState, line_estimates
from billet.hardening.austenitising_window import SteelWindow
from billet.hardening.decision import HardeningDecision
from billet.hardening.heat_cycle import HeatCycle
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.layer import LayerSteel
from billet.hardening.published_hardness import published_hrc
from billet.hardening.set_point import control_row, method_rows
from billet.hardening.soft_layer_hardness import soft_hardness_hrc
from billet.recipe.model import Recipe
from billet.report.heat_cycle import anneal_row, cold_row, grain_row, skin_row
from billet.report.words import said


def hardening_row(recipe: Recipe, answered: HeatTreatment, cycle: HeatCycle) -> HardeningRow:
    """Verdict, window, set point, heats and every steel's own part in them."""
    judged = answered.judged
    agreement = judged.agreement
    return HardeningRow(
        verdict=agreement.verdict,
        none_because=agreement.none_because,
        window_c=None if agreement.window is None else agreement.window.range_c,
        set_point_c=None if judged.set_point is None else judged.set_point.c,
        gap_k=agreement.gap_k,
        low_set_by=agreement.low_set_by,
        high_set_by=agreement.high_set_by,
        because=agreement.because,
        least_bad=judged.least_bad,
        could_change=_could_change(judged),
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
            _steel(layer, window, answered.states.get(layer.name), judged.heat_c)
            for layer, window in zip(judged.layers, judged.windows, strict=True)
        ),
        control=control_row(recipe.control, agreement.window),
        methods=method_rows(agreement.window),
    )


def _could_change(judged: HardeningDecision) -> tuple[str, ...]:
    """What the smith could alter where the answer is none or narrow."""
    reason = judged.agreement.none_because
    if reason == "soft":
        return (
            "thicker plates of the carbon steel, or fewer and shorter heats, so that less carbon leaves it",
            "a core of carbon steel thick enough to keep its own carbon at the edge",
        )
    if reason == "unknown":
        return ("give harden_c for the steel from its supplier's data sheet",)
    if reason == "gap":
        return (
            "choose a partner whose published range overlaps",
            "use one of the two as soft sides only, and harden for the other",
        )
    if judged.agreement.verdict == "narrow":
        return ("hold the temperature with a better instrument", "choose a partner with a wider overlap")
    return ()


def _steel(
    layer: LayerSteel, window: SteelWindow, state: SteelState | None, heat_c: float | None
) -> HardeningSteel:
    supplied = window.supplied
    preferred = window.preferred if layer.role != "soft" else None
    possible = window.possible if layer.role != "soft" else None
    unknown = window.unknown_because if layer.role != "soft" else None
    ae1, ae3, acm = _lines(window.lines)
    return HardeningSteel(
        steel=layer.name,
        role=layer.role,
        role_because=layer.role_because,
        supplied_c=supplied.range_c if supplied else None,
        supplied_source=supplied.source if supplied else None,
        supplied_basis=supplied.basis if supplied else None,
        preferred_c=preferred.range_c if preferred else None,
        possible_c=possible.range_c if possible else None,
        low_because=preferred.low.because if preferred else unknown,
        high_because=preferred.high.because if preferred else unknown,
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
