"""Neighbours that start to become martensite far apart, or never: cracks and warping. (practice)"""

from billet import wording
from billet.contract.report import Estimate, Notice
from billet.hardening.layer import LayerSteel, is_austenitic
from billet.tables.practice import decision_numbers


def distortion_notices(layers: tuple[LayerSteel, ...], ms_c: dict[str, Estimate | None]) -> list[Notice]:
    """What to do at the quench where the layers of a bar do not change at the same temperature."""
    limits = decision_numbers("crack")
    known = {name: ms.value for name, ms in ms_c.items() if ms is not None}
    soft = [layer.name for layer in layers if layer.role == "soft"]
    never = [layer.name for layer in layers if layer.role == "soft" and is_austenitic(layer.composition)]
    hard = [layer.name for layer in layers if layer.role != "soft"]
    if not hard:
        return []
    apart_k = max(known.values()) - min(known.values()) if len(known) > 1 else 0.0
    low, high = limits["out_of_oil_c"]
    care = (
        f"take the blade out of the oil at {wording.temperature_range(low, high)}, straighten it while warm, "
        f"temper within {wording.minutes(limits['temper_within_min'])}"
    )
    if apart_k > limits["ms_apart_caution_k"]:
        apart = wording.difference(apart_k)
        text = f"martensite starts {apart} apart in the layers: likely to bow or part; {care}"
        return [Notice("ms-far-apart", "caution", "hardening", text)]
    if soft:
        becomes = "never becomes" if soft == never else "becomes little or no"
        text = f"{', '.join(soft)} {becomes} martensite beside {', '.join(hard)}: the bar may warp; {care}"
        return [Notice("never-transforms", "caution", "hardening", text)]
    if apart_k > limits["ms_apart_note_k"]:
        text = f"martensite starts {wording.difference(apart_k)} apart in the layers: {care}"
        return [Notice("ms-apart", "note", "hardening", text)]
    return []


def one_sided_notice(sequence: tuple[str, ...]) -> list[Notice]:
    """A stack that is not the same seen from above and below bows in the quench."""
    if len(sequence) < 2 or sequence == sequence[::-1] or len(sequence) > 9:
        return []
    text = (
        "the few layers do not lie alike about the middle: the blade is likely to bow towards one side; "
        "straighten it while warm and temper at once"
    )
    return [Notice("one-sided", "caution", "hardening", text)]
