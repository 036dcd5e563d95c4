"""Words for the temper: when to begin, whence a figure comes, what is advised against, a wanted hardness."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _begin(v: Values) -> str:
    return (
        f"begin below {wording.temperature(v['below_c'])} and within {wording.minutes(v['within_min'])}, "
        f"{v['cycles']} × {wording.hours(v['minutes'])}"
    )


def _by_curves(v: Values) -> str:
    kind = "remembered" if v["remembered"] else "printed"
    curves = wording.listed(list(v["curves"]))
    return f"{v['steel']} by its carbon and alloy, moved to {kind} curves of {curves}"


def _by_model(v: Values) -> str:
    return f"{v['steel']} by its carbon and alloy alone: no printed curve is near"


def _no_figure(v: Values) -> str:
    rich = f"{wording.wt(v['cr_wt'])} Cr" + (
        f" and {wording.wt(v['mo_w_v_wt'])} Mo, W and V" if v["mo_w_v_wt"] > 0.0 else ""
    )
    return (
        f"no figure for {v['steel']}: with {rich} the model does not hold and no printed curve is near; "
        "temper a test piece and measure"
    )


def _brittle(v: Values) -> str:
    span = wording.temperature_range(v["low_c"], v["high_c"])
    return f"from just above {span} the tempered martensite of {v['steel']} turns brittle"


def _beyond(v: Values) -> str:
    return f"above {wording.temperature(v['top_c'])}, the top of what is advised for {v['steel']}"


def _out_of_reach(v: Values, way: str) -> str:
    return (
        f"{wording.hardness(v['hrc'])} is out of reach: the softest layer of the edge is {way} "
        f"{wording.hardness(v['reached_hrc'])} after {wording.temperature(v['at_c'])}"
    )


WORDS: dict[str, Words] = {
    "temper-nothing": lambda _: "nothing is hardened, so there is nothing to temper",
    "temper-begin": _begin,
    "temper-by-curves": _by_curves,
    "temper-by-model": _by_model,
    "temper-no-figure": _no_figure,
    "temper-brittle": _brittle,
    "temper-beyond": _beyond,
    "temper-wanted-unknown": lambda v: (
        f"what gives {wording.hardness(v['hrc'])} is not known: no layer of the edge has a figure"
    ),
    "temper-wanted-too-hard": lambda v: _out_of_reach(v, "already down to"),
    "temper-wanted-too-soft": lambda v: _out_of_reach(v, "still at"),
}
