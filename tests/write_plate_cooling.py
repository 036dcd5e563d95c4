"""Writes the two tables of plate cooling anew after a film or the solver has changed.

python tests/write_plate_cooling.py
"""

import csv
import sys
from dataclasses import asdict, fields
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT))

from billet.formulas.plate_cooling import Film  # noqa: E402
from billet.formulas.plate_table import CurveRow, RateRow, curve_rows, rate_rows  # noqa: E402
from billet.tables.media import forced_air, media  # noqa: E402
from billet.tables.plate_cooling import CURVES, TABLE  # noqa: E402


def films() -> dict[str, Film]:
    """The films of all media and of the air blast, by name."""
    return {m.name: Film(m.film, m.film_bath_c, m.emissivity) for m in (*media(), forced_air())}


def shown(value: float | str) -> str:
    """A number with five digits, a name as it is."""
    return value if isinstance(value, str) else f"{value:.5g}"


def write(name: str, rows: list[RateRow] | list[CurveRow]) -> None:
    """Write a table into the data of the package."""
    with (ROOT / "billet" / "data" / name).open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow([f.name for f in fields(rows[0])])
        writer.writerows([shown(v) for v in asdict(row).values()] for row in rows)


if __name__ == "__main__":
    write(TABLE, rate_rows(films()))
    write(CURVES, curve_rows(films()))
