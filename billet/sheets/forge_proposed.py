"""Numbers of a step that a program proposed and nobody changed or accepted.

Such a number bears a mark where it stands, and the foot of the sheet says what the mark means.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from billet import wording
from billet.contract.report import Report

MARK = "*"
PROPOSED_WORDS = {
    "temperature_c": "temperature", "minutes": "minutes", "heats": "heats", "height_mm": "height",
    "width_mm": "width", "length_mm": "length", "per_face_mm": "grinding", "pieces": "pieces",
    "trim_mm": "ends cut off", "turns": "turns",
}  # fmt: skip
"""Short words of what is proposed most; anything else is a size."""
MARKED_IN_PLACE = frozenset({"temperature_c", "minutes", "heats", "height_mm"})


def proposed_words(report: Report, numbers: Sequence[int]) -> str:
    """Numbers of these steps that were proposed and stayed so: temperature, minutes (steps 1, 2)."""
    by_steps: dict[tuple[int, ...], list[str]] = {}
    for words in dict.fromkeys(PROPOSED_WORDS.get(key, "size") for n in numbers for key in _keys(report, n)):
        held = (n for n in numbers if words in {PROPOSED_WORDS.get(k, "size") for k in _keys(report, n)})
        by_steps.setdefault(tuple(held), []).append(words)
    return "; ".join(f"{', '.join(words)} ({steps_in_words(steps)})" for steps, words in by_steps.items())


def is_proposed(report: Report, number: int, key: str) -> bool:
    """Whether this number of this step was proposed and neither changed nor accepted."""
    return key in _keys(report, number)


def mark(report: Report, number: int, key: str) -> str:
    """The mark behind a number that nobody decided; nothing behind any other."""
    return MARK if is_proposed(report, number, key) else ""


def marked_apart(report: Report, number: int) -> bool:
    """Whether a number is proposed that has no place of its own to bear the mark."""
    return any(key not in MARKED_IN_PLACE for key in _keys(report, number))


def proposed_line(told: str) -> str:
    """What the mark means, and where it holds; nothing without such a number."""
    return f"{MARK} Proposed by the program, neither changed nor accepted: {told}." if told else ""


def proposed_keys(step: Mapping[str, Any]) -> tuple[str, ...]:
    """Keys of what a step of a recipe holds that was proposed and stayed so."""
    return tuple(key for key in step.get("proposed", ()) if key in step)


def proposed_of_step(step: Mapping[str, Any]) -> str:
    """The line under one step that stands alone; nothing where none of its numbers was proposed."""
    return proposed_line(", ".join(dict.fromkeys(PROPOSED_WORDS.get(k, "size") for k in proposed_keys(step))))


def _keys(report: Report, number: int) -> Sequence[str]:
    return proposed_keys(report.recipe["steps"][number - 1])


def steps_in_words(numbers: Sequence[int]) -> str:
    """Numbers of steps: step 1; 1, 2 and 5."""
    return f"step {numbers[0]}" if len(numbers) == 1 else wording.listed(list(map(str, numbers)))
