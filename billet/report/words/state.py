"""What is told of the state of a steel."""

from collections.abc import Mapping
from typing import Any

from billet import wording

Values = Mapping[str, Any]


def over_limits(v: Values) -> str:
    """Over which alloy no low-alloy formula holds."""
    chromium, heavy = wording.percent(v["most_cr_wt"] / 100.0), wording.percent(v["most_w_mo_v_wt"] / 100.0)
    return f"over {chromium} chromium or {heavy} W + Mo + V"


def _melts(v: Values) -> str:
    return f"no computed value: it begins to melt at about {wording.temperature(v['melts_c'])}"


def _burns(v: Values) -> str:
    return f"it may burn here: it begins to melt at about {wording.temperature(v['melts_c'])}"


def _untested(v: Values) -> str:
    return (
        f"{v['element']} {wording.wt(v['wt'])} lies outside {wording.wt(v['low_wt'])} to "
        f"{wording.wt(v['high_wt'])}, the range this was tested on"
    )


def _ferrite(v: Values) -> str:
    return f"{wording.percent(v['ferrite'])} ferrite is left: it stays soft"


def _austenitic(v: Values) -> str:
    return "stays austenite at every temperature: it does not harden"


def _high_alloy(v: Values) -> str:
    return (
        f"no computed value: {over_limits(v)} the low-alloy formulas do not hold; use the published range "
        "and hardness of the grade"
    )


def _cold(v: Values) -> str:
    return "no austenite at this temperature: it does not harden from here"


WORDS = {
    "state-austenitic": _austenitic,
    "state-high-alloy": _high_alloy,
    "state-melts": _melts,
    "state-burns": _burns,
    "state-untested": _untested,
    "state-ferrite": _ferrite,
    "state-no-austenite": _cold,
}
