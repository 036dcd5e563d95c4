"""Whether deep cold after the quench is worth its trouble."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from billet.contract.values import Estimate, Fact, Reason
from billet.hardening.cycle_layer import CycleLayer, ramp
from billet.tables.heat_cycle import cycle_numbers


@dataclass(frozen=True)
class ColdTreatment:
    """To `to_c` for `hold_min`, after a first temper, then tempered again."""

    to_c: float
    hold_min: float
    steel: str
    retained: Estimate
    because: Reason


def cold_treatment(
    layers: Sequence[CycleLayer], retained: Mapping[str, Estimate | None]
) -> ColdTreatment | None:
    """Offered where the retained austenite of a layer, as far as it hardens, passes 15 %.

    What is computed counts; for steels rich in chromium, of which nothing is computed, what such grades
    are remembered to retain at their carbon. Common practice, no source.
    """
    rule = cycle_numbers("cold_treatment")
    told = [
        (layer.weight * kept.value, layer.name, kept, retained.get(layer.name) is not None)
        for layer in layers
        if (kept := retained.get(layer.name) or _remembered(layer)) is not None
    ]
    if not told:
        return None
    worst, name, kept, computed = max(told, key=lambda item: item[0])
    if worst <= rule["retained_over_frac"]:
        return None
    values: dict[str, Fact] = {
        "steel": name,
        "value": kept.value,
        "low": kept.low,
        "high": kept.high,
        "to_c": float(rule["to_c"]),
    }
    code = "cold-retained" if computed else "cold-remembered"
    return ColdTreatment(float(rule["to_c"]), float(rule["hold_min"]), name, kept, Reason(code, values))


def _remembered(layer: CycleLayer) -> Estimate | None:
    rule = cycle_numbers("cold_treatment")
    share = layer.rich_in_chromium * ramp(layer.composition["C"], rule["high_alloy_from_c_wt"])
    if share <= 0.0:
        return None
    low, high = (share * end for end in rule["high_alloy_retained_frac"])
    return Estimate(0.5 * (low + high), low, high)
