"""Collects what is wrong with a recipe, and shows a value a person wrote without choking on it."""

import difflib
import math
from collections.abc import Iterable
from typing import Any

from billet.errors import Fault, RecipeError

MOST_FAULTS = 20
LONGEST_SHOWN = 40


class Faults:
    """Up to 20 faults; one more than that ends the reading."""

    def __init__(self) -> None:
        self.listed: list[Fault] = []

    def __bool__(self) -> bool:
        return bool(self.listed)

    def add(self, where: str, message: str) -> None:
        """Keep one fault. Raises RecipeError as soon as 20 are kept."""
        self.listed.append(Fault(where, message))
        if len(self.listed) >= MOST_FAULTS:
            self.raise_if_any()

    def raise_if_any(self) -> None:
        """Raises RecipeError with all that was found."""
        if self.listed:
            raise RecipeError(self.listed)


def shown(value: Any) -> str:
    """A value as a short text for a fault; never longer than a line, never a traceback of its own."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "nothing"
    if isinstance(value, int):
        digits = int((abs(value).bit_length() - 1) * math.log10(2)) + 1
        return str(value) if digits <= LONGEST_SHOWN else f"a whole number of about {digits} digits"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    return f"a {type(value).__name__}"


def quoted(text: str) -> str:
    """A text in quotes, cut to a readable length, with nothing in it that cannot be printed."""
    cut = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "..."
    return '"' + "".join(c if c.isprintable() else "?" for c in cut) + '"'


def nearest(word: str, known: Iterable[str]) -> str:
    """A tail for a fault: '; did you mean "kerf_mm"?', or all that is known."""
    names = list(known)
    asked = word[:100].lower()
    lowered = {n: n.lower() for n in names}
    close = difflib.get_close_matches(asked, lowered.values(), n=2, cutoff=0.6)
    found = [n for n in names if lowered[n] == asked] or [n for n in names if lowered[n] in close]
    if found:
        return f"; did you mean {' or '.join(quoted(n) for n in found)}?"
    return f"; known here: {', '.join(quoted(n) for n in names)}" if names else ""
