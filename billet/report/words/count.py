"""The count of many bars in words, and what it rests on."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]
HUNDRED = 100.0


def _of_hundred(share: float) -> int:
    return round(HUNDRED * share)


def _bars(v: Values) -> str:
    """In 100 bars made so, 83 have a shared window of ..., 61 are hardened inside their own."""
    shared, in_window, works = v["shared_frac"], v["in_window_frac"], v["works_frac"]
    verb = "has" if _of_hundred(shared) == 1 else "have"
    told = f"In 100 bars made so, {_of_hundred(shared)} {verb} one temperature well inside the range of all"
    if in_window is None or v["set_point_c"] is None:
        return f"{told}."
    half_width_k = v["half_width_k"]
    held = f"held within {wording.difference(half_width_k)}" if half_width_k > 0.0 else "held exactly"
    hardened = _of_hundred(in_window)
    are = "is hardened inside its" if hardened == 1 else "are hardened inside their"
    at_all = "" if works is None else f" and {_of_hundred(works)} inside what every steel takes"
    told += (
        f"; set to {wording.temperature(v['set_point_c'])} and {held}, {hardened} {are} own window{at_all}"
    )
    if v["through_frac"] is not None and v["medium"] is not None:
        edge, through = _of_hundred(v["edge_frac"]), _of_hundred(v["through_frac"])
        told += f"; with {v['medium']} {edge} of 100 edges harden, and {through} of 100 blades harden through"
    if v["tempered_low_hrc"] is not None:
        hrc = wording.hardness_range(v["tempered_low_hrc"], v["tempered_high_hrc"])
        told += (
            f"; tempered at {wording.temperature(v['temper_c'])} the softest layer of the edge comes to "
            f"{hrc} in nine of ten"
        )
    return f"{told}."


def _nominal(v: Values) -> str:
    return (
        f"{wording.listed(v['steels'])}: any analysis that the standard of the grade lets through, half of "
        "the bars on each side of the usual one (our own choice; mills aim nearer to the middle)"
    )


def _given(v: Values) -> str:
    return (
        f"{wording.listed(v['steels'])}: the analysis given, off by what a laboratory may be off: "
        f"{wording.wt(v['carbon_wt'])} carbon, {wording.percent(v['metal_frac'])} of each metal (from memory)"
    )


def _residuals(v: Values) -> str:
    most = wording.listed([f"{wording.wt(w)} {e}" for e, w in zip(v["elements"], v["most_wt"], strict=True)])
    return (
        f"residuals that no analysis tells lie evenly between none and {most} (from memory); they count in "
        "the quench alone"
    )


def _formulas(v: Values) -> str:
    lines = ", ".join(
        f"{name} {wording.difference(v[key])}"
        for name, key in (("Ae1", "ae1_k"), ("Ae3", "ae3_k"), ("Acm", "acm_k"))
    )
    return (
        f"formulas are off, nine times in ten, by no more than: {lines}; dissolved carbon by "
        f"{wording.wt(v['dissolved_wt'])}, with alloyed carbide {wording.wt(v['dissolved_alloyed_wt'])}; the "
        f"critical rate by a factor of {v['rate_factor']:g}; the cooling film by "
        f"{wording.percent(v['film_frac'])}; hardness as quenched by {v['hrc']:g} HRC, after the temper "
        f"by {v['temper_near_hrc']:g} HRC beside printed curves and {v['temper_far_hrc']:g} HRC far from them"
    )


def _response(v: Values) -> str:
    return (
        "carbon after forging follows from the plan by the share that each layer keeps and gives away; it is "
        f"not computed anew for every bar, and is good to {wording.wt(v['carbon_wt'])} for the differences "
        "of analyses"
    )


WORDS: dict[str, Words] = {
    "count-of-bars": _bars,
    "count-nominal": _nominal,
    "count-given": _given,
    "count-formulas": _formulas,
    "count-residuals": _residuals,
    "count-drawn-anew": lambda _: (
        "these errors are drawn anew for every bar and steel; in truth a formula that is off is off for all "
        "bars of a pair alike"
    ),
    "count-good-range": lambda _: (
        "the good range of a steel is off as the published ranges near its analysis differ among themselves"
    ),
    "count-carbon-response": _response,
    "count-forged-as-planned": lambda _: (
        "forged as planned: temperatures and minutes in the fire, losses and sizes are the same in all bars"
    ),
    "count-even-heat": lambda _: (
        "the temperature is even within its half-width; the start of martensite does not enter window or oil"
    ),
}
