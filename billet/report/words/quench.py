"""The quench in words: why a bath, who pays, what an own oil does."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _asks(v: Values) -> str:
    return f"{v['steel']} asks for most: {v['medium']}"


def _rate(v: Values) -> str:
    return f"critical rate of {v['steel']} about {wording.rate(v['rate_k_s'])} on what is dissolved{_safe(v)}"


def _rate_estimated(v: Values) -> str:
    return (
        f"{v['steel']} is too rich for what is dissolved to be computed: from its whole analysis the "
        f"critical rate is put at about {wording.rate(v['rate_k_s'])}, a rough figure of our own{_safe(v)}"
    )


def _safe(v: Values) -> str:
    if v["asked_k_s"] < 1.005 * v["rate_k_s"]:
        return ""
    return (
        f"; asked for: {wording.rate(v['asked_k_s'])}, the safe side of its band, because it is nearly plain"
    )


def _held(v: Values) -> str:
    return f"{wording.listed(v['elements'])} beyond the factors of ASTM A255, held at their end"


def _carried(v: Values) -> str:
    return f"{wording.listed(v['elements'])} beyond the factors of ASTM A255, their straight line carried on"


def _no_factor(v: Values) -> str:
    return f"ASTM A255 has no factor for {wording.listed(v['elements'])}: counted as nothing"


def _practice(v: Values) -> str:
    return (
        f"by the nominal figures {v['slower']} would do for {v['steel']}; "
        f"common practice takes {v['medium']} for this kind of steel"
    )


def _published(v: Values) -> str:
    return f"its published range for {v['steel']} is given with {wording.listed(v['media'])}"


def _plates(v: Values) -> str:
    return (
        f"it hardens in still air at {wording.length_both(v['thickness_mm'])}: press it between two flat "
        f"plates of aluminium up to {wording.length_both(v['plates_to_mm'])}, which also keeps it straight; "
        "or hang it in still air"
    )


def _air(v: Values) -> str:
    return (
        f"it hardens in still air at {wording.length_both(v['thickness_mm'])}; plates are for sections up to "
        f"{wording.length_both(v['plates_to_mm'])}"
    )


def _cracks(v: Values) -> str:
    how = "is likely to" if v["likely"] else "may"
    return (
        f"{v['medium']} is faster than it likes ({v['fastest']} at most by common practice): "
        f"it {how} crack or warp; straighten warm and temper at once"
    )


def _softer_core(v: Values) -> str:
    bevel = ""
    if v["bevel_mm"] is not None:
        bevel = f" ({wording.length_both(v['bevel_mm'])} behind the edge for the sure part)"
    at = "" if v["thickness_mm"] is None else f"at {wording.length_both(v['thickness_mm'])}: "
    return (
        f"{at}{_depth(v)}{bevel}: edge and bevel are hard, a thicker spine holds a softer core of fine "
        "pearlite, often welcome in a knife"
    )


def _softer_inside(v: Values) -> str:
    at = "" if v["thickness_mm"] is None else f"at {wording.length_both(v['thickness_mm'])}: "
    return (
        f"{at}{_depth(v)}: it does not lie at the edge; where the blade is thicker than that it holds a "
        "softer core of fine pearlite"
    )


def _edge_near(v: Values) -> str:
    at = "" if v["thickness_mm"] is None else f"at {wording.length_both(v['thickness_mm'])}: "
    return (
        f"{at}{_depth(v)}: the edge of {wording.length_both(v['edge_mm'])} is near its limit, so leave it "
        "thinner before the quench or prove it; the spine holds a softer core of fine pearlite"
    )


def _depth(v: Values) -> str:
    surely, likely = wording.length_both(v["through_mm"]), wording.length_both(v["likely_mm"])
    return f"with {v['medium']} it hardens surely to {surely}, likely to {likely}"


def _gentler(v: Values) -> str:
    return (
        f"{v['wanted']} would harden deeper, but {wording.listed(v['spared'])} may crack in it: "
        f"{v['medium']} is taken instead: it surely hardens the edge, and a softer spine costs "
        "less than a crack"
    )


def _edge_short(v: Values) -> str:
    at = "" if v["thickness_mm"] is None else f"at {wording.length_both(v['thickness_mm'])}: "
    return (
        f"{at}hardens only to about {wording.length_both(v['likely_mm'])} with {v['medium']}, and the edge "
        f"is {wording.length_both(v['edge_mm'])}: leave the edge thinner before the quench"
    )


def _slower_through(v: Values) -> str:
    return (
        f"by the computed rates {v['medium']} would harden every layer through at this thickness and spare "
        f"{wording.listed(v['spared'])}; common practice does not trust it for plain steel: try it on a "
        "coupon first"
    )


def _slower_edge(v: Values) -> str:
    return (
        f"{v['medium']} would spare {wording.listed(v['spared'])} and still harden edge and bevel to "
        f"{wording.length_both(v['through_mm'])}, with a softer spine"
    )


def _oil(v: Values) -> str:
    return f"{v['oil']} counts as {v['medium']} here"


def _oil_good(v: Values) -> str:
    return (
        f"{_oil(v)}: it hardens every layer through at {wording.length_both(v['thickness_mm'])}; "
        f"{v['steel']} is the nearest to its limit, with {wording.times(v['margin'])} the rate it asks for"
    )


def _oil_works(v: Values) -> str:
    return (
        f"{_oil(v)}: it hardens surely to {wording.length_both(v['through_mm'])}, likely to "
        f"{wording.length_both(v['likely_mm'])}, limited by {v['steel']}; the spine holds a softer core, "
        "often welcome in a knife"
    )


def _oil_edge_short(v: Values) -> str:
    return (
        f"{_oil(v)}: {v['steel']} hardens only to about {wording.length_both(v['likely_mm'])} and the edge "
        f"is {wording.length_both(v['edge_mm'])}"
    )


def _oil_too_fast(v: Values) -> str:
    return f"{v['oil']} is faster than {v['steel']} likes: it may crack or warp"


WORDS: dict[str, Words] = {
    "quench-no-shared-heat": lambda v: (
        "no shared temperature, so no shared medium: each steel's own is told instead"
    ),
    "quench-nothing-hardens": lambda v: "nothing hardens, so there is nothing to quench",
    "quench-unknown-heat": lambda v: "without a temperature nothing dissolved is known",
    "quench-asks": _asks,
    "quench-rate": _rate,
    "quench-rate-estimated": _rate_estimated,
    "quench-held": _held,
    "quench-carried": _carried,
    "quench-no-factor": _no_factor,
    "quench-practice": _practice,
    "quench-published": _published,
    "quench-plates": _plates,
    "quench-air": _air,
    "quench-cracks": _cracks,
    "quench-softer-core": _softer_core,
    "quench-softer-inside": _softer_inside,
    "quench-edge-near": _edge_near,
    "quench-edge-short": _edge_short,
    "quench-gentler": _gentler,
    "quench-slower-through": _slower_through,
    "quench-slower-edge": _slower_edge,
    "quench-no-water": lambda v: "water and brine are too severe for a blade of this carbon",
    "quench-other-oils": lambda v: (
        "fresh vegetable oil is a class of its own: it starts between fast and medium oil and ends as "
        "a medium one; engine oil is never a bath: its cooling is not known and its additives make the smoke "
        "poisonous"
    ),
    "quench-prove-oil": lambda v: (
        "the classes of oil and their cooling stand on remembered bands (±40\u202f%): "
        "prove it with a test piece in your own oil"
    ),
    "quench-prove-dry": lambda v: (
        "the cooling of plates and air is remembered and rough: prove it with a test piece of this section"
    ),
    "quench-engine-oil": lambda v: (
        "never engine oil: its cooling is not known and its additives make the smoke poisonous"
    ),
    "quench-oil-good": _oil_good,
    "quench-oil-works": _oil_works,
    "quench-oil-edge-short": _oil_edge_short,
    "quench-oil-too-fast": _oil_too_fast,
}
