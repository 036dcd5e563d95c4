"""What became of carbon and alloy in the bar, what an etch will show, and what no table covers."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _apart(v: Values) -> str:
    return (
        f"{wording.wt(v['now_wt'])} apart now, {wording.wt(v['start_wt'])} at the start; "
        f"{wording.wt(v['mean_wt'])} on average"
    )


def _settled(v: Values) -> str:
    return (
        f"carbon has settled between the layers: {_apart(v)}. What difference stays is held by the other "
        "metals: at the end its activity is equal, its content is not"
    )


def _greys_out(v: Values) -> str:
    left = wording.percent(v["left_frac"])
    return f"greys out: only {left} of the difference in {v['element']} is left between the layers"


def _shows(strength: str) -> Words:
    def words(v: Values) -> str:
        told = f"{strength}: the layers still differ by {wording.wt(v['now_wt'])} {v['element']}"
        if not v["too_fine"]:
            return told
        size = wording.micrometres(v["layer_um"])
        return f"{told}; at {size} a layer the eye sees a grey sheen, not lines"

    return words


def _outside_table(v: Values) -> str:
    if v["input"] == "temperature_c":
        what = f"{wording.temperature(v['value'])} for {v['steel']}"
        covered = wording.temperature_range(v["low"], v["high"])
    else:
        what = f"{wording.wt(v['value'])} {v['input']} in {v['steel']}"
        covered = f"{wording.wt(v['low'])} to {wording.wt(v['high'])}"
    return f"carbon activity is tabulated for {covered}; {what} lies outside, so its carbon is a rough guide"


WORDS: dict[str, Words] = {
    "carbon-one-steel": lambda v: f"one steel: {wording.wt(v['mean_wt'])} carbon is left on average",
    "carbon-settled": _settled,
    "carbon-moving": lambda v: f"carbon is still on its way between the layers: {_apart(v)}",
    "contrast-none": lambda _: (
        "no pattern: the layers do not differ in any metal that an etch shows; carbon evens out"
    ),
    "contrast-greys-out": _greys_out,
    "contrast-strong": _shows("strong, bright against dark"),
    "contrast-clear": _shows("clear"),
    "contrast-weak": _shows("weak: two greys close together"),
    "layers-blurred": lambda _: (
        "the layers have blurred into one another: they are judged as one steel of their blend"
    ),
    "outside-table": _outside_table,
}
