"""Which test files to hold against a change, and in which order.

A file is left out only where it is known not to enter the place: `--map` notes, once for a state of the
tree, the functions that each test file enters (kept in .pytest_cache). What is not noted is run. The files
that name the function, the key or the module most often come first.
"""

import hashlib
import json
import re
import tempfile
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
    """The text of each test file, and the functions it enters where that was noted."""

    texts: dict[str, str]
    entered: dict[str, frozenset[str]]

    def tests_of(self, mutant: Mutant) -> list[str]:
        """The test files that may enter the place of this change, those that name it most first."""
        wanted, named = _wanted(mutant), _named(mutant)
        files = [f for f in self.texts if f not in self.entered or wanted & self.entered[f]]
        return sorted(files, key=lambda f: (-_names(self.texts[f], named), f))


def _wanted(mutant: Mutant) -> set[str]:
    if not mutant.file.endswith(".toml"):
        return {f"{mutant.file}::{mutant.place}"}
    name = Path(mutant.file).name
    table = mutant.place.split("#")[0].split(".")[0]
    reader = (
        READERS.get(table) or READERS.get(name) or (READERS["hardening"] if "hardening" in name else None)
    )
    return {reader} if reader else {f"{name}/{table}"}


def _named(mutant: Mutant) -> dict[str, int]:
    """Words that a test of this place would hold, with their weight."""
    if mutant.file.endswith(".toml"):
        table = mutant.place.split("#")[0]
        return {mutant.place.rsplit(".", 1)[-1]: 3, table: 2}
    module = Path(mutant.file).with_suffix("").as_posix().replace("/", ".")
    room, stem = module.rsplit(".", 1)
    words = [] if mutant.place == "module" else mutant.place.split(".")
    return {**dict.fromkeys(words, 4), module: 4, stem: 2, room: 1}


def _names(text: str, named: dict[str, int]) -> int:
    return sum(weight * min(5, len(re.findall(rf"\b{re.escape(w)}\b", text))) for w, weight in named.items())


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


def _kept() -> dict[str, Any]:
    """What was noted before and still holds."""
    kept = json.loads(KEPT.read_text(encoding="utf-8")) if KEPT.exists() else {}
    now = states()
    return {f: row for f, row in kept.items() if now.get(f) == row["state"]}


def _see(copy: Copy, file: str) -> list[str] | None:
    with tempfile.TemporaryDirectory() as folder:
        seen = Path(folder) / "seen.json"
        code, _ = copy.run([file], LONGEST_S, plugin="tests.mutants.seen", seen=seen)
        return json.loads(seen.read_text(encoding="utf-8")) if code == PASSED and seen.exists() else None


def note_all(workers: int, say: Say) -> None:
    """Note what every test file enters that is not noted yet; each is kept as soon as it is known."""
    kept, now = _kept(), states()
    left = [f for f in now if f not in kept]
    KEPT.parent.mkdir(exist_ok=True)
    with copy_of_the_tree() as copy, ThreadPoolExecutor(workers) as pool:
        for file, entered in zip(left, pool.map(lambda f: _see(copy, f), left), strict=True):
            if entered is None:
                say(f"not noted, it does not pass under the trace and is always run: {file}")
                continue
            kept[file] = {"state": now[file], "entered": entered}
            KEPT.write_text(json.dumps(kept), encoding="utf-8")


def covered() -> Covered:
    """What is known of the tree as it stands, but for the pinned numbers, which are tried last."""
    texts = {f: (ROOT / f).read_text(encoding="utf-8") for f in test_files() if f != PINS}
    return Covered(texts, {f: frozenset(row["entered"]) for f, row in _kept().items()})
