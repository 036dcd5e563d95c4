"""The hardening window of one steel: its published range, moved by what forging did to it."""

from collections.abc import Callable
from dataclasses import dataclass

from billet import wording
from billet.composition import Composition
from billet.contract.report import Range
from billet.formulas.equilibrium import CriticalLines, critical_lines, equilibrium_state
from billet.hardening.layer import (
    LayerSteel,
    beyond_every_window,
    forms_alloy_carbide,
    is_high_alloy,
)
from billet.hardening.plain_carbon_line import plain_carbon_range_c, range_without_publication_c
from billet.tables.practice import decision_numbers
from billet.tables.sources import source
from billet.tables.steels import HardeningRow

SEARCH_STEP_K = 1.0
OWN_CONSTRUCTION = "own-construction"
SEARCH_TOP_C = 1000.0


@dataclass(frozen=True)
class WindowEnd:
    """One end of a window and the reason for it."""

    c: float
    because: str


@dataclass(frozen=True)
class AustenitisingWindow:
    low: WindowEnd
    high: WindowEnd

    @property
    def width_k(self) -> float:
        return self.high.c - self.low.c

    @property
    def range_c(self) -> Range:
        return self.low.c, self.high.c


@dataclass(frozen=True)
class PublishedRange:
    """The published range that a window starts from."""

    range_c: Range
    published_envelope_c: Range
    source: str
    basis: str

    @property
    def told(self) -> str:
        """How the range is known, in words that follow "low end" or "top"."""
        if self.basis == "own":
            return "as the recipe gives it"
        if self.source == OWN_CONSTRUCTION:
            return "by our own construction from printed figures"
        how = "as remembered" if self.basis == "memory" else "as published"
        return f"{how} ({source(self.source).short})"


@dataclass(frozen=True)
class SteelWindow:
    """What is known of where one steel hardens. `preferred` None: no range can be given."""

    steel: str
    supplied: PublishedRange | None
    preferred: AustenitisingWindow | None
    possible: AustenitisingWindow | None
    lines: CriticalLines | None
    uneven: bool
    unknown_because: str | None


def steel_window(layer: LayerSteel, row: HardeningRow | None = None) -> SteelWindow:
    """Preferred and possible window of a steel at the carbon it has inside the blade.

    `row` takes another published row of the grade in place of the one that is worked with.
    """
    supplied = supplied_range(layer, row)
    high_alloy = is_high_alloy(layer.composition)
    lines = None if high_alloy else critical_lines(layer.composition)
    why = no_window_because(layer, supplied)
    if why is not None:
        return SteelWindow(layer.name, supplied, None, None, None, False, why)
    gone = _left_the_grade(layer) if layer.harden_c is None else None
    if gone is not None:
        return SteelWindow(layer.name, supplied, None, None, None, False, gone)
    carbons = (layer.carbon.p10, layer.carbon.p90)
    preferred, uneven = _both_ends(carbons, layer.carbon.mean, lambda c: _preferred(layer, supplied, c))
    possible, _ = _both_ends(carbons, layer.carbon.mean, lambda c: _possible(layer, supplied, c, preferred))
    return SteelWindow(layer.name, supplied, preferred, possible, lines, uneven, None)


def no_window_because(layer: LayerSteel, supplied: PublishedRange | None) -> str | None:
    """Why no window can be told from the analysis alone; None where one can."""
    if layer.harden_c is not None:
        return None
    if is_high_alloy(layer.composition):
        if supplied is not None:
            return None
        return "no published range, and none is computed over 5 % chromium or 2 % W + Mo + V: give harden_c"
    beyond = beyond_every_window(layer.composition)
    if not beyond:
        return None
    told = " and ".join(f"{wording.wt(layer.composition[e])} {e}" for e in beyond)
    return f"{told} lies far outside every steel this was tested on, so no window is computed: give harden_c"


def _left_the_grade(layer: LayerSteel) -> str | None:
    """Why a published range of a high-chromium grade no longer holds; None where it does."""
    limits = decision_numbers("window")
    if layer.grade is None or layer.composition["Cr"] <= limits["no_window_cr_wt"]:
        return None
    off_wt = limits["high_alloy_carbon_off_wt"]
    low, high = layer.grade.carbon_wt
    if low - off_wt <= layer.carbon.mean <= high + off_wt:
        return None
    return (
        f"it ends at {wording.wt(layer.carbon.mean)} carbon, far outside its grade's {wording.wt(low)} to "
        f"{wording.wt(high)}, and over 5 % chromium no window is computed: give harden_c after a test piece"
    )


def supplied_range(layer: LayerSteel, row: HardeningRow | None = None) -> PublishedRange | None:
    """The recipe's own harden_c, else the given or the working published row of the grade, else None."""
    if layer.harden_c is not None:
        return PublishedRange(layer.harden_c, layer.harden_c, "the recipe's own harden_c", "own")
    if row is None and layer.grade is not None:
        row = layer.grade.working_from(layer.start)
    if layer.grade is None or row is None or row.window_c is None:
        return None
    window = row.window_c
    hull = layer.grade.published_envelope_c or window
    basis = "published" if row.seen == "print" else "memory"
    return PublishedRange(window, hull, row.source, basis)


def _both_ends(
    carbons: tuple[float, float], mean: float, window_at: Callable[[float], AustenitisingWindow]
) -> tuple[AustenitisingWindow, bool]:
    """Low end from one percentile of carbon, high end from the other; at the mean where they cross."""
    first, second = (window_at(c) for c in carbons)
    low = max(first.low, second.low, key=lambda end: end.c)
    high = min(first.high, second.high, key=lambda end: end.c)
    if low.c < high.c:
        return AustenitisingWindow(low, high), False
    return window_at(mean), True


def _preferred(layer: LayerSteel, supplied: PublishedRange | None, carbon_wt: float) -> AustenitisingWindow:
    if supplied is None:
        return _without_publication(layer, carbon_wt)
    if is_high_alloy(layer.composition):
        return _as_published(supplied)
    low_k, high_k = _moved_by_carbon(layer.supplied["C"], carbon_wt)
    if not forms_alloy_carbide(layer.supplied):
        low = WindowEnd(supplied.range_c[0] + low_k, _moved_words("low end", supplied, low_k, carbon_wt))
        high = WindowEnd(supplied.range_c[1] + high_k, _moved_words("top", supplied, high_k, carbon_wt))
        return _above_ae3(layer, carbon_wt, AustenitisingWindow(low, high))
    return _above_ae3(layer, carbon_wt, _carbide_window(layer, supplied, carbon_wt, low_k, high_k))


def _as_published(supplied: PublishedRange) -> AustenitisingWindow:
    low, high = supplied.range_c
    return AustenitisingWindow(
        WindowEnd(low, f"low end {supplied.told}"),
        WindowEnd(high, f"top {supplied.told}"),
    )


def _without_publication(layer: LayerSteel, carbon_wt: float) -> AustenitisingWindow:
    low, high = range_without_publication_c(layer.at_carbon(carbon_wt))
    band = wording.difference(decision_numbers("window")["unknown_band_k"])
    why = f"no published range: line of the plain steels moved by this analysis, good to \u00b1{band}"
    return _above_ae3(layer, carbon_wt, AustenitisingWindow(WindowEnd(low, why), WindowEnd(high, why)))


def _moved_by_carbon(start_wt: float, now_wt: float) -> tuple[float, float]:
    (low0, high0), (low1, high1) = plain_carbon_range_c(start_wt), plain_carbon_range_c(now_wt)
    return low1 - low0, high1 - high0


def _moved_words(which: str, supplied: PublishedRange, by_k: float, carbon_wt: float) -> str:
    if abs(by_k) < 0.5:
        return f"{which} {supplied.told}"
    verb = "raised" if by_k > 0 else "lowered"
    return (
        f"{which} {supplied.told}, {verb} by {wording.difference(abs(by_k))} "
        f"for {wording.wt(carbon_wt)} carbon"
    )


def _carbide_window(
    layer: LayerSteel, supplied: PublishedRange, carbon_wt: float, low_k: float, high_k: float
) -> AustenitisingWindow:
    """Steels with alloyed carbide in their range: the low end hardly moves, the top has three bounds."""
    limits = decision_numbers("window")
    stay = limits["carbide_low_moves_k"]
    held_k = max(-stay, min(stay, low_k))
    low = WindowEnd(supplied.range_c[0] + held_k, _moved_words("low end", supplied, held_k, carbon_wt))
    tops = [WindowEnd(supplied.range_c[1] + high_k, _moved_words("top", supplied, high_k, carbon_wt))]
    published = equilibrium_state(layer.supplied, supplied.range_c[1])
    least_c = low.c + limits["carbide_least_width_k"]
    if published.carbide >= limits["carbide_left_frac"]:
        now = layer.at_carbon(carbon_wt)
        tops.append(_top_of_pinning(now, least_c, limits["carbide_left_frac"]))
        tops.append(_top_of_dissolved(now, least_c, published.austenite_wt.get("C", 0.0)))
    return AustenitisingWindow(low, min(tops, key=lambda end: end.c))


def _top_of_pinning(now: Composition, least_c: float, left_frac: float) -> WindowEnd:
    c = _first_above(least_c, lambda t: equilibrium_state(now, t).carbide < left_frac)
    return WindowEnd(c, "top: above it less than 1 % carbide is left to hold the grain")


def _top_of_dissolved(now: Composition, least_c: float, dissolved_wt: float) -> WindowEnd:
    c = _first_above(least_c, lambda t: equilibrium_state(now, t).austenite_wt.get("C", 0.0) > dissolved_wt)
    return WindowEnd(
        c, f"top: above it more than the published top's {wording.wt(dissolved_wt)} carbon dissolves"
    )


def _first_above(least_c: float, reached: Callable[[float], bool]) -> float:
    """The lowest temperature from `least_c` up where a condition that stays true begins. [C]"""
    if reached(least_c):
        return least_c
    low, high = least_c, SEARCH_TOP_C
    if not reached(high):
        return high
    while high - low > SEARCH_STEP_K:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if reached(middle) else (middle, high)
    return low


def _above_ae3(layer: LayerSteel, carbon_wt: float, window: AustenitisingWindow) -> AustenitisingWindow:
    """No end under Ae3 + 15: below it ferrite stays in the blade."""
    ae3_c = critical_lines(layer.at_carbon(carbon_wt)).ae3_c
    if ae3_c is None:
        return window
    least = ae3_c + decision_numbers("window")["least_above_ae3_k"]
    if window.low.c >= least:
        return window
    low = WindowEnd(least, f"15 K above Ae3 at {wording.temperature(ae3_c)}: below it ferrite stays")
    high = window.high if window.high.c > least else WindowEnd(least + 1.0, low.because)
    return AustenitisingWindow(low, high)


def _possible(
    layer: LayerSteel, supplied: PublishedRange | None, carbon_wt: float, preferred: AustenitisingWindow
) -> AustenitisingWindow:
    """As far as the steel can be taken: down to just over its critical line, up to the hull's top."""
    limits = decision_numbers("window")
    alloy = layer.composition
    heavy = alloy["W"] + alloy["Mo"] + alloy["V"]
    hull_alone = alloy["Cr"] > limits["hull_only_cr_wt"] or heavy > limits["hull_only_w_mo_v_wt"]
    if layer.harden_c is not None:
        return preferred
    if supplied is None:
        if hull_alone:
            return preferred
        high = preferred.high
    else:
        high = WindowEnd(
            max(supplied.published_envelope_c[1], preferred.high.c), "highest published top of the grade"
        )
    if supplied is not None and hull_alone:
        low_c = min(supplied.published_envelope_c[0], preferred.low.c)
        return AustenitisingWindow(WindowEnd(low_c, "lowest published low end of the grade"), high)
    lines = critical_lines(layer.at_carbon(carbon_wt))
    if carbon_wt < limits["possible_ae3_below_c_wt"]:
        line, over, name = lines.ae3_c, limits["possible_above_ae3_k"], "Ae3 + 25 K"
    else:
        line, over, name = lines.ae1_c, limits["possible_above_ae1_k"], "Ae1 + 50 K"
    if line is None or line + over >= preferred.low.c:
        return AustenitisingWindow(preferred.low, high)
    return AustenitisingWindow(WindowEnd(line + over, f"{name}, as low as it can be taken"), high)
