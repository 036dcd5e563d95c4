"""Verdicts of a pair beside hardening, each by itself: weld, oil, start of martensite, contrast."""

import math
from collections.abc import Sequence

import numpy as np

from billet.contract.partners import PairContrast, PairMs, PairOil, PairVerdict, PairWeld
from billet.contract.values import Fact, Grade, Reason
from billet.diffusion.contrast import etch_weight
from billet.forging.burning import BurningLimit, burning_limit
from billet.hardening.layer import is_high_alloy
from billet.hardening.media_ranking import medium_name
from billet.hardening.quench_grades import GRADES
from billet.tables.practice import decision_numbers
from billet.tables.wish import wish_numbers
from billet.wish.pair_judge import PairJudge, worse
from billet.wish.pairs import never_hardens

ELEMENTS = ("Ni", "Cr", "Mn", "Si", "W", "Mo", "V", "Co")
"""Metals that stay in their layer and mark it in an etch."""


def weld_verdict(one: PairJudge, i: int) -> PairWeld:
    """Forging range and burning limit of the two, and what chromium asks of the fire."""
    both, numbers = one.both(i), wish_numbers("partners")
    ranges = [(s.grade.forge_c, s.name) for s in both if s.grade is not None and s.grade.forge_c is not None]
    most = {s.name: max(s.analysis["C"], float(one.pairs.carbon_wt[k, i])) for k, s in enumerate(both)}
    burning = burning_limit({s.name: s.analysis for s in both}, most)
    verdict, reasons, shared = _forging(ranges, burning, numbers)
    rich = tuple(s.name for s in both if s.analysis["Cr"] > decision_numbers("burning")["borax_most_cr_wt"])
    if rich:
        verdict = worse(verdict, "works")
        reasons.append(Reason("pair-weld-chromium", {"steels": rich}))
    if len(ranges) < 2:
        known = {name for _, name in ranges}
        untold = tuple(s.name for s in both if s.name not in known)
        reasons.append(Reason("pair-forge-untold", {"steels": untold}))
    reasons.append(Reason("pair-burns", {"steel": burning.steel, "burns_c": burning.limit_c}))
    return PairWeld(verdict, tuple(reasons), forge_c=shared, burns_c=burning.limit_c)


def _forging(
    ranges: Sequence[tuple[tuple[float, float], str]], burning: BurningLimit, numbers: dict[str, float]
) -> tuple[PairVerdict, list[Reason], tuple[float, float] | None]:
    """The range in which both forge; it ends where the first of them burns."""
    if not ranges:
        return "unknown", [], None
    low, low_by = max((r[0], name) for r, name in ranges)
    high, high_by = min((r[1], name) for r, name in ranges)
    burns = burning.limit_c < high
    if burns:
        high, high_by = burning.limit_c, burning.steel
    values: dict[str, Fact] = {
        "low_c": low, "high_c": high, "low_by": low_by, "high_by": high_by, "burns": burns,
    }  # fmt: skip
    if high - low < numbers["forging_works_k"]:
        return "no", [Reason("pair-forge-none", values)], (low, high) if high > low else None
    narrow = high - low < numbers["forging_good_k"]
    code = "pair-forge-narrow" if narrow else "pair-forge-wide"
    return "works" if narrow else "good", [Reason(code, values)], (low, high)


def oil_verdict(one: PairJudge, i: int) -> PairOil:
    """The bath for both: the smith's own oils first, then the class that suits."""
    if not one.pairs.decided.has_window[i]:
        return PairOil("no", (Reason("pair-oil-no-heat"),))
    quench, both = one.quench, one.both(i)
    medium = medium_name(int(quench.place[i]), one.pairs.section.thickness_mm)
    grade: Grade = _GRADE_OF[int(quench.grade[i])]
    verdict: PairVerdict = worse(grade, "works") if bool(quench.compromise[i]) else grade
    reasons = [Reason(f"pair-oil-{grade}", {"medium": medium, "section_mm": one.pairs.section.thickness_mm})]
    for k, steel in enumerate(both):
        if quench.cracks[k, i]:
            reasons.append(Reason("pair-oil-cracks", {"steel": steel.name, "medium": medium}))
        if quench.softer[k, i] and steel.name not in one.soft(i):
            reasons.append(Reason("pair-oil-softer", {"steel": steel.name, "medium": medium}))
    best = max(one.own, key=lambda oil: oil.rank(i), default=None)
    if best is None:
        return PairOil(verdict, tuple(reasons), medium=medium)
    own_grade: Grade = _GRADE_OF[int(best.grade[i])]
    mine = [Reason(f"pair-own-oil-{own_grade}", {"oil": best.oil.name})]
    harsh = tuple(s.name for k, s in enumerate(both) if best.too_fast[k, i] and s.name not in one.soft(i))
    if harsh:
        mine.append(Reason("pair-own-oil-fast", {"oil": best.oil.name, "steels": harsh}))
    own_verdict: PairVerdict = worse(own_grade, "works") if harsh else own_grade
    return PairOil(own_verdict, (*mine, *reasons), medium=medium, own=best.oil.name, own_grade=own_grade)


_GRADE_OF: tuple[Grade, ...] = ("no", "works", "good")
assert _GRADE_OF == GRADES


def ms_verdict(one: PairJudge, i: int) -> PairMs:
    """How far apart the two become martensite, by the limits of a plan.

    The band is that of the difference of two starts, each off by what the formula is off by itself.
    """
    both, limits = one.both(i), decision_numbers("crack")
    never = tuple(steel.name for steel in both if never_hardens(steel))
    if never:
        return PairMs("works", (Reason("pair-ms-never", {"steels": never}),))
    if one.soft(i):
        return PairMs("works", (Reason("pair-ms-soft", {"steels": one.soft(i)}),))
    rich = tuple(steel.name for steel in both if is_high_alloy(steel.analysis))
    if rich or not np.isfinite(one.pairs.decided.heat_c[i]):
        return PairMs("unknown", (Reason("pair-ms-unknown", {"steels": rich}),))
    first, second = (float(state.ms_c[i]) for state in one.pairs.state)
    apart = abs(first - second)
    off_k = math.sqrt(2.0) * float(decision_numbers("state")["ms_error_k"])
    band = (max(apart - off_k, 0.0), apart + off_k)
    verdict: PairVerdict = "good" if apart <= limits["ms_apart_note_k"] else "works"
    verdict = verdict if apart <= limits["ms_apart_caution_k"] else "no"
    higher = both[0 if first >= second else 1].name
    told: dict[str, Fact] = {
        "apart_k": apart, "low_k": band[0], "high_k": band[1], "higher": higher,
    }  # fmt: skip
    return PairMs(verdict, (Reason(f"pair-ms-{verdict}", told),), apart_k=apart, apart_band_k=band)


def contrast_verdict(one: PairJudge, i: int) -> PairContrast:
    """What shows in an etch once carbon is level: the metals that stay."""
    first, second = one.both(i)
    limits = decision_numbers("pattern")
    apart = {e: abs(first.analysis[e] - second.analysis[e]) for e in ELEMENTS}
    main = max(ELEMENTS, key=lambda e: etch_weight(e) * apart[e])
    shown = etch_weight(main) * apart[main]
    strong, clear = limits["strong_ni_wt"], limits["clear_ni_wt"]
    verdict: PairVerdict = "good" if shown >= strong else "works" if shown >= clear else "no"
    more = first.name if first.analysis[main] > second.analysis[main] else second.name
    values: dict[str, Fact] = {"element": main, "difference_wt": apart[main], "more": more}
    if apart[main] <= 0.0:
        return PairContrast("no", (Reason("pair-contrast-none"),))
    return PairContrast(
        verdict, (Reason(f"pair-contrast-{verdict}", values),), element=main, difference_wt=apart[main]
    )
