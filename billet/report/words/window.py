"""What is told of roles, ranges, window, set point and control."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.headline import HELD_NOWHERE_K
from billet.tables.sources import source

Values = Mapping[str, Any]
END = {"low": "low end", "high": "top"}


def _near(v: Values) -> str:
    name = source(v["source"]).short
    how = "as printed" if v["seen"] == "print" else "as remembered"
    told = (
        f"{END[v['which']]} {wording.temperature(v['c'])}, from the published ranges of like analyses, the "
        f"nearest {wording.temperature(v['printed_c'])} of {v['grade']} at "
        f"{wording.wt(v['grade_carbon_wt'])} carbon, {how} ({name})"
    )
    return f"{told}; this layer hardens with {wording.wt(v['carbon_wt'])}"


def _between(v: Values) -> str:
    band = wording.plus_minus(1.645 * v["sd_k"])
    return (
        f"{END[v['which']]} {wording.temperature(v['c'])}: no range of a like analysis is published, so the "
        f"line of the plain steels ({wording.temperature(v['line_c'])}) is moved by this alloy, good to "
        f"{band}"
    )


def _given(v: Values) -> str:
    return (
        f"{END[v['which']]} as the recipe gives it, {wording.temperature(v['given_c'])}, moved to "
        f"{wording.temperature(v['c'])} for {wording.wt(v['carbon_wt'])} carbon"
    )


def _beyond(v: Values) -> str:
    told = " and ".join(f"{wording.wt(w)} {e}" for e, w in zip(v["elements"], v["wt"], strict=True))
    return f"{told}: no published range tells of so much, so none is computed: give harden_c"


def _no_range(v: Values) -> str:
    return (
        f"no published range lies near the analysis of {v['steel']} with {wording.wt(v['carbon_wt'])} "
        "carbon, and none can be computed for its kind: give harden_c after a test piece"
    )


def _meet(v: Values) -> str:
    return "one temperature lies well inside the good range of every steel that hardens"


def _one(v: Values) -> str:
    return f"only {v['steels'][0]} hardens: its own window holds"


def _no_good(v: Values) -> str:
    if v["least"] <= 1.0:
        return (
            f"one temperature is good for all, but near the ends of their ranges: {v['low_set_by']} asks for "
            f"more heat, {v['high_set_by']} for less"
        )
    return (
        f"no temperature is good for all, {wording.temperature(v['set_c'])} is the compromise: "
        f"{v['low_set_by']} asks for more heat than {v['high_set_by']} likes"
    )


def _miss(v: Values) -> str:
    return (
        f"the ranges miss each other by {wording.difference(v['gap_k'])}: {v['needs']} needs at least "
        f"{wording.temperature(v['needs_c'])}, {v['takes']} takes at most {wording.temperature(v['takes_c'])}"
    )


def _soft(v: Values) -> str:
    return "no layer has the carbon to harden: the bar stays soft"


def _role_hardens(v: Values) -> str:
    return f"{wording.wt(v['carbon_wt'])} carbon where it hardens"


def _role_partly(v: Values) -> str:
    share = wording.percent(v["weight"])
    return (
        f"not everywhere, or in little of the edge: it counts {share} of a full layer, with "
        f"{wording.wt(v['carbon_wt'])} carbon where it hardens"
    )


def _role_soft(v: Values) -> str:
    return (
        f"too little of it hardens as an edge: hardening fades in from {wording.wt(v['from_wt'])} to "
        f"{wording.wt(v['full_wt'])} carbon"
    )


def _control_good(v: Values) -> str:
    return (
        f"{wording.plus_minus(v['half_width_k'])} keeps every steel in its good range; up to "
        f"{wording.plus_minus(v['works_k'])} would still work"
    )


def _better(v: Values) -> str:
    if v.get("better") is None:
        return ""
    return f"; better: {v['better']} ({wording.plus_minus(v['better_k'])})"


def _control_works(v: Values) -> str:
    if v["good_k"] < HELD_NOWHERE_K:
        return (
            f"{wording.plus_minus(v['half_width_k'])} works; no fire is good here: some steel leaves its "
            f"good range however finely the heat is held{_better(v)}"
        )
    return (
        f"{wording.plus_minus(v['half_width_k'])} works, good is up to "
        f"{wording.plus_minus(v['good_k'])}: some steel leaves its good range at the ends of the swing"
        f"{_better(v)}"
    )


def _control_no(v: Values) -> str:
    return (
        f"{wording.plus_minus(v['half_width_k'])} is too rough: at most "
        f"{wording.plus_minus(v['works_k'])} works here{_better(v)}"
    )


def _gives_up_cold(v: Values) -> str:
    told = f"{wording.difference(v['by_k'])} under its good range"
    if v.get("ferrite", 0.0) > 0.01:
        return f"{told}: {wording.percent(v['ferrite'])} ferrite stays and the edge is soft in spots"
    if "hrc_at_set" in v:
        here, at_set = wording.hardness(v["hrc"]), wording.hardness(v["hrc_at_set"])
        instead = f"still {here}" if here == at_set else f"{here} instead of {at_set}"
        return f"{told}: less dissolves, {instead}"
    if "hrc" in v:
        return f"{told}: less dissolves, {wording.hardness(v['hrc'])}"
    return f"{told}: less dissolves and it comes out softer"


def _gives_up_hot(v: Values) -> str:
    told = f"{wording.difference(v['by_k'])} over its good range: the grain coarsens"
    if "retained_austenite" not in v:
        return f"{told} and more austenite is kept"
    return (
        f"{told}, {wording.percent(v['retained_austenite'])} austenite is kept, {wording.hardness(v['hrc'])}"
    )


def _plainly(text: str) -> Any:
    return lambda v: text


WORDS = {
    "end-near": _near,
    "end-between": _between,
    "end-given": _given,
    "end-unknown": _plainly("no range is known"),
    "possible-low": _plainly("as low as it can be taken: over its critical line"),
    "possible-high": _plainly("as high as it can be taken: grain and retained austenite"),
    "beyond-tested": _beyond,
    "no-range-near": _no_range,
    "ranges-meet": _meet,
    "one-steel": _one,
    "no-good-for-all": _no_good,
    "ranges-miss": _miss,
    "nothing-hardens": _soft,
    "role-cladding": _plainly("declared as cladding: it may stay soft and decides nothing"),
    "role-austenite": _plainly("stays austenite: it never hardens by heat"),
    "role-soft": _role_soft,
    "role-partly": _role_partly,
    "role-hardens": _role_hardens,
    "suffers-nothing": _plainly("stays soft, as at any temperature"),
    "suffers-unknown": _plainly("no range is known: try it on a coupon"),
    "suffers-cold": lambda v: (
        f"{wording.difference(v['by_k'])} under its range: hardens little or not at all"
    ),
    "suffers-hot": lambda v: (
        f"{wording.difference(v['by_k'])} over its range: coarse grain, much retained austenite, brittle"
    ),
    "suffers-little": _plainly("inside what it can take"),
    "control-no-window": _plainly("no window to hit"),
    "control-good": _control_good,
    "control-works": _control_works,
    "control-no": _control_no,
    "gives-up-cold": _gives_up_cold,
    "gives-up-hot": _gives_up_hot,
}
