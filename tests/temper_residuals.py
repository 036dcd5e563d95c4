"""How far the model of tempering lies off printed hardness; run from the root of the repository.

`near`: with every printed curve in the model, as the product tells it. `far`: with every curve of an
analysis as near as that of the point left out, as for a steel that nobody printed.

    python tests/temper_residuals.py
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from billet.hardening.tempered_hardness import band_hrc, is_told, nearness, tempered_hrc
from billet.tables.tempering import TemperCurve, temper_curves

FILE = Path(__file__).parent / "published" / "tempering.toml"
SAME_ANALYSIS = 0.6
ADVISED_TO_C = 230.0
Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Residual:
    """Model less print at one point, with the band the model tells there. HRC."""

    steel: str
    temper_c: float
    off_hrc: float
    band_hrc: float


@dataclass(frozen=True)
class Spread:
    """Mean, standard deviation, the value nine in ten lie under, and the worst. HRC."""

    count: int
    mean: float
    sd: float
    nine_in_ten: float
    worst: float


def printed() -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = tomllib.loads(FILE.read_text(encoding="utf-8"))["temper"]
    return rows


def analysis(wt: Mapping[str, float]) -> dict[str, Array]:
    return {element: np.array([float(value)]) for element, value in wt.items()}


def all_martensite_hrc(carbon_wt: float) -> float:
    """A255 initial hardness, held above 0.697 % C."""
    c = min(carbon_wt, 0.697)
    return 33.087 + 50.723 * c + 33.662 * c**2 - 2.7048 * c**3 - 107.02 * c**4 + 43.523 * c**5


def residuals(far: bool) -> Iterator[Residual]:
    for row in printed():
        wt = analysis(row["wt"])
        curves = curves_without(row["wt"]) if far else temper_curves()
        if far and not bool(is_told(wt, curves)[0]):
            continue
        quenched = np.array([row.get("quenched_hrc", all_martensite_hrc(row["wt"]["C"]))])
        for temper_c, hrc in row["points"]:
            found = tempered_hrc(wt, quenched, temper_c, row["minutes"], curves)
            yield Residual(row["steel"], temper_c, float(found[0]) - hrc, float(band_hrc(wt, curves)[0]))


def curves_without(wt: Mapping[str, float]) -> tuple[TemperCurve, ...]:
    """Every curve but those of this analysis."""
    return tuple(c for c in temper_curves() if float(nearness(analysis(wt), c.wt)[0]) < SAME_ANALYSIS)


def spread(found: list[Residual]) -> Spread:
    off = np.array([r.off_hrc for r in found])
    size = np.abs(off)
    return Spread(
        len(off), float(off.mean()), float(off.std()), float(np.quantile(size, 0.9)), float(size.max())
    )


def inside(found: list[Residual]) -> float:
    return sum(abs(r.off_hrc) <= r.band_hrc for r in found) / len(found)


if __name__ == "__main__":
    for _name, far in (("near", False), ("far", True)):
        everything = list(residuals(far))
        advised = [r for r in everything if r.temper_c <= ADVISED_TO_C]
        for _where, _found in (("all", everything), ("to 230 C", advised)):
            pass
        for _r in sorted(everything, key=lambda r: -abs(r.off_hrc))[:5]:
            pass
