"""Oils by the names people give them: the class a name stands for, and what is never quenched in."""

import re
from dataclasses import dataclass
from functools import cache

from billet.tables.reading import read_toml


@dataclass(frozen=True)
class NamedOil:
    """What a name stands for: a class of oil, or (`why_never`) why it is no quench oil at all."""

    medium: str | None
    why_never: str | None
    note: str


@cache
def _listed() -> tuple[tuple[tuple[str, ...], NamedOil], ...]:
    return tuple(
        (tuple(row["words"]), NamedOil(row.get("class"), row.get("why"), row.get("note", "")))
        for row in read_toml("oil_names.toml")["oil"]
    )


def oil_by_name(name: str) -> NamedOil | None:
    """The oil that a name tells of: rapeseed, canola, engine oil; None for a name that tells nothing.

    A word is found where one begins: "cold tank" holds no "old". What must never be used is looked for
    first: "engine oil with rapeseed" is engine oil.
    """
    written = " ".join(name.lower().split())
    by_danger = sorted(_listed(), key=lambda row: row[1].why_never is None)
    return next(
        (
            oil
            for words, oil in by_danger
            if any(re.search(rf"\b{re.escape(word)}", written) for word in words)
        ),
        None,
    )


def never_quenched_in(name: str) -> str | None:
    """What is wrong with a bath of this name, or None."""
    named = oil_by_name(name)
    if named is None or named.why_never is None:
        return None
    return f"never quench in {name}: {named.why_never}"
