"""What is told of the state of a steel."""

from collections.abc import Mapping
from typing import Any

from billet import wording

Values = Mapping[str, Any]


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
        "no computed value: over 5 % chromium or 2 % W + Mo + V the low-alloy formulas do not hold; "
        "use the published range and hardness of the grade"
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
