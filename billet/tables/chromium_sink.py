"""Carbon in high-chromium grades: activity against total carbon and temperature, carbides allowed."""

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from billet.tables.reading import read_csv, read_toml

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class SinkGrade:
    """One grade of the table: its metals in wt% and the figures on a grid.

    temperature_c: (temperatures,); carbon_wt: (contents,), total carbon; the others
    (temperatures, contents). `austenite_carbon_wt` is nan where there is no austenite.
    """

    name: str
    metals_wt: dict[str, float]
    temperature_c: Floats
    carbon_wt: Floats
    activity: Floats
    austenite_carbon_wt: Floats
    carbide_frac: Floats
    liquid_frac: Floats


def _metals(text: str) -> dict[str, float]:
    """{"Si": 0.5, "Cr": 18.2} from "0.5Si 18.2Cr"."""
    found = {}
    for part in text.split():
        digits = part.rstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz")
        found[part[len(digits) :]] = float(digits)
    return found


@cache
def sink_grades() -> tuple[SinkGrade, ...]:
    """All grades of the table, in the order of the file."""
    grades: dict[str, list[dict[str, str]]] = {}
    for row in read_csv("chromium_sink.csv"):
        grades.setdefault(row["grade"], []).append(row)
    return tuple(_grade(name, rows) for name, rows in grades.items())


def _grade(name: str, rows: list[dict[str, str]]) -> SinkGrade:
    temperatures = sorted({float(row["T_C"]) for row in rows})
    carbons = np.array(sorted({float(row["C_total_wt"]) for row in rows}))
    columns = ("aC_graphite", "C_in_austenite_wt", "carbide_wf", "liquid_wf")
    planes = {column: np.empty((len(temperatures), len(carbons))) for column in columns}
    for place, temperature in enumerate(temperatures):
        here = [row for row in rows if float(row["T_C"]) == temperature]
        at = [float(row["C_total_wt"]) for row in here]
        for column in columns:
            values = [float(row[column]) if row[column] else np.nan for row in here]
            # One point of one grade was not computed; it lies between its neighbours.
            planes[column][place] = np.interp(carbons, at, values)
    return SinkGrade(name, _metals(rows[0]["base_wt"]), np.array(temperatures), carbons, *planes.values())


def sink_limits() -> dict[str, float]:
    """How far each metal may lie from the nearest grade before it is told, wt%."""
    return {element: float(value) for element, value in read_toml("chromium_sink.toml")["limits"].items()}
