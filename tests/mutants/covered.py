"""Which test files enter which functions. Built once for a state of the tree, kept in .pytest_cache."""

import hashlib
import json
import tempfile
import time
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.mutants.copies import PASSED, Copy, copy_of_the_tree
from tests.mutants.places import ROOT, Mutant

KEPT = ROOT / ".pytest_cache" / "mutants_covered.json"
PINS = "tests/test_pinned_numbers.py"
LONGEST_S = 540.0
SUFFIXES = {".py", ".toml", ".csv", ".html"}
# Readers of the data that are entered whenever one of its rows is used.
READERS = {
    "media.toml": "billet/tables/media.py::_medium",
    "control.toml": "billet/tables/control.py::_method",
    "hardening": "billet/tables/steels.py::_hardening",
    "plain_line": "billet/tables/practice.py::plain_line",
    "plain_reference": "billet/tables/practice.py::plain_reference",
}

Say = Callable[[str], None]


@dataclass(frozen=True)
class Covered:
    """Seconds of each test file on the right tree, and the functions that it enters."""

    seconds: dict[str, float]
    entered: dict[str, frozenset[str]]

    def tests_of(self, mutant: Mutant) -> list[str]:
        """The test files that enter the place of this change, quickest first, the pins last."""
        wanted = _wanted(mutant)
        files = [f for f, seen in self.entered.items() if any(w in seen for w in wanted)]
        return sorted(files, key=lambda f: (f == PINS, self.seconds[f], f))


def _wanted(mutant: Mutant) -> set[str]:
    if not mutant.file.endswith(".toml"):
        return {f"{mutant.file}::{mutant.place}"}
    name = Path(mutant.file).name
    table = mutant.place.split("#")[0].split(".")[0]
    reader = (
        READERS.get(table) or READERS.get(name) or (READERS["hardening"] if "hardening" in name else None)
    )
    return {reader} if reader else {f"{name}/{table}"}


def test_files() -> list[str]:
    """Test files of the library and of the pages, without the browser and the benchmarks."""
    found = [*(ROOT / "tests").glob("test_*.py"), *(ROOT / "tests" / "web").glob("test_*.py")]
    return sorted(p.relative_to(ROOT).as_posix() for p in found)


def _digest(paths: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for path in sorted(paths):
        digest.update(path.relative_to(ROOT).as_posix().encode() + path.read_bytes())
    return digest.hexdigest()


def states() -> dict[str, str]:
    """For every test file a digest of itself, of the product and of what tests share."""
    parts = [
        p for part in ("billet", "web", "tests") for p in (ROOT / part).rglob("*") if p.suffix in SUFFIXES
    ]
    shared = _digest(p for p in parts if not p.name.startswith("test_") and p.parent.name != "mutants")
    return {file: shared + _digest([ROOT / file]) for file in test_files()}


def _see(copy: Copy, file: str) -> tuple[str, float, list[str]] | None:
    with tempfile.TemporaryDirectory() as folder:
        seen = Path(folder) / "seen.json"
        begun = time.monotonic()
        code, _ = copy.run([file], LONGEST_S, plugin="tests.mutants.seen", seen=seen)
        if code != PASSED or not seen.exists():
            return None
        return file, time.monotonic() - begun, json.loads(seen.read_text(encoding="utf-8"))


def _built(files: Iterable[str], workers: int, say: Say) -> dict[str, dict[str, Any]]:
    made = {}
    with copy_of_the_tree() as copy, ThreadPoolExecutor(workers) as pool:
        for file, found in zip(files, pool.map(lambda f: _see(copy, f), files), strict=True):
            if found is None:
                say(f"left out, it does not pass in a copy of the tree: {file}")
            else:
                made[file] = {"seconds": round(found[1], 1), "entered": found[2]}
    return made


def covered(workers: int, say: Say, stale: bool = False) -> Covered:
    """The map for the tree as it stands; `stale` takes what is kept, whatever was edited."""
    now = states()
    kept = json.loads(KEPT.read_text(encoding="utf-8")) if KEPT.exists() else {}
    fresh = {f: row for f, row in kept.items() if f in now and (stale or row["state"] == now[f])}
    left = [f for f in now if f not in fresh]
    if left:
        say(
            f"noting which functions {len(left)} test files enter: once for a state of the tree, some minutes"
        )
        fresh |= {f: {"state": now[f], **row} for f, row in _built(left, workers, say).items()}
        KEPT.parent.mkdir(exist_ok=True)
        KEPT.write_text(json.dumps(fresh), encoding="utf-8")
    return Covered(
        {f: row["seconds"] for f, row in fresh.items()},
        {f: frozenset(row["entered"]) for f, row in fresh.items()},
    )
