"""Everything the smith must be told beside the numbers, in one list."""

from billet.contract.report import Notice
from billet.contract.values import Fact, Finding, Level, Reason
from billet.diffusion.simulation import Metal
from billet.diffusion.transport import outside_heats
from billet.forging.burning import heat_findings
from billet.forging.cold_weld import cold_weld_findings
from billet.forging.forge import recipe_of_bar
from billet.forging.model import Forged
from billet.forging.notices import of_bar
from billet.hardening.blade import profile_layers
from billet.hardening.distortion import distortion_findings, one_sided_findings
from billet.hardening.heat_cycle import HeatCycle
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.homogenising_time import homogenisation_minutes
from billet.hardening.layer import LayerSteel, forms_alloy_carbide
from billet.hardening.published_hardness import drift_findings
from billet.recipe.model import FireStep, Recipe, Split, Weld
from billet.report.heat_cycle import cycle_notices
from billet.report.words import noticed
from billet.tables.cautions import cautions_for
from billet.tables.practice import decision_numbers
from billet.tables.scrap import usual_soft_iron

FUME_WT = 0.5
UM_PER_MM = 1000.0


def all_notices(
    recipe: Recipe, forged: Forged, metal: Metal, answered: HeatTreatment, cycle: HeatCycle
) -> list[Notice]:
    """Notices in the order of the work: forging, layers, hardening, quench, then the cautions."""
    judged = answered.judged
    ms = {name: state.ms_c for name, state in answered.states.items()}
    flat = len(metal.columns) == 1 and not metal.columns[0].alike
    sequence = tuple(layer.steel for layer in profile_layers(answered.blade)) if flat else ()
    laid = len(profile_layers(metal.bar))
    findings = [
        *forged.findings,
        *_heats(recipe, forged, metal),
        *_soft_irons(recipe),
        *_uneven(judged.layers, forged.rows[-1].layer_um.mean / UM_PER_MM),
        *_memory(answered),
        *_outside_tables(metal, answered),
        *drift_findings(judged.layers),
        *_blur(answered),
        *distortion_findings(judged.layers, ms),
        *one_sided_findings(sequence),
        *_one_layer(sequence, laid),
        *_edge(judged.layers),
        *_states(answered),
        *_much_austenite(answered),
    ]
    return [
        *map(noticed, findings),
        *cycle_notices(judged.normalising, cycle),
        *_caution_notices(recipe, answered),
    ]


def _heats(recipe: Recipe, forged: Forged, metal: Metal) -> list[Finding]:
    """Every fire against burning, forging range and cold welds, those of bars made first at first."""
    found: list[Finding] = []
    for name, bar in forged.bars.items():
        part, burning = recipe_of_bar(recipe, name), metal.bars[name].burning
        own = [*heat_findings(part, burning, bar.laid_by_step), *cold_weld_findings(part, burning)]
        found += [of_bar(name, finding) for finding in own]
    found += heat_findings(recipe, metal.burning, forged.laid_by_step)
    return [*found, *cold_weld_findings(recipe, metal.burning)]


def _soft_irons(recipe: Recipe) -> list[Finding]:
    """Mild steel and its like by a usual analysis: what the piece itself may hold."""
    found = []
    for name, steel in recipe.steels.items():
        iron = usual_soft_iron(steel.own_name or "", steel.wt or {})
        if iron is not None:
            values: dict[str, Fact] = {
                "steel": name, "kind": iron.name, "c_wt": iron.wt["C"], "mn_wt": iron.wt["Mn"],
                "least_c_wt": iron.carbon_wt[0], "most_c_wt": iron.carbon_wt[1],
                "least_mn_wt": iron.manganese_wt[0], "most_mn_wt": iron.manganese_wt[1],
            }  # fmt: skip
            found.append(Finding(Reason("soft-iron-usual", values), "note", f"steels.{name}"))
    return found


def _uneven(layers: tuple[LayerSteel, ...], layer_mm: float) -> list[Finding]:
    limit = decision_numbers("window")["spread_notice_wt"]
    found = []
    for layer in layers:
        if layer.role == "soft" or layer.carbon.p90 - layer.carbon.p10 <= limit:
            continue
        values: dict[str, Fact] = {
            "steel": layer.name,
            "low_wt": layer.carbon.p10,
            "high_wt": layer.carbon.p90,
            "more_min": _evening_min(layers, layer, layer_mm),
        }
        found.append(Finding(Reason("uneven-carbon", values), "note", "hardening"))
    return found


SENSIBLE_MIN = (1.0, 30.0)


def _evening_min(layers: tuple[LayerSteel, ...], layer: LayerSteel, layer_mm: float) -> float | None:
    """How long would even it, where fire does that and a fire of that length is sensible. [min]

    Beside a soft layer more fire only drains the steel that should harden; beside alloyed carbide the
    soak itself draws carbon apart.
    """
    if any(one.role == "soft" or forms_alloy_carbide(one.composition) for one in layers):
        return None
    more = homogenisation_minutes(layer, layer_mm)
    if more is None or not SENSIBLE_MIN[0] <= more <= SENSIBLE_MIN[1]:
        return None
    return more


def _memory(answered: HeatTreatment) -> list[Finding]:
    names = tuple(
        w.steel
        for layer, w in zip(answered.judged.layers, answered.judged.windows, strict=True)
        if layer.role != "soft" and w.supplied is not None and w.supplied.basis == "memory"
    )
    return [Finding(Reason("range-from-memory", {"steels": names}), "note", "hardening")] if names else []


def _outside_tables(metal: Metal, answered: HeatTreatment) -> list[Finding]:
    """Where carbon was reckoned beyond what its tables cover."""
    first = answered.first
    heats = [*first.normalising.temperatures_c, *([] if first.set_point_c is None else [first.set_point_c])]
    faults = dict.fromkeys([*metal.moved.outside, *outside_heats(metal.bar.metals, heats)])
    return [
        Finding(
            Reason(
                "outside-table",
                {
                    "steel": one.steel,
                    "input": one.fault.name,
                    "value": one.fault.value,
                    "low": one.fault.low,
                    "high": one.fault.high,
                },
            ),
            "note",
            "carbon",
        )
        for one in faults
    ]


def _blur(answered: HeatTreatment) -> list[Finding]:
    blur = answered.blur
    if blur.main_element is None or blur.left >= decision_numbers("pattern")["greys_out_left"]:
        return []
    return [Finding(Reason("layers-blurred", {"left_frac": blur.left}), "note", "pattern")]


def _one_layer(sequence: tuple[str, ...], laid: int) -> list[Finding]:
    if len(sequence) != 1 or laid < 2:
        return []
    return [Finding(Reason("blade-in-one-layer", {"steel": sequence[0]}), "limit", "blade")]


def _edge(layers: tuple[LayerSteel, ...]) -> list[Finding]:
    soft = tuple(layer.name for layer in layers if layer.role == "soft")
    if not soft or len(soft) == len(layers):
        return []
    return [Finding(Reason("soft-layer", {"steels": soft}), "note", "blade")]


def _states(answered: HeatTreatment) -> list[Finding]:
    """What is told of a steel's state, under the one code "state"; `told` is the code of the reason."""
    return [
        Finding(
            Reason("state", {**reason.values, "steel": name, "told": reason.code}), "note", f"steels.{name}"
        )
        for name, state in answered.states.items()
        for reason in state.notices
    ]


def _much_austenite(answered: HeatTreatment) -> list[Finding]:
    """Layers that would keep so much austenite that they come out soft and change size later."""
    limits = decision_numbers("state")
    found = []
    for name, state in answered.states.items():
        kept = state.retained_austenite
        if kept is None or kept.value < limits["much_austenite_frac"]:
            continue
        level: Level = "limit" if kept.value >= limits["too_much_austenite_frac"] else "caution"
        values: dict[str, Fact] = {
            "steel": name,
            "frac": kept.value,
            "low_frac": kept.low,
            "high_frac": kept.high,
        }
        found.append(Finding(Reason("much-austenite", values), level, "hardening"))
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
    fires = [step for _, plan in recipe.parts for step in plan.steps if isinstance(step, FireStep)]
    if fires:
        tags.add("carbon_monoxide")
    welds = [step for step in fires if isinstance(step, Weld | Split)]
    if any(step.flux if isinstance(step, Weld) else step.atmosphere != "sealed" for step in welds):
        tags.add("flux")
    if any(step.atmosphere == "sealed" for step in welds):
        tags.add("sealed_can")
    if any(_fumes(steel.composition["Ni"] + steel.composition["Cr"]) for steel in recipe.steels.values()):
        tags.add("metal_fume_ni_cr_mn")
    return tags


def _fumes(nickel_and_chromium_wt: float) -> bool:
    return nickel_and_chromium_wt >= FUME_WT
