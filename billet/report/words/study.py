"""What the study tells where it computes nothing."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.contract.values import Estimate
from billet.report.words.state import over_limits
from billet.report.words.table import Words
from billet.tables.sources import source

Values = Mapping[str, Any]


def _no_hardness(v: Values) -> str:
    return f"{over_limits(v)} no hardness is computed: the low-alloy formulas do not hold"


def _no_rate(v: Values) -> str:
    return f"{over_limits(v)}: the published medium of the grade counts, no rate is computed"


def _forging_range(v: Values) -> str:
    told = f"draw and upset between {wording.temperature_range(v['low_c'], v['high_c'])}"
    if v["low_by"] == v["high_by"]:
        return f"{told}: {v['low_by']} sets both ends"
    return f"{told}: {v['low_by']} sets the low end, {v['high_by']} the high end"


def _forging_ranges_miss(v: Values) -> str:
    return (
        f"the published forging ranges do not meet: {v['low_by']} from {wording.temperature(v['low_c'])} up, "
        f"{v['high_by']} to {wording.temperature(v['high_c'])}"
    )


def _skin(v: Values) -> str:
    told = (
        f"carbon is under nine tenths of the inside down to {wording.length_both(v['bottom_mm'])} below the "
        f"bottom face and {wording.length_both(v['top_mm'])} below the top face (to the deep side: depths "
        f"printed for a spring steel are {wording.percent(v['printed_frac'])} of what is reckoned for it, "
        f"{source(v['source']).short})"
    )
    if v["grind_mm"] <= 0.0:
        deepest = wording.length_both(max(v["bottom_mm"], v["top_mm"]))
        return f"{told}: grind {deepest} off each face before hardening"
    ground = f"the {wording.length_both(v['grind_mm'])} ground off each face before hardening"
    if v["short_mm"] > 0.0:
        return f"{told}: {ground} is {wording.length_both(v['short_mm'])} short of it"
    return f"{told}: {ground} takes it away"


def _no_pale_seam(v: Values) -> str:
    limit = wording.wt(v["limit_wt"])
    return f"no seam of the restacks is paler in carbon than its surroundings by more than {limit}"


def _pale_seams(v: Values) -> str:
    return (
        f"{wording.count(v['pale'], 'seam')} of {v['seams']} with a folded-in skin, over "
        f"{wording.wt(v['limit_wt'])} less carbon than the metal beside it; {v['inside']} of them inside the "
        "blade: each shows as a pale line"
    )


def _in_air(v: Values) -> str:
    told = (
        f"the {v['where']} ({wording.length_both(v['thickness_mm'])}) loses "
        f"{wording.rate(v['rate_k_s'])} in still air"
    )
    if v["window_s"] is None:
        return told
    return f"{told} and is under the window's low end after {wording.seconds(v['window_s'])}"


def _turns_in_air(v: Values) -> str:
    return (
        f"what is dissolved stays dissolved on the way, but {v['steel']} may begin to turn below "
        f"{wording.temperature(v['turns_c'])}, which the thinnest part reaches after "
        f"{wording.seconds(v['turns_s'])}"
    )


def _air_too_short(v: Values) -> str:
    return (
        f"that is less than the {wording.seconds(v['wanted_s'])} a practised hand takes: stand the tank at "
        "the fire, or leave the edge thicker until it is hard"
    )


def _outside(v: Values) -> str:
    return (
        f"{v['name']} {wording.wt(v['value'])} lies outside {wording.wt(v['low'])} to {wording.wt(v['high'])}"
    )


def _rate(ending: str) -> Words:
    def told(v: Values) -> str:
        used = Estimate(v["rate_k_s"], v["low_k_s"], v["high_k_s"])
        return (
            f"{v['steel']}: the middle must cool at {wording.estimate(used, wording.rate)} or faster from "
            f"700 to 550 \u00b0C; that is the rate the decision used{ending}"
        )

    return told


PROVE = "and out of its band: the two routes differ, so prove the oil"

WORDS: dict[str, Words] = {
    "study-no-hardness": _no_hardness,
    "study-no-rate": _no_rate,
    "study-no-heat": lambda _: "nothing is dissolved at a temperature that was not found",
    "study-no-austenite": lambda _: "no austenite forms below the end of the curve",
    "study-no-forging-range": lambda _: "no grade of this bar has a published forging range",
    "study-forging-ranges-miss": _forging_ranges_miss,
    "study-forging-range": _forging_range,
    "study-no-skin": lambda _: "the faces hold their carbon: nothing must be ground off for it",
    "study-skin": _skin,
    "study-no-seams": lambda _: "nothing was restacked, so no skin lies inside the bar",
    "study-no-pale-seam": _no_pale_seam,
    "study-pale-seams": _pale_seams,
    "study-in-air": _in_air,
    "study-turns-in-air": _turns_in_air,
    "study-air-too-short": _air_too_short,
    "study-magnet-floor": lambda _: "the magnet is a floor, no target",
    "study-magnet-near": lambda _: "hardly over the magnet's point: one shade more would overshoot",
    "study-magnet-far": lambda _: (
        "so far over the magnet's point that it is a floor only, no help in finding the heat"
    ),
    "study-magnet-helps": lambda _: "within the one shade that the eye can add after the magnet lets go",
    "study-outside": _outside,
    "study-start-outside": lambda _: (
        "outside the range they were fitted to, for ranking only, good to a factor of 3"
    ),
    "study-start-inside": lambda _: "inside the range they were fitted to",
    "study-rate-none": _rate(""),
    "study-rate-agrees": _rate(". Li's rate agrees with it within their bands"),
    "study-rate-lower": _rate(f". Li's rate lies lower {PROVE}"),
    "study-rate-higher": _rate(f". Li's rate lies higher {PROVE}"),
}
