"""Printed hardness after tempering, by grade: its own curve, or that of the nearest relative."""

from dataclasses import dataclass
from functools import cache

from billet.tables.reading import read_toml
from billet.tables.steels import HardeningRow, Seen, Steel, find_steel

LEAST_POINTS = 2
STILL_AS_QUENCHED_C = 100.0
"""Up to here a temper takes no hardness off. Common practice; the printed series of W2 agrees, with
67 HRC as quenched and after 93 C."""


@dataclass(frozen=True)
class TemperCurve:
    """Hardness against tempering temperature.

    `points` are (temper C, HRC) in rising order; `anchored` tells that the first is not printed but
    the as-quenched hardness set at 100 C. `source` and `seen` are those of the printed row.
    `relative_of` is the designation whose curve this is when the grade has none of its own, with
    `why` it was chosen (own construction).
    """

    points: tuple[tuple[float, float], ...]
    as_quenched_hrc: float | None
    anchored: bool
    source: str
    seen: Seen
    note: str
    relative_of: str | None
    why: str


@cache
def curve_for(steel_id: str) -> TemperCurve | None:
    """The tempering curve for a grade (its id or any name of its own); None where nothing fits.

    Raises UnknownSteel or AmbiguousSteel as find_steel does.
    """
    steel = find_steel(steel_id)
    row = _printed(steel)
    if row is not None:
        return _curve(row, None, "")
    relatives = read_toml("tempering.toml")["relatives"]
    if steel.id not in relatives:
        return None
    choice = relatives[steel.id]
    relative = find_steel(choice["like"])
    borrowed = _printed(relative)
    if borrowed is None:
        raise LookupError(f"{steel.id} borrows the tempering curve of {relative.id}, which has none")
    return _curve(borrowed, relative.designation, choice["why"])


def _printed(steel: Steel) -> HardeningRow | None:
    """The row with the most printed points, the working row where two have as many."""
    rows = [row for row in steel.hardening if len(_points(row)) >= LEAST_POINTS and not row.outlier]
    return max(rows, key=lambda row: (len(_points(row)), row.working), default=None)


def _points(row: HardeningRow) -> list[tuple[float, float]]:
    return sorted((temper_c, hrc) for hrc, temper_c in row.hardness if temper_c is not None)


def _curve(row: HardeningRow, relative_of: str | None, why: str) -> TemperCurve:
    points = _points(row)
    as_quenched = next((hrc for hrc, temper_c in row.hardness if temper_c is None), None)
    anchored = as_quenched is not None and points[0][0] > STILL_AS_QUENCHED_C
    if as_quenched is not None and anchored:
        points.insert(0, (STILL_AS_QUENCHED_C, as_quenched))
    return TemperCurve(tuple(points), as_quenched, anchored, row.source, row.seen, row.note, relative_of, why)
