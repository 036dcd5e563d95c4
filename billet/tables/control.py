"""Ways of holding a temperature, and how far off each may be."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from billet.errors import OutOfDomain
from billet.tables.reading import read_toml


@dataclass(frozen=True)
class ControlMethod:
    """One way of holding a temperature; `half_width_k` stands at 815 C.

    `thermocouple` and `tolerance_class` are given where the half-width is a sum with the tolerance
    of a new wire, so that it can be told for another temperature.
    """

    key: str
    label: str
    half_width_k: float
    half_width_range_k: tuple[float, float] | None
    uniformity_k: float | None
    thermocouple: str | None
    tolerance_class: int | None
    instrument_k: float | None
    useful_above_magnet_k: tuple[float, float] | None
    largest_chromium_wt: float | None
    reads_high_by_up_to_k: float | None
    basis: str
    source: str
    where: str
    how: str


@dataclass(frozen=True)
class Unfit:
    """An instrument that must not be used, and why."""

    key: str
    label: str
    why: str
    basis: str
    source: str


def _method(row: dict[str, Any]) -> ControlMethod:
    spread, above = row.get("half_width_range_k"), row.get("useful_above_magnet_k")
    return ControlMethod(
        key=row["key"],
        label=row["label"],
        half_width_k=float(row["half_width_k"]),
        half_width_range_k=(float(spread[0]), float(spread[1])) if spread else None,
        uniformity_k=row.get("uniformity_k"),
        thermocouple=row.get("thermocouple"),
        tolerance_class=row.get("tolerance_class"),
        instrument_k=row.get("instrument_k"),
        useful_above_magnet_k=(float(above[0]), float(above[1])) if above else None,
        largest_chromium_wt=row.get("largest_chromium_wt"),
        reads_high_by_up_to_k=row.get("reads_high_by_up_to_k"),
        basis=row["basis"],
        source=row["source"],
        where=row["where"],
        how=row["how"],
    )


@cache
def control_methods() -> tuple[ControlMethod, ...]:
    """All methods, those with an instrument first."""
    return tuple(_method(row) for row in read_toml("control.toml")["method"])


@cache
def _by_key() -> dict[str, ControlMethod]:
    return {m.key: m for m in control_methods()}


def control_method(key: str) -> ControlMethod:
    """The method of this key. Raises OutOfDomain for a key that is not in the table."""
    found = _by_key().get(key)
    if found is None:
        raise OutOfDomain("method", key, f"one of {', '.join(_by_key())}")
    return found


def reference_c() -> float:
    """Temperature at which the half-widths of the table stand."""
    return float(read_toml("control.toml")["reference_c"])


@cache
def unfit_instrument() -> Unfit:
    """The instrument that must not be used for a hardening heat."""
    return Unfit(**read_toml("control.toml")["never"])
