"""One window out of several, in every bar, by the rules of `agreement`."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
import numpy.typing as npt

from billet.tables.practice import decision_numbers
from billet.variation.draws import Array
from billet.variation.windows import HARDENS, PARTLY, Mask, Span, WindowsOfBars

NONE, NARROW, SHARED = 0, 1, 2


@dataclass(frozen=True)
class AgreementOfBars:
    """Verdict (NONE, NARROW or SHARED) and window of every bar; nan where there is no window."""

    verdict: npt.NDArray[np.int_]
    low: Array
    high: Array

    @property
    def has_window(self) -> Mask:
        found: Mask = self.verdict != NONE
        return found


def agree_in_bars(windows: Sequence[WindowsOfBars | None], role: npt.NDArray[np.int_]) -> AgreementOfBars:
    """The bar's window wherever there is one. `role`: (steels, bars), as `roles` gives it."""
    hardening, partly = role == HARDENS, role == PARTLY
    alone = ~hardening.any(axis=0)
    hardening, partly = np.where(alone, partly, hardening), np.where(alone, False, partly)
    unknown = np.zeros(role.shape[1], dtype=bool)
    for i, window in enumerate(windows):
        unknown |= hardening[i] if window is None else hardening[i] & ~window.known
    found = _of_hardening(windows, hardening)
    found = _with_partly(found, windows, partly)
    none = unknown | ~hardening.any(axis=0) | (found.verdict == NONE)
    return AgreementOfBars(
        np.where(none, NONE, found.verdict),
        np.where(none, np.nan, found.low),
        np.where(none, np.nan, found.high),
    )


def _of_hardening(windows: Sequence[WindowsOfBars | None], hardening: Mask) -> AgreementOfBars:
    least = decision_numbers("window")["shared_overlap_k"]
    known = [(w, hardening[i]) for i, w in enumerate(windows) if w is not None]
    bars = hardening.shape[1]
    verdict = np.full(bars, NONE)
    low, high, best = np.full(bars, np.nan), np.full(bars, np.nan), np.full(bars, -np.inf)
    uneven = np.zeros(bars, dtype=bool)
    for window, here in known:
        uneven |= window.uneven & here
    choices = sorted(product((False, True), repeat=len(known)), key=lambda choice: sum(choice))
    for choice in choices:
        met = _meet([(w.possible if off else w.preferred, here)
                     for (w, here), off in zip(known, choice, strict=True)], bars)  # fmt: skip
        width = met.high - met.low
        needless = np.zeros(bars, dtype=bool)
        for (_, here), off in zip(known, choice, strict=True):
            needless |= off & ~here
        rank = 1e6 * (width >= least) - 1e4 * sum(choice) + width
        better = (width > 0.0) & (rank > best) & ~needless
        shared = (not any(choice)) & (width >= least) & ~uneven
        verdict = np.where(better, np.where(shared, SHARED, NARROW), verdict)
        low, high = np.where(better, met.low, low), np.where(better, met.high, high)
        best = np.where(better, rank, best)
    return AgreementOfBars(verdict, low, high)


def _meet(parts: Sequence[tuple[Span, Mask]], bars: int) -> Span:
    low, high = np.full(bars, -np.inf), np.full(bars, np.inf)
    for span, here in parts:
        low = np.where(here, np.maximum(low, span.low), low)
        high = np.where(here, np.minimum(high, span.high), high)
    return Span(low, high)


def _with_partly(
    found: AgreementOfBars, windows: Sequence[WindowsOfBars | None], partly: Mask
) -> AgreementOfBars:
    """Layers that harden in part narrow the window where they can without closing it."""
    least = decision_numbers("window")["shared_overlap_k"]
    verdict, low, high = found.verdict, found.low, found.high
    for i, window in enumerate(windows):
        if window is None:
            continue
        here = partly[i] & window.known & (verdict != NONE)
        raised = np.maximum(low, window.possible.low)
        fits = here & (raised < high) & (raised > low)
        closes = here & (raised >= high)
        low = np.where(fits, raised, low)
        verdict = np.where(closes | (fits & (high - low < least)), NARROW, verdict)
    return AgreementOfBars(verdict, low, high)
