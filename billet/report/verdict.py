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
        "set_c": judged.set_point_c,
        "low_set_by": judged.low_set_by,
        "high_set_by": judged.high_set_by,
        "gap_k": float(found.gap_k[0]),
    }
    if none == "gap":
        return Reason("ranges-miss", {**values, **_apart(judged)})
    if len(names) == 1:
        return Reason("one-steel", values)
    return Reason("ranges-meet" if judged.verdict == "shared" else "no-good-for-all", values)


def _apart(judged: HardeningDecision) -> dict[str, Fact]:
    """The steel that needs the most heat and the one that takes the least, by what they can be taken to."""
    told = [w for layer, w in zip(judged.layers, judged.windows, strict=True) if layer.role != "soft"]
    ends = [(w.possible.low.c, w.possible.high.c, w.steel) for w in told if w.possible is not None]
    if not ends:
        return {}
    needs, takes = max(ends, key=lambda e: e[0]), min(ends, key=lambda e: e[1])
    return {"needs": needs[2], "needs_c": needs[0], "takes": takes[2], "takes_c": takes[1]}


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
