"""Whether a pair hardens together, once its carbon has evened out."""

import numpy as np

from billet import written
from billet.contract.partners import PairHardening, PairVerdict
from billet.contract.values import Fact, Grade, NoneBecause, Reason
from billet.hardening.joint_decision import JointDecision
from billet.hardening.set_point import grade_of
from billet.tables.wish import wish_numbers
from billet.wish.pair_judge import PairJudge, worse


def hardening_verdict(one: PairJudge, i: int, half_width_k: float) -> PairHardening:
    """One heat for both, with the fire that was told."""
    decided, window = one.pairs.decided, one.pairs.decided.window
    none = decided.none_because(i)
    names = [steel.name for steel in one.both(i)]
    if none is not None:
        return _no_heat(one, i, none)
    grade: Grade = grade_of(float(one.loss[i]))
    soft, shared = one.soft(i), bool(window.shared[i])
    verdict: PairVerdict = worse(grade, "good" if shared and not soft else "works")
    good_k, works_k = written.k_below(float(one.good_k[i])), written.k_below(float(one.works_k[i]))
    told: dict[str, Fact] = {
        "low_c": float(window.low_c[i]), "high_c": float(window.high_c[i]),
        "set_c": float(decided.point.c[i]), "good_k": good_k,
        "works_k": works_k, "half_width_k": half_width_k,
        "low_by": names[int(window.low_set_by[i])], "high_by": names[int(window.high_set_by[i])],
    }  # fmt: skip
    code = "pair-shared" if shared else "pair-narrow"
    reasons = [_carbon(one, i), Reason(code, told)]
    if half_width_k > 0.0:
        reasons.append(Reason(f"pair-fire-{grade}", told))
    if soft:
        reasons.append(Reason("pair-one-soft", {"steels": soft}))
    return PairHardening(
        verdict,
        tuple(reasons),
        grade=grade,
        window_c=(float(window.low_c[i]), float(window.high_c[i])),
        works_c=(float(window.works_low_c[i]), float(window.works_high_c[i])),
        set_point_c=float(decided.point.c[i]),
        good_within_k=good_k,
        works_within_k=works_k,
    )


def _no_heat(one: PairJudge, i: int, none: NoneBecause) -> PairHardening:
    """Why there is no one heat; where a range is not known with level carbon, what the ranges say of the
    steels as they are bought."""
    decided, supplied = one.pairs.decided, one.pairs.as_supplied
    names = [steel.name for steel in one.both(i)]
    if none == "gap":
        reasons = (_carbon(one, i), _gap(one, i, decided, i))
        return PairHardening("no", reasons, none_because=none, gap_k=float(decided.window.gap_k[i]))
    if none == "soft":
        soft = Reason("pair-soft", {"steels": tuple(names)})
        return PairHardening("no", (_carbon(one, i), soft), none_because=none)
    unknown = tuple(n for k, n in enumerate(names) if decided.unknown[k, i])
    told = [_carbon(one, i), Reason("pair-unknown", {"steels": unknown})]
    sample = -1 if supplied is None else supplied.place.get(i, -1)
    if supplied is None or sample < 0 or supplied.decided.none_because(sample) != "gap":
        return PairHardening("unknown", tuple(told), none_because=none)
    told.append(Reason("pair-gap-supplied", _gap(one, i, supplied.decided, sample).values))
    return PairHardening("no", tuple(told), none_because=none)


def _carbon(one: PairJudge, i: int) -> Reason:
    """What each holds once carbon is level, and whether the other drains it."""
    first, second = one.both(i)
    level = [float(c) for c in one.pairs.carbon_wt[:, i]]
    least = int(np.argmin(level))
    poor, rich = one.both(i)[least], one.both(i)[1 - least]
    values: dict[str, Fact] = {
        "first": first.name, "first_wt": level[0], "second": second.name, "second_wt": level[1],
        "poor": poor.name, "rich": rich.name, "from_wt": poor.analysis["C"], "to_wt": level[least],
    }  # fmt: skip
    drained = rich.analysis["Cr"] > poor.analysis["Cr"] and (
        level[least] < wish_numbers("partners")["drained_share"] * poor.analysis["C"]
    )
    code = "pair-drained" if drained else "pair-level"
    return Reason(code, values)


def _gap(one: PairJudge, i: int, decided: JointDecision, sample: int) -> Reason:
    ranges, names = decided.ranges, [steel.name for steel in one.both(i)]
    gap_k = float(decided.window.gap_k[sample])
    cold = int(np.argmin([float(r.possible_high_c[sample]) for r in ranges]))
    return Reason(
        "pair-gap",
        {
            "gap_k": gap_k,
            "cold": names[cold],
            "hot": names[1 - cold],
            "cold_to_c": float(ranges[cold].possible_high_c[sample]),
            "hot_from_c": float(ranges[1 - cold].possible_low_c[sample]),
        },
    )
