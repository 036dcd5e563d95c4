"""Every source key that data or a formula names exists, and every entry is complete."""

import importlib
import pkgutil
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import billet.formulas
from billet.published import REGISTRY
from billet.tables import sources as module
from billet.tables.sources import SourceError, source, sources

ROOT = Path(__file__).parent.parent
TOML = [*(ROOT / "billet" / "data").glob("*.toml"), *(ROOT / "tests" / "published").rglob("*.toml")]
GOOD = {"author": "A. Smith", "title": "On steel", "published": "1912", "seen": "print"}


def named_sources(value: Any) -> Iterator[str]:
    """Every text under a key `source` or ending in `_source`, at any depth."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if (key == "source" or key.endswith("_source")) and isinstance(inner, str):
                yield inner
            yield from named_sources(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from named_sources(inner)


def tables(value: Any) -> Iterator[dict[str, Any]]:
    """Every table at any depth."""
    if isinstance(value, dict):
        yield value
        for inner in value.values():
            yield from tables(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from tables(inner)


@pytest.mark.parametrize("path", sorted(TOML), ids=lambda p: p.name)
def test_every_source_named_in_data_exists(path: Path) -> None:
    named = set(named_sources(tomllib.loads(path.read_text(encoding="utf-8"))))
    assert not named - set(sources())


def test_every_source_named_by_a_formula_exists() -> None:
    for found in pkgutil.walk_packages(billet.formulas.__path__, "billet.formulas."):
        importlib.import_module(found.name)
    named = {entry.source for entry in REGISTRY.values()}
    assert not named - set(sources())


def test_keys_are_lower_case_words_joined_by_dashes() -> None:
    for key, entry in sources().items():
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", key)
        assert entry.citation.strip() == entry.citation != ""


def test_every_publication_has_author_title_and_year() -> None:
    """The three keys that are no publications are named as such and nothing else is without an author."""
    nameless = {key for key, entry in sources().items() if not entry.author}
    assert nameless == {"common-practice", "from-memory", "own-construction"}
    for key, entry in sources().items():
        assert entry.title.strip()
        assert key in nameless or re.search(r"\b(1[89]|20)\d\d\b", f"{entry.published} {entry.title}")


def test_what_stands_from_memory_is_never_called_published_or_read() -> None:
    """In data and formulas alike: the key from-memory goes with the basis memory."""
    for entry in REGISTRY.values():
        assert entry.source != "from-memory" or entry.basis == "memory", entry.name
    for path in TOML:
        for row in tables(tomllib.loads(path.read_text(encoding="utf-8"))):
            if row.get("source") in {"from-memory", "common-practice"}:
                assert row.get("seen", "memory") == "memory", (path.name, row)
                assert row.get("basis", "memory") in {"memory", "practice"}, (path.name, row)


@pytest.mark.parametrize("key", ["common-practice", "from-memory", "own-construction"])
def test_what_is_no_publication_says_so(key: str) -> None:
    assert source(key).seen == "memory"


def test_an_unknown_key_is_refused() -> None:
    with pytest.raises(SourceError, match="nobody-1900"):
        source("nobody-1900")


@pytest.mark.parametrize(
    ("files", "complaint"),
    [
        ({"a": {"x": GOOD}, "b": {"x": GOOD}}, "'x' already stands"),
        ({"a": {"x": {"title": "data sheets of distributors", "seen": "print"}}}, "needs author"),
        ({"a": {"x": {**GOOD, "author": " "}}}, "needs author"),
        ({"a": {"x": {**GOOD, "page": 3}}}, "needs author"),
        ({"a": {"x": {**GOOD, "published": "some time ago"}}}, "no year"),
        ({"a": {"x": {**GOOD, "seen": "hearsay"}}}, "hearsay"),
    ],
)
def test_a_bad_file_of_sources_is_refused(
    monkeypatch: pytest.MonkeyPatch, files: dict[str, Any], complaint: str
) -> None:
    monkeypatch.setattr(module, "data_files", lambda prefix, suffix: tuple(files))
    monkeypatch.setattr(module, "read_toml", lambda name: files[name])
    with pytest.raises(SourceError, match=complaint):
        sources.__wrapped__()
