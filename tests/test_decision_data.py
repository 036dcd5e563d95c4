"""A number that decides nothing is not shown as a rule: every number of decision is read by code."""

import re
from pathlib import Path
from typing import Any

import pytest

from billet.tables.reading import read_toml

BILLET = Path(__file__).parent.parent / "billet"
WORDS_ALONE = BILLET / "text" / "practice.py"
BESIDE_A_NUMBER = {"basis", "note", "source", "where", "seen", "from"}
PUT_TOGETHER = {
    f"{start}_{kind}" for start in ("normalised", "spheroidised") for kind in ("plain", "alloyed")
}
"""Keys of the group `state` that austenite_state puts together from the start and the kind of steel."""


def code() -> str:
    """All code of the product but the page that lists the rules."""
    return "\n".join(p.read_text(encoding="utf-8") for p in sorted(BILLET.rglob("*.py")) if p != WORDS_ALONE)


CODE = code()


def keys(value: Any, path: tuple[str, ...] = ()) -> list[tuple[str, ...]]:
    if isinstance(value, dict):
        inner = [found for key, entry in value.items() for found in keys(entry, (*path, key))]
        return inner if path == () else [path, *inner]
    if isinstance(value, list):
        return [path, *[found for entry in value if isinstance(entry, dict) for found in keys(entry, path)]]
    return [path]


@pytest.mark.parametrize("name", ["practice.toml", "forging.toml", "uncertainty.toml"])
def test_every_number_of_decision_is_read(name: str) -> None:
    unread = {
        ".".join(path)
        for path in keys(read_toml(name))
        if path[-1] not in BESIDE_A_NUMBER | PUT_TOGETHER
        and re.search(rf"[\"']{re.escape(path[-1])}[\"']|\.{re.escape(path[-1])}\b", CODE) is None
    }
    assert not unread


def test_the_keys_that_are_put_together_stand_in_the_data() -> None:
    assert set(read_toml("practice.toml")["state"]) >= PUT_TOGETHER
    assert 'f"{start}_plain"' in CODE and 'f"{start}_alloyed"' in CODE


@pytest.mark.parametrize("group", [g for g, v in read_toml("practice.toml").items() if isinstance(v, dict)])
def test_every_group_of_rules_tells_its_basis(group: str) -> None:
    entry = read_toml("practice.toml")[group]
    assert group == "plain_reference" or entry["basis"] in {"practice", "memory", "own", "published"}
