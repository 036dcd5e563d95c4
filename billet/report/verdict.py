"""Why the verdict is what it is, and what each layer suffers at the least bad heat."""

from billet.contract.values import Fact, Reason
from billet.hardening.austenitising_window import SteelWindow
from billet.hardening.decision import HardeningDecision
from billet.hardening.layer import LayerSteel


def verdict_reason(judged: HardeningDecision) -> Reason:
    """Why the steels share a window, or do not."""
    none = judged.none_because
    if none == "soft":
        return Reason("nothing-hardens")
    if none == "unknown":
        return _unknown(judged)
    found = judged.joint.window
    names = tuple(layer.name for layer in judged.layers if layer.role != "soft")
    values: dict[str, Fact] = {
        "steels": names,
        "least": float(found.least[0]),
        "best_c": float(found.best_c[0]),
        "low_set_by": judged.low_set_by,
        "high_set_by": judged.high_set_by,
        "gap_k": float(found.gap_k[0]),
    }
    if none == "gap":
        return Reason("ranges-miss", values)
    if len(names) == 1:
        return Reason("one-steel", values)
    return Reason("ranges-meet" if judged.verdict == "shared" else "no-good-for-all", values)


def _unknown(judged: HardeningDecision) -> Reason:
    unknown = judged.joint.unknown[:, 0]
    place = int(unknown.argmax())
    why = judged.windows[place].unknown_because
    name = judged.layers[place].name
    if why is None:
        return Reason("no-range-near", {"steel": name, "carbon_wt": judged.layers[place].composition["C"]})
    return Reason(why.code, {**why.values, "steel": name})


def suffers(layer: LayerSteel, window: SteelWindow, heat_c: float) -> Reason:
    """What a heat outside the bar's common ranges does to one layer."""
    possible = window.possible
    if layer.role == "soft":
        return Reason("suffers-nothing")
    if possible is None:
        return Reason("suffers-unknown")
    if heat_c < possible.low.c:
        return Reason("suffers-cold", {"by_k": possible.low.c - heat_c})
    if heat_c > possible.high.c:
        return Reason("suffers-hot", {"by_k": heat_c - possible.high.c})
    return Reason("suffers-little")
