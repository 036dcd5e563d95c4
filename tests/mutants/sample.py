"""The fixed sample: forty changes drawn by a seed over all areas, each with the test that catches it."""

import hashlib
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tests.mutants.places import Mutant

LISTED = Path(__file__).with_name("sample.toml")
SEED = 20
SHARES = {"formulas": 9, "data": 12, "recipe": 4, "forging": 5, "diffusion": 4, "hardening": 4, "report": 4}
HEAD = """# Made by `.venv/bin/python -m tests.mutants --draw`, which goes on where it stopped.
# `caught_by` is the test that fails; where it is empty, no test was found that does.
"""


@dataclass(frozen=True)
class Listed:
    """A change of the sample by its name, and the test that caught it when the sample was made, or ""."""

    mutant: str
    caught_by: str


def listed() -> tuple[Listed, ...]:
    """The sample as it is kept."""
    if not LISTED.exists():
        return ()
    rows = tomllib.loads(LISTED.read_text(encoding="utf-8")).get("change", ())
    return tuple(Listed(row["mutant"], row["caught_by"]) for row in rows)


def _lot(mutant: Mutant) -> str:
    return hashlib.sha256(f"{SEED} {mutant.name}".encode()).hexdigest()


def drawn(mutants: Iterable[Mutant]) -> list[Mutant]:
    """Of every area its share, by lots that hang on the place alone: an edit elsewhere changes no lot."""
    by_lot = sorted(mutants, key=_lot)
    chosen = [m for area, share in SHARES.items() for m in [m for m in by_lot if m.area == area][:share]]
    return sorted(chosen, key=_lot)


def keep(rows: Iterable[Listed]) -> None:
    """Write the sample down."""
    body = "".join(
        f"\n[[change]]\nmutant = '''{r.mutant}'''\ncaught_by = '''{r.caught_by}'''\n" for r in rows
    )
    LISTED.write_text(HEAD + body, encoding="utf-8")
