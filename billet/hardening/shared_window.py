"""One window out of several: shared, narrow, or none - and why."""

from dataclasses import dataclass, replace
from itertools import product

from billet import wording
from billet.contract.report import NoneBecause, Verdict
from billet.hardening.austenitising_window import AustenitisingWindow, SteelWindow, WindowEnd
from billet.hardening.layer import LayerSteel
from billet.tables.practice import decision_numbers


@dataclass(frozen=True)
class SharedWindow:
    """The bar's window. `off_preferred`: steels that are taken outside their preferred range."""

    verdict: Verdict
    none_because: NoneBecause | None
    window: AustenitisingWindow | None
    low_set_by: str | None
    high_set_by: str | None
    gap_k: float | None
    off_preferred: tuple[str, ...]
    because: str


@dataclass(frozen=True)
class _Meeting:
    low: tuple[WindowEnd, str]
    high: tuple[WindowEnd, str]
    stretched: tuple[str, ...]

    @property
    def width_k(self) -> float:
        return self.high[0].c - self.low[0].c


def shared_window(layers: tuple[LayerSteel, ...], windows: tuple[SteelWindow, ...]) -> SharedWindow:
    """Find the window that every hardening layer of the blade can take.

    Soft layers limit nothing. A layer that hardens in part limits only by its possible window, and
    never turns a shared window into none. Windows come in the order of the layers.
    """
    hardening = [w for layer, w in zip(layers, windows, strict=True) if layer.role == "hardens"]
    partly = [w for layer, w in zip(layers, windows, strict=True) if layer.role == "partly"]
    if not hardening:
        hardening, partly = partly, []
    if not hardening:
        why = "no layer has the carbon to harden: the bar stays soft"
        return SharedWindow("none", "soft", None, None, None, None, (), why)
    unknown = [w for w in hardening if w.preferred is None]
    if unknown:
        names = ", ".join(w.steel for w in unknown)
        why = f"{names}: {unknown[0].unknown_because}"
        return SharedWindow("none", "unknown", None, None, None, None, (), why)
    return _with_partly(_of_hardening(hardening), partly)


def _of_hardening(windows: list[SteelWindow]) -> SharedWindow:
    limits = decision_numbers("window")
    meeting = _meet([(w.steel, w.preferred, False) for w in windows])
    if meeting.width_k >= limits["shared_overlap_k"] and not any(w.uneven for w in windows):
        return _agreement("shared", meeting, _why_shared(windows))
    stretched = _least_stretched(windows)
    if stretched is not None:
        return _agreement("narrow", stretched, _why_narrow(stretched, meeting, windows))
    apart = _meet([(w.steel, w.possible, True) for w in windows])
    gap = -apart.width_k
    why = (
        f"the windows miss each other by {wording.difference(gap)}: {apart.low[1]} needs at least "
        f"{wording.temperature(apart.low[0].c)}, {apart.high[1]} takes at most "
        f"{wording.temperature(apart.high[0].c)}"
    )
    return SharedWindow("none", "gap", None, apart.low[1], apart.high[1], gap, (), why)


def _meet(parts: list[tuple[str, AustenitisingWindow | None, bool]]) -> _Meeting:
    present = [(name, window, stretched) for name, window, stretched in parts if window is not None]
    low = max(((w.low, name) for name, w, _ in present), key=lambda item: item[0].c)
    high = min(((w.high, name) for name, w, _ in present), key=lambda item: item[0].c)
    return _Meeting(low, high, tuple(name for name, _, is_stretched in present if is_stretched))


def _least_stretched(windows: list[SteelWindow]) -> _Meeting | None:
    """The meeting that takes the fewest steels off their preferred window, the widest of those."""
    least = decision_numbers("window")["shared_overlap_k"]
    best: _Meeting | None = None
    for choice in product((False, True), repeat=len(windows)):
        parts = [
            (w.steel, w.possible if off else w.preferred, off) for w, off in zip(windows, choice, strict=True)
        ]
        meeting = _meet(parts)
        if meeting.width_k > 0.0 and (best is None or _rank(meeting, least) > _rank(best, least)):
            best = meeting
    return best


def _rank(meeting: _Meeting, least_k: float) -> tuple[bool, int, float]:
    return meeting.width_k >= least_k, -len(meeting.stretched), meeting.width_k


def _agreement(verdict: Verdict, meeting: _Meeting, why: str) -> SharedWindow:
    window = AustenitisingWindow(meeting.low[0], meeting.high[0])
    return SharedWindow(verdict, None, window, meeting.low[1], meeting.high[1], None, meeting.stretched, why)


def _why_shared(windows: list[SteelWindow]) -> str:
    if len(windows) == 1:
        return f"only {windows[0].steel} hardens: its own window holds"
    return "the preferred windows of the hardening steels overlap"


def _why_narrow(stretched: _Meeting, preferred: _Meeting, windows: list[SteelWindow]) -> str:
    uneven = [w.steel for w in windows if w.uneven]
    if len(windows) == 1:
        start = f"carbon inside {windows[0].steel} differs too much for one preferred window"
        if not stretched.stretched:
            return f"{start}; it is drawn at the mean"
        return f"{start}: this is as far as it can be taken, not where it is best"
    if uneven and preferred.width_k >= decision_numbers("window")["shared_overlap_k"]:
        names = " and ".join(uneven)
        return f"carbon inside {names} is too uneven for one preferred window; it is drawn at the mean"
    if preferred.width_k >= 0.0:
        short = f"the preferred windows overlap by only {wording.difference(preferred.width_k)}"
    else:
        short = f"the preferred windows miss each other by {wording.difference(-preferred.width_k)}"
    if not stretched.stretched:
        return short
    names = " and ".join(stretched.stretched)
    verb, can = ("is", "it") if len(stretched.stretched) == 1 else ("are", "they")
    return f"{short}; {names} {verb} taken outside the preferred range, still inside what {can} can take"


def _with_partly(agreement: SharedWindow, partly: list[SteelWindow]) -> SharedWindow:
    """Let layers that harden only in part narrow the window, where they can without closing it."""
    window = agreement.window
    if window is None:
        return agreement
    for steel in partly:
        if steel.possible is None:
            why = f"{agreement.because}; {steel.steel} hardens in part: {steel.unknown_because}"
            agreement = replace(agreement, verdict="narrow", because=why)
            continue
        low = max((window.low, steel.possible.low), key=lambda end: end.c)
        named = (steel.steel,) if steel.steel not in agreement.off_preferred else ()
        if low.c < window.high.c and low is not window.low:
            window = AustenitisingWindow(low, window.high)
            why = f"{agreement.because}; {steel.steel} hardens in part and raises the low end"
            agreement = SharedWindow(
                "narrow"
                if window.width_k < decision_numbers("window")["shared_overlap_k"]
                else agreement.verdict,
                None,
                window,
                steel.steel,
                agreement.high_set_by,
                None,
                agreement.off_preferred + named,
                why,
            )
        elif low.c >= window.high.c:
            asks = f"{steel.steel} hardens in part and asks for more heat than the bar takes"
            why = f"{agreement.because}; {asks}"
            agreement = SharedWindow(
                "narrow",
                None,
                window,
                agreement.low_set_by,
                agreement.high_set_by,
                None,
                agreement.off_preferred + named,
                why,
            )
    return agreement
