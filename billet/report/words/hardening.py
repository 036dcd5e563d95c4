"""What hardening tells beside its numbers: uneven carbon, warping, soft layers, what could be changed."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words, words_of

Values = Mapping[str, Any]


def _uneven(v: Values) -> str:
    more = v["more_min"]
    tail = "" if more is None else f"; about {wording.minutes(more)} more at welding heat would even it"
    return (
        f"{v['steel']}: carbon inside the blade runs from {wording.wt(v['low_wt'])} to "
        f"{wording.wt(v['high_wt'])} (tenth to ninetieth percentile), so its window is drawn from both{tail}"
    )


def _memory(v: Values) -> str:
    return (
        f"the published range of {', '.join(v['steels'])} stands here from memory, not confirmed in print: "
        "check it against the supplier's data before you trust a narrow window"
    )


def _left_the_grade(v: Values) -> str:
    return (
        f"{v['steel']} ends at {wording.wt(v['carbon_wt'])} carbon, outside its grade's "
        f"{wording.wt(v['low_wt'])} to {wording.wt(v['high_wt'])}: its published range and hardness are for "
        "another steel by now, and no value is computed for it; harden a test piece first"
    )


def _care(v: Values) -> str:
    return (
        f"take the blade out of the oil at {wording.temperature_range(v['out_low_c'], v['out_high_c'])}, "
        f"straighten it while warm, temper within {wording.minutes(v['temper_within_min'])}"
    )


def _far_apart(v: Values) -> str:
    apart = wording.difference(v["apart_k"])
    return f"martensite starts {apart} apart in the layers: likely to bow or part; {_care(v)}"


def _never(v: Values) -> str:
    becomes = "never becomes" if v["never"] else "becomes little or no"
    return (
        f"{', '.join(v['soft'])} {becomes} martensite beside {', '.join(v['hard'])}: the bar may warp; "
        f"{_care(v)}"
    )


def _one_sided(v: Values) -> str:
    return (
        "the few layers do not lie alike about the middle: the blade is likely to bow towards one side; "
        "straighten it while warm and temper at once"
    )


def _much_austenite(v: Values) -> str:
    return (
        f"{v['steel']} keeps about {wording.percent(v['frac'])} austenite ({wording.percent(v['low_frac'])} "
        f"to {wording.percent(v['high_frac'])}) when quenched: soft, and apt to change size or crack later"
    )


def _one_layer(v: Values) -> str:
    return f"the blade is cut from one layer, {v['steel']}: it shows no pattern and holds one steel"


def _soft_iron(v: Values) -> str:
    return (
        f"{v['steel']} is planned as {v['kind']} usually is, {wording.wt(v['c_wt'])} carbon and "
        f"{wording.wt(v['mn_wt'])} manganese; a piece may hold {wording.wt(v['least_c_wt'])} to "
        f"{wording.wt(v['most_c_wt'])} and {wording.wt(v['least_mn_wt'])} to {wording.wt(v['most_mn_wt'])}, "
        "and shares its carbon with the layers beside it: give its own analysis where one was told"
    )


WORDS: dict[str, Words] = {
    "soft-iron-usual": _soft_iron,
    "uneven-carbon": _uneven,
    "range-from-memory": _memory,
    "carbon-left-the-grade": _left_the_grade,
    "ms-far-apart": _far_apart,
    "ms-apart": lambda v: (
        f"martensite starts {wording.difference(v['apart_k'])} apart in the layers: {_care(v)}"
    ),
    "never-transforms": _never,
    "one-sided": _one_sided,
    "blade-in-one-layer": _one_layer,
    "soft-layer": lambda v: f"{', '.join(v['steels'])} never takes an edge: keep it off the cutting edge",
    "state": lambda v: f"{v['steel']}: {words_of(v['told'])(v)}",
    "much-austenite": _much_austenite,
    "change-thicker-plates": lambda _: (
        "thicker plates of the carbon steel, or fewer and shorter heats, so that less carbon leaves it"
    ),
    "change-core": lambda _: "a core of carbon steel thick enough to keep its own carbon at the edge",
    "change-harden-c": lambda _: "give harden_c for the steel from its supplier's data sheet",
    "change-partner-overlaps": lambda _: "choose a partner whose published range overlaps",
    "change-soft-sides": lambda _: "use one of the two as soft sides only, and harden for the other",
    "change-instrument": lambda _: "hold the temperature with a better instrument",
    "change-partner-wider": lambda _: "choose a partner with a wider overlap",
}
