"""Hardness as quenched where nothing is computed: what is printed for the grade, and where that ends."""

from billet.contract.values import Estimate, Finding, Reason
from billet.diffusion.activity_law import SINK_CR_WT
from billet.hardening.layer import LayerSteel, is_high_alloy
from billet.tables.practice import decision_numbers

DRIFT_WT = 0.05


def published_hrc(layer: LayerSteel, heat_c: float | None) -> Estimate | None:
    """As-quenched hardness printed for a high-alloy grade, +-2 HRC, where the heat lies in its hull."""
    grade = layer.grade
    if (
        heat_c is None
        or grade is None
        or grade.published_envelope_c is None
        or not is_high_alloy(layer.composition)
    ):
        return None
    if not grade.published_envelope_c[0] <= heat_c <= grade.published_envelope_c[1]:
        return None
    printed = [hrc for row in grade.hardening if not row.outlier for hrc, at in row.hardness if at is None]
    if not printed:
        return None
    band = decision_numbers("temper")["band_hrc"]
    return Estimate(sum(printed) / len(printed), min(printed) - band, max(printed) + band)


def drift_findings(layers: tuple[LayerSteel, ...]) -> list[Finding]:
    """High-alloy layers whose carbon has left the limits of their grade: the published range may not hold."""
    found = []
    for layer in layers:
        if layer.role == "soft" or layer.grade is None or layer.composition["Cr"] <= SINK_CR_WT:
            continue
        low, high = layer.grade.carbon_wt
        mean = layer.carbon.mean
        if low - DRIFT_WT <= mean <= high + DRIFT_WT:
            continue
        reason = Reason(
            "carbon-left-the-grade",
            {"steel": layer.name, "carbon_wt": mean, "low_wt": low, "high_wt": high},
        )
        found.append(Finding(reason, "limit", f"steels.{layer.name}"))
    return found
