"""The headlines: a table of sentences for fire (good, works, no) by oil (good, works, no); what to do."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]
HELD_NOWHERE_K = 1.0
NEARLY_FRAC = 0.75
"""An edge that likely hardens to this part of its thickness is at the limit of the bath, not beyond it."""


def _harden(v: Values) -> str:
    return f"Harden at {wording.temperature(v['set_c'])}, {_bath(v)}"


def _bath(v: Values) -> str:
    return v["medium"] if v["own_oil"] is None else f"{v['own_oil']} ({v['medium']})"


def _kept(v: Values) -> str:
    """What a bath that works leaves behind: a softer spine, a layer that may crack."""
    told = [] if v["sure_mm"] is None else ["a hard edge, a softer spine"]
    told += [f"{wording.listed(v['cracks'])} may crack"] if v["cracks"] else []
    return wording.listed(told)


def _works_word(v: Values) -> str:
    return "no heat is good for every steel" if v["good_k"] < HELD_NOWHERE_K else "hold it more finely"


def _too_rough(v: Values) -> str:
    return f"This fire is too rough for {wording.temperature(v['set_c'])}"


def _edge_soft(v: Values) -> str:
    if v["own_oil"] is not None and v["own_oils"] > 1:
        return "none of your oils hardens this edge"
    if v["likely_mm"] is not None and v["likely_mm"] >= NEARLY_FRAC * v["edge_mm"]:
        return f"{_bath(v)} is at its limit for this edge"
    return f"{_bath(v)} leaves this edge soft"


TEXTS: dict[str, Words] = {
    "good-good": _harden,
    "good-works": lambda v: f"{_harden(v)}: {_kept(v)}",
    "good-no": lambda v: f"{wording.temperature(v['set_c'])} is right, but {_edge_soft(v)}",
    "works-good": lambda v: f"{_harden(v)}: it works, but {_works_word(v)}",
    "works-works": lambda v: f"{_harden(v)}: fire and oil work, neither is good",
    "works-no": lambda v: f"{wording.temperature(v['set_c'])} works, but {_edge_soft(v)}",
    "no-good": lambda v: f"{_too_rough(v)}; {_bath(v)} suits",
    "no-works": lambda v: f"{_too_rough(v)}; {_bath(v)} works",
    "no-no": lambda v: f"{_too_rough(v)}, and {_edge_soft(v)}",
}


def _fire_good(v: Values) -> str:
    swing = f"Every steel stays in its good range up to {wording.plus_minus(v['good_k'])}"
    if not v["fire_told"]:
        return f"{swing}, and up to {wording.plus_minus(v['works_k'])} it works: tell how you hold the heat."
    return f"{swing}; your {wording.plus_minus(v['half_width_k'])} keeps to that."


def _fire_works(v: Values) -> str:
    if v["good_k"] < HELD_NOWHERE_K:
        held = f"Keep within {wording.plus_minus(v['works_k'])}; what it costs stands by each steel"
        return f"{held}: read it before you light the fire.{_by(v)}"
    return (
        f"Your {wording.plus_minus(v['half_width_k'])} is rougher than the {wording.plus_minus(v['good_k'])} "
        f"that is good here: read what the ends of the swing cost.{_by(v)}"
    )


def _fire_no(v: Values) -> str:
    return (
        f"Do not harden with {wording.plus_minus(v['half_width_k'])}: at most "
        f"{wording.plus_minus(v['works_k'])} works here.{_by(v)}"
    )


def _by(v: Values) -> str:
    if v["better"] is None:
        return " No way of holding it in the table is better."
    return f" Better: {v['better']} ({wording.plus_minus(v['better_k'])})."


def _oil_good(v: Values) -> str:
    return "Prove it with a test piece of this section, and temper at once."


def _oil_works(v: Values) -> str:
    told = []
    if v["sure_mm"] is not None:
        told.append(
            f"It hardens surely to {wording.length_both(v['sure_mm'])}: keep edge and bevel under that; "
            "a softer spine is often welcome in a knife."
        )
    if v["cracks"]:
        told.append(
            f"For {wording.listed(v['cracks'])}: no sharp corners or scratches before the quench, straighten "
            "while warm, temper at once."
        )
    return " ".join([*told, "Prove it with a test piece of this section."])


def _oil_no(v: Values) -> str:
    thin = ""
    if v["likely_mm"] is not None and v["likely_mm"] > 0.0:
        thin = f"Leave the edge under {wording.length_both(v['likely_mm'])} before the quench"
    other = ""
    if v["own_oil"] is not None and v["class_hardens_edge"] and v["class_medium"] != v["medium"]:
        other = f"take {v['class_medium']}"
    ways = [way for way in (thin, other) if way] or ["Choose a steel that hardens deeper"]
    return f"{wording.capital(', or '.join(ways))}. Do not quench this edge as it is."


FIRE = {"good": _fire_good, "works": _fire_works, "no": _fire_no}
OIL = {"good": _oil_good, "works": _oil_works, "no": _oil_no}


def _do(fire: str, oil: str) -> Words:
    return lambda v: f"{FIRE[fire](v)} {OIL[oil](v)}"


def _none_gap(v: Values) -> str:
    many = "both steels" if len(v["steels"]) == 2 else "all the steels"
    return f"No one temperature hardens {many}: no set point"


WORDS: dict[str, Words] = {
    **{f"headline-{code}": text for code, text in TEXTS.items()},
    **{f"do-{fire}-{oil}": _do(fire, oil) for fire in FIRE for oil in OIL},
    "headline-none-gap": _none_gap,
    "headline-none-soft": lambda v: "Nothing in this bar hardens: no set point, no oil",
    "headline-none-unknown": lambda v: "No set point can be given: a range is not known",
    "do-none-gap": lambda v: (
        "Choose a partner whose range overlaps, or declare one of the two as cladding and harden for the "
        f"other. A bar you have already: {wording.temperature_aside(v['least_bad_c'])} harms least."
    ),
    "do-none-soft": lambda v: (
        "No edge from this bar: use it for fittings or as soft sides, and forge the next one from thicker "
        "plates of the carbon steel, in fewer and shorter heats."
    ),
    "do-none-unknown": lambda v: (
        "Give harden_c for the steel from its supplier's data sheet, declare it as cladding if it may stay "
        "soft, or harden test pieces each 15 K (27 °F) "
        "hotter than the last and take the lowest heat whose break is fine and grey and which a file does "
        "not bite."
    ),
}
