"""What the study tells where it computes nothing."""

from collections.abc import Mapping
from typing import Any

from billet.report.words.state import over_limits
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _no_hardness(v: Values) -> str:
    return f"{over_limits(v)} no hardness is computed: the low-alloy formulas do not hold"


def _no_rate(v: Values) -> str:
    return f"{over_limits(v)}: the published medium of the grade counts, no rate is computed"


WORDS: dict[str, Words] = {
    "study-no-hardness": _no_hardness,
    "study-no-rate": _no_rate,
    "study-no-heat": lambda _: "nothing is dissolved at a temperature that was not found",
    "study-no-austenite": lambda _: "no austenite forms below the end of the curve",
}
