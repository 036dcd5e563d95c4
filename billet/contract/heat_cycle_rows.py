"""Rows of the report on the heats around hardening: anneal, grain, skin, cold treatment, programmes."""

from dataclasses import dataclass
from typing import Literal

from billet.contract.values import Estimate


@dataclass(frozen=True)
class AnnealRow:
    """`cool_k_h` at most, from `temperature_c` down to `until_c`; None where the bar cools as it likes."""

    kind: Literal["subcritical", "controlled", "none"]
    temperature_c: float | None
    hold_min: float | None
    cool_k_h: float | None
    until_c: float | None
    needs_controller: bool
    because: str


@dataclass(frozen=True)
class GrainRow:
    """ASTM numbers of the coarsest hardening layer: the larger, the finer. None without a fire."""

    after_forging: Estimate | None
    after_cycles: Estimate | None
    basis: Literal["memory"]


@dataclass(frozen=True)
class SkinRow:
    """Depth under the worse face to nine tenths of the carbon that the face itself let out. [mm]

    Forging by the recipe's own fires; normalising and hardening each from a clean face, in air
    (`_mm`) and in a reducing atmosphere; behind sealed faces nothing is lost.
    """

    forging_mm: float
    normalising_mm: float
    hardening_mm: float
    normalising_reducing_mm: float
    hardening_reducing_mm: float


@dataclass(frozen=True)
class ColdTreatmentRow:
    because: str
    to_c: float
    hold_min: float
    steel: str
    retained_austenite: Estimate


@dataclass(frozen=True)
class SegmentRow:
    """`rate_k_h` None: as fast as the furnace goes. `hold_min` from when the furnace is there."""

    rate_k_h: float | None
    to_c: float
    hold_min: float
    note: str


@dataclass(frozen=True)
class ProgrammeRow:
    job: Literal["anneal", "normalise", "harden", "temper"]
    segments: tuple[SegmentRow, ...]
