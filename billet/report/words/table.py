"""All codes with their words: the topics' tables put together once."""

from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from typing import Any

Words = Callable[[Mapping[str, Any]], str]
TOPICS: tuple[str, ...] = (
    "forging", "layers", "bar", "state", "window", "hardening", "headline", "cycle", "temper", "quench",
    "fitted_range", "count", "study", "curves", "face", "pairs", "wish",
)  # fmt: skip
"""Modules beside this one, each with a table WORDS: dict[str, Words]."""


@cache
def all_words() -> dict[str, Words]:
    """Every code with its words. Raises ValueError where two topics claim one code."""
    found: dict[str, Words] = {}
    for topic in TOPICS:
        table: dict[str, Words] = import_module(f"billet.report.words.{topic}").WORDS
        twice = found.keys() & table.keys()
        if twice:
            raise ValueError(f"codes worded twice: {sorted(twice)}")
        found |= table
    return found


def words_of(code: str) -> Words:
    """The function that words a code. Raises KeyError for an unknown one."""
    return all_words()[code]


def step_words(v: Mapping[str, Any]) -> str:
    """The step, with the bar made first that it belongs to: "Bar left, step 2 (draw)"."""
    what = "stack" if v["do"] == "stack" else f"step {v['step']} ({v['do']})"
    return f"Bar {v['bar']}, {what}" if "bar" in v else f"{what[0].upper()}{what[1:]}"
