"""What the program filled in because the recipe does not tell it, as a sheet owns up to it."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from billet import wording
from billet.contract.report import Report
from billet.sheets.forge_fires import FIRES
from billet.sheets.forge_proposed import steps_in_words
from billet.wording import Units

PLACE = re.compile(r"steps\[(\d+)\]\.(\w+) = .*")


def assumed_words(report: Report, numbers: Sequence[int], units: Units) -> str:
    """Values of these steps that were never told, alike ones together: reducing fire (steps 1, 2)."""
    found: dict[str, list[int]] = {}
    for place in report.defaults_used:
        match = PLACE.fullmatch(place)
        if match is None or int(match[1]) + 1 not in numbers:
            continue
        number = int(match[1]) + 1
        words = _words(match[2], report.recipe["steps"][number - 1], units)
        if words:
            found.setdefault(words, []).append(number)
    return "; ".join(f"{words} ({steps_in_words(steps)})" for words, steps in found.items())


def is_assumed(report: Report, number: int, key: str) -> bool:
    """Whether this value of this step was never told."""
    return any(told.startswith(f"steps[{number - 1}].{key} =") for told in report.defaults_used)


def _words(key: str, step: Mapping[str, Any], units: Units) -> str:
    """One value that stands on the sheet, in words; empty for one that does not."""
    value = step.get(key)
    if key == "atmosphere":
        return FIRES.get(value, "")
    if key == "heats":
        return wording.count(int(value or 1), "heat")
    if key == "flux":
        return "flux" if value else "no flux"
    if key == "kerf_mm" and step.get("order") != "folded":
        return f"saw {wording.length(float(value or 0.0), units)}"
    return ""
