"""Why two steels suit each other or do not, in words."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _range(v: Values) -> str:
    low_high = wording.temperature_range(v["low_c"], v["high_c"])
    burns = ", which may burn over it" if v["burns"] else ""
    return f"both forge at {low_high}, from below by {v['low_by']}, from above by {v['high_by']}{burns}"


def _forge_narrow(v: Values) -> str:
    return f"{_range(v)}: a short range, so more and shorter heats"


def _forge_none(v: Values) -> str:
    low, high = wording.temperature(v["low_c"]), wording.temperature(v["high_c"])
    return (
        f"hardly a heat to forge both at: {v['low_by']} wants {low} at least, {v['high_by']} "
        f"{'may burn over ' if v['burns'] else ''}{high}{'' if v['burns'] else ' at most'}"
    )


def _forge_untold(v: Values) -> str:
    return f"no forging range is known of {wording.listed(v['steels'])}"


def _chromium(v: Values) -> str:
    return (
        f"borax does not lift the chromium oxide of {wording.listed(v['steels'])}: weld it sealed in a can, "
        "or clean and welded shut all round"
    )


def _burns(v: Values) -> str:
    return f"{v['steel']} burns first: stay under {wording.temperature(v['burns_c'])}"


def _level(v: Values) -> str:
    first, second = wording.wt(v["first_wt"]), wording.wt(v["second_wt"])
    return f"carbon evens out to {first} in {v['first']} and {second} in {v['second']}"


def _drained(v: Values) -> str:
    return (
        f"the chromium of {v['rich']} draws the carbon out of {v['poor']}: from {wording.wt(v['from_wt'])} "
        f"to {wording.wt(v['to_wt'])} once it has evened out; only thick layers keep theirs"
    )


def _shared(v: Values) -> str:
    window = wording.temperature_range(v["low_c"], v["high_c"])
    return f"good for both at {window}, set {wording.temperature(v['set_c'])}; {_within(v)}"


def _narrow(v: Values) -> str:
    return (
        f"no temperature is good for both; {wording.temperature(v['set_c'])} works, the low side held by "
        f"{v['low_by']}, the high by {v['high_by']}; {_within(v)}"
    )


def _within(v: Values) -> str:
    good, works = wording.difference(v["good_k"]), wording.difference(v["works_k"])
    if v["good_k"] <= 0.0:
        return f"a fire works that is off by at most {works}"
    return f"a fire off by at most {good} is good, by {works} works"


def _fire(word: str) -> Words:
    return lambda v: f"your fire, off by up to {wording.difference(v['half_width_k'])}: {word}"


def _one_soft(v: Values) -> str:
    return f"{wording.listed(v['steels'])} stays soft: keep it off the edge"


def _gap(v: Values) -> str:
    return (
        f"the two miss each other by {wording.difference(v['gap_k'])}: {v['cold']} goes to "
        f"{wording.temperature_aside(v['cold_to_c'])} at most, {v['hot']} wants "
        f"{wording.temperature_aside(v['hot_from_c'])}"
    )


def _gap_supplied(v: Values) -> str:
    return f"with the carbon they are bought with, {_gap(v)}"


def _unknown(v: Values) -> str:
    return f"no hardening range is known of {wording.listed(v['steels'])} with that carbon"


def _soft(v: Values) -> str:
    return "neither hardens as an edge"


def _oil(word: str) -> Words:
    return lambda v: f"{v['medium']} {word} at {wording.length_both(v['section_mm'])}"


def _oil_cracks(v: Values) -> str:
    return f"{v['steel']} may crack in {v['medium']}"


def _oil_softer(v: Values) -> str:
    return f"{v['steel']} keeps a softer core in {v['medium']}"


def _own(word: str) -> Words:
    return lambda v: f"your {v['oil']}: {word}"


def _own_fast(v: Values) -> str:
    return f"{v['oil']} is faster than {wording.listed(v['steels'])} stands: it may crack or warp"


def _ms(word: str) -> Words:
    return lambda v: (
        f"martensite begins {wording.difference(v['apart_k'])} apart, {_apart_band(v)} in nine cases of ten, "
        f"first in {v['higher']}: {word}"
    )


def _apart_band(v: Values) -> str:
    high = wording.difference(v["high_k"])
    return f"{wording.difference(v['low_k'])} to {high}" if v["low_k"] > 0.0 else f"at most {high}"


def _ms_never(v: Values) -> str:
    return f"{wording.listed(v['steels'])} never becomes martensite and does not grow with its neighbour"


def _ms_soft(v: Values) -> str:
    return f"{wording.listed(v['steels'])} stays soft and gives way where its neighbour grows"


def _ms_unknown(v: Values) -> str:
    named = f" of {wording.listed(v['steels'])}" if v["steels"] else ""
    return f"the start of martensite{named} is not computed here"


def _contrast(word: str) -> Words:
    return lambda v: f"{word}: {v['more']} has {wording.wt(v['difference_wt'])} more {v['element']}"


WORDS: dict[str, Words] = {
    "pair-forge-wide": _range,
    "pair-forge-narrow": _forge_narrow,
    "pair-forge-none": _forge_none,
    "pair-forge-untold": _forge_untold,
    "pair-weld-chromium": _chromium,
    "pair-burns": _burns,
    "pair-level": _level,
    "pair-drained": _drained,
    "pair-shared": _shared,
    "pair-narrow": _narrow,
    "pair-fire-good": _fire("good"),
    "pair-fire-works": _fire("works"),
    "pair-fire-no": _fire("too rough"),
    "pair-one-soft": _one_soft,
    "pair-gap": _gap,
    "pair-gap-supplied": _gap_supplied,
    "pair-unknown": _unknown,
    "pair-soft": _soft,
    "pair-oil-good": _oil("hardens both through"),
    "pair-oil-works": _oil("hardens the edge of both, not the middle"),
    "pair-oil-no": _oil("is the best there is and leaves an edge short"),
    "pair-oil-no-heat": lambda v: "no heat for both, so no bath for both",
    "pair-oil-cracks": _oil_cracks,
    "pair-oil-softer": _oil_softer,
    "pair-own-oil-good": _own("hardens both through"),
    "pair-own-oil-works": _own("the edge hardens, the middle may not"),
    "pair-own-oil-no": _own("the edge falls short"),
    "pair-own-oil-fast": _own_fast,
    "pair-ms-good": _ms("near enough"),
    "pair-ms-works": _ms("out of the oil while warm, and temper at once"),
    "pair-ms-no": _ms("likely to bow or part"),
    "pair-ms-never": _ms_never,
    "pair-ms-soft": _ms_soft,
    "pair-ms-unknown": _ms_unknown,
    "pair-contrast-good": _contrast("strong"),
    "pair-contrast-works": _contrast("clear"),
    "pair-contrast-no": _contrast("faint"),
    "pair-contrast-none": lambda v: "none: no metal that stays differs",
}
