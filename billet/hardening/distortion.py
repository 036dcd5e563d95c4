"""Neighbours that start to become martensite far apart, or never: cracks and warping. (practice)"""

from billet.contract.values import Estimate, Fact, Finding, Reason
from billet.hardening.layer import LayerSteel, is_austenitic
from billet.tables.practice import decision_numbers

MOST_LAYERS_TO_BOW = 9
"""A stack of more layers is near enough alike on both sides."""


def distortion_findings(layers: tuple[LayerSteel, ...], ms_c: dict[str, Estimate | None]) -> list[Finding]:
    """What to do at the quench where the layers of a bar do not change at the same temperature."""
    limits = decision_numbers("crack")
    known = {name: ms.value for name, ms in ms_c.items() if ms is not None}
    soft = tuple(layer.name for layer in layers if layer.role == "soft")
    never = tuple(layer.name for layer in layers if layer.role == "soft" and is_austenitic(layer.composition))
    hard = tuple(layer.name for layer in layers if layer.role != "soft")
    if not hard:
        return []
    apart_k = max(known.values()) - min(known.values()) if len(known) > 1 else 0.0
    low_c, high_c = limits["out_of_oil_c"]
    care: dict[str, Fact] = {
        "out_low_c": low_c,
        "out_high_c": high_c,
        "temper_within_min": limits["temper_within_min"],
    }
    if apart_k > limits["ms_apart_caution_k"]:
        return [Finding(Reason("ms-far-apart", {"apart_k": apart_k, **care}), "caution", "hardening")]
    if soft:
        values: dict[str, Fact] = {"soft": soft, "hard": hard, "never": soft == never, **care}
        return [Finding(Reason("never-transforms", values), "caution", "hardening")]
    if apart_k > limits["ms_apart_note_k"]:
        return [Finding(Reason("ms-apart", {"apart_k": apart_k, **care}), "note", "hardening")]
    return []


def one_sided_findings(sequence: tuple[str, ...]) -> list[Finding]:
    """A stack that is not the same seen from above and below bows in the quench."""
    if len(sequence) < 2 or sequence == sequence[::-1] or len(sequence) > MOST_LAYERS_TO_BOW:
        return []
    return [Finding(Reason("one-sided", {"layers": len(sequence)}), "caution", "hardening")]
