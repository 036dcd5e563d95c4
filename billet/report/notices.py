"""Everything the smith must be told beside the numbers, in one list."""

from billet import wording
from billet.contract.report import Level, Notice
from billet.diffusion.simulation import Metal
from billet.diffusion.transport import outside_heats
from billet.forging.burning import heat_notices
from billet.forging.cold_weld import cold_weld_findings
from billet.forging.model import Forged
from billet.hardening.blade import profile_layers
from billet.hardening.distortion import distortion_notices, one_sided_notice
from billet.hardening.heat_cycle import HeatCycle
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.homogenising_time import homogenisation_minutes
from billet.hardening.layer import LayerSteel, forms_alloy_carbide
from billet.hardening.published_hardness import drift_notices
from billet.recipe.model import FireStep, Recipe, Weld
from billet.report.heat_cycle import cycle_notices
from billet.report.words import noticed, said
from billet.tables.cautions import cautions_for
from billet.tables.practice import decision_numbers

FUME_WT = 0.5
UM_PER_MM = 1000.0


def all_notices(
    recipe: Recipe, forged: Forged, metal: Metal, answered: HeatTreatment, cycle: HeatCycle
) -> list[Notice]:
    """Notices in the order of the work: forging, layers, hardening, quench, then the cautions."""
    judged = answered.judged
    ms = {name: state.ms_c for name, state in answered.states.items()}
    sequence = tuple(layer.steel for layer in profile_layers(answered.blade))
    laid = len(profile_layers(metal.bar))
    return [
        *forged.notices,
        *heat_notices(recipe, metal.burning, forged.laid_by_step),
        *map(noticed, cold_weld_findings(recipe, metal.burning)),
        *_uneven(judged.layers, forged.rows[-1].layer_um.mean / UM_PER_MM),
        *_memory(answered),
        *_outside_tables(metal, answered),
        *drift_notices(judged.layers),
        *_blur(answered),
        *distortion_notices(judged.layers, ms),
        *one_sided_notice(sequence),
        *_one_layer(sequence, laid),
        *_edge(judged.layers),
        *_state_notices(answered),
        *_much_austenite(answered),
        *cycle_notices(judged.normalising, cycle),
        *_caution_notices(recipe, answered),
    ]


def _uneven(layers: tuple[LayerSteel, ...], layer_mm: float) -> list[Notice]:
    limit = decision_numbers("window")["spread_notice_wt"]
    found = []
    for layer in layers:
        if layer.role == "soft" or layer.carbon.p90 - layer.carbon.p10 <= limit:
            continue
        tail = _evening(layers, layer, layer_mm)
        text = (
            f"{layer.name}: carbon inside the blade runs from {wording.wt(layer.carbon.p10)} to "
            f"{wording.wt(layer.carbon.p90)} (tenth to ninetieth percentile), "
            f"so its window is drawn from both{tail}"
        )
        found.append(Notice("uneven-carbon", "note", "hardening", text))
    return found


SENSIBLE_MIN = (1.0, 30.0)


def _evening(layers: tuple[LayerSteel, ...], layer: LayerSteel, layer_mm: float) -> str:
    """How long would even it, where fire does that and a fire of that length is sensible.

    Beside a soft layer more fire only drains the steel that should harden; beside alloyed carbide the
    soak itself draws carbon apart.
    """
    if any(one.role == "soft" or forms_alloy_carbide(one.composition) for one in layers):
        return ""
    more = homogenisation_minutes(layer, layer_mm)
    if more is None or not SENSIBLE_MIN[0] <= more <= SENSIBLE_MIN[1]:
        return ""
    return f"; about {wording.minutes(more)} more at welding heat would even it"


def _memory(answered: HeatTreatment) -> list[Notice]:
    names = [
        w.steel
        for layer, w in zip(answered.judged.layers, answered.judged.windows, strict=True)
        if layer.role != "soft" and w.supplied is not None and w.supplied.basis == "memory"
    ]
    if not names:
        return []
    text = (
        f"the published range of {', '.join(names)} stands here from memory, not confirmed in print: "
        "check it against the supplier's data before you trust a narrow window"
    )
    return [Notice("range-from-memory", "note", "hardening", text)]


def _outside_tables(metal: Metal, answered: HeatTreatment) -> list[Notice]:
    """Where carbon was reckoned beyond what its tables cover."""
    first = answered.first
    heats = [*first.normalising.temperatures_c, *([] if first.set_point_c is None else [first.set_point_c])]
    faults = dict.fromkeys([*metal.moved.outside, *outside_heats(metal.bar.metals, heats)])
    found = []
    for fault in faults:
        if fault.name.startswith("temperature_c"):
            what = f"{wording.temperature(fault.value)} for {fault.name.removeprefix('temperature_c at ')}"
            covered = wording.temperature_range(fault.low, fault.high)
        else:
            what = f"{wording.wt(fault.value)} {fault.name}"
            covered = f"{wording.wt(fault.low)} to {wording.wt(fault.high)}"
        text = (
            f"carbon activity is tabulated for {covered}; {what} lies outside, so its carbon is a rough guide"
        )
        found.append(Notice("outside-table", "note", "carbon", text))
    return found


def _blur(answered: HeatTreatment) -> list[Notice]:
    blur = answered.blur
    if blur.main_element is None or blur.left >= decision_numbers("pattern")["greys_out_left"]:
        return []
    text = "the layers have blurred into one another: they are judged as one steel of their blend"
    return [Notice("layers-blurred", "note", "pattern", text)]


def _one_layer(sequence: tuple[str, ...], laid: int) -> list[Notice]:
    if len(sequence) > 1 or laid < 2:
        return []
    text = f"the blade is cut from one layer, {sequence[0]}: it shows no pattern and holds one steel"
    return [Notice("blade-in-one-layer", "limit", "blade", text)]


def _edge(layers: tuple[LayerSteel, ...]) -> list[Notice]:
    soft = [layer.name for layer in layers if layer.role == "soft"]
    if not soft or len(soft) == len(layers):
        return []
    text = f"{', '.join(soft)} never takes an edge: keep it off the cutting edge"
    return [Notice("soft-layer", "note", "blade", text)]


def _state_notices(answered: HeatTreatment) -> list[Notice]:
    return [
        Notice("state", "note", f"steels.{name}", f"{name}: {said(reason)}")
        for name, state in answered.states.items()
        for reason in state.notices
    ]


def _much_austenite(answered: HeatTreatment) -> list[Notice]:
    """Layers that would keep so much austenite that they come out soft and change size later."""
    limits = decision_numbers("state")
    found = []
    for name, state in answered.states.items():
        kept = state.retained_austenite
        if kept is None or kept.value < limits["much_austenite_frac"]:
            continue
        text = (
            f"{name} keeps about {wording.percent(kept.value)} austenite ({wording.percent(kept.low)} to "
            f"{wording.percent(kept.high)}) when quenched: soft, and apt to change size or crack later"
        )
        level: Level = "limit" if kept.value >= limits["too_much_austenite_frac"] else "caution"
        found.append(Notice("much-austenite", level, "hardening", text))
    return found


def _caution_notices(recipe: Recipe, answered: HeatTreatment) -> list[Notice]:
    return [
        Notice(f"caution-{entry.code.replace('_', '-')}", "caution", "safety", entry.text)
        for entry in cautions_for(_tags(recipe, answered))
    ]


def _tags(recipe: Recipe, answered: HeatTreatment) -> set[str]:
    """What of the shop's dangers this plan meets."""
    tags = {"hot_work", "dust", "acid", "bar_breaks", "eyes", "noise"}
    medium = answered.quench.medium
    if medium is not None and "oil" in medium:
        tags |= {"oil", "fire"}
    if medium in {"water", "brine"}:
        tags.add("water_brine")
    fires = [step for step in recipe.steps if isinstance(step, FireStep)]
    if fires:
        tags.add("carbon_monoxide")
    welds = [step for step in fires if isinstance(step, Weld)]
    if any(step.flux for step in welds):
        tags.add("flux")
    if any(step.atmosphere == "sealed" for step in welds):
        tags.add("sealed_can")
    if any(_fumes(steel.composition["Ni"] + steel.composition["Cr"]) for steel in recipe.steels.values()):
        tags.add("metal_fume_ni_cr_mn")
    return tags


def _fumes(nickel_and_chromium_wt: float) -> bool:
    return nickel_and_chromium_wt >= FUME_WT
