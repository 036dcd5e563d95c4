"""Which steel beside which: separate verdicts, each with its reasons, never one score."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from billet.contract.report import to_plain
from billet.contract.values import Grade, Medium, NoneBecause, Range, Reason

PairVerdict = Literal["good", "works", "no", "unknown"]


@dataclass(frozen=True)
class Judged:
    """One verdict with its reasons; `because` holds the same in words once they are worded."""

    verdict: PairVerdict
    reasons: tuple[Reason, ...]
    because: tuple[str, ...] = ()


@dataclass(frozen=True)
class PairWeld(Judged):
    """Forging range that both share, and the burning limit of the one that burns first. [C]"""

    forge_c: Range | None = None
    burns_c: float | None = None


@dataclass(frozen=True)
class PairHardening(Judged):
    """Hardening together with levelled carbon. `grade` is that of the fire that was told;
    `good_within_k` and `works_within_k` tell which fire would do."""

    grade: Grade | None = None
    none_because: NoneBecause | None = None
    window_c: Range | None = None
    works_c: Range | None = None
    set_point_c: float | None = None
    gap_k: float | None = None
    good_within_k: float | None = None
    works_within_k: float | None = None


@dataclass(frozen=True)
class PairOil(Judged):
    """The class of bath for the pair, and the best of the smith's own oils with its grade."""

    medium: Medium | None = None
    own: str | None = None
    own_grade: Grade | None = None


@dataclass(frozen=True)
class PairMs(Judged):
    """How far apart the two begin to become martensite, and the band that holds nine cases in ten. [K]"""

    apart_k: float | None = None
    apart_band_k: Range | None = None


@dataclass(frozen=True)
class PairContrast(Judged):
    """The metal that shows most in an etch, and by how much the two differ in it. [wt%]"""

    element: str | None = None
    difference_wt: float = 0.0


@dataclass(frozen=True)
class PartnerRow:
    """One partner. `carbon_wt` is what each of the two holds once carbon has evened out."""

    steel: str
    number: str
    carbon_wt: Mapping[str, float]
    weld: PairWeld
    hardens: PairHardening
    oil: PairOil
    ms: PairMs
    contrast: PairContrast

    @property
    def ms_apart_k(self) -> float | None:
        """How far apart the two begin to become martensite. [K]"""
        return self.ms.apart_k


VERDICTS: tuple[str, ...] = ("weld", "hardens", "oil", "ms", "contrast")
"""The verdicts of a row, in the order in which they are told."""


@dataclass(frozen=True)
class Partners:
    """All partners of one steel. `share` is its part of the mass, `level_c` where carbon was levelled."""

    steel: str
    share: float
    half_width_k: float
    section_mm: float
    level_c: float
    oils: tuple[str, ...]
    rows: tuple[PartnerRow, ...]

    def to_dict(self) -> dict[str, Any]:
        """As plain dicts and lists, ready for JSON."""
        found: dict[str, Any] = to_plain(self)
        for row in found["rows"]:
            row["ms_apart_k"] = row["ms"]["apart_k"]
        return found


@dataclass(frozen=True)
class PartnerTable:
    """Every steel of the library beside every other: for each verdict a row of words a steel, None where
    a steel would meet itself."""

    steels: tuple[str, ...]
    share: float
    half_width_k: float
    verdicts: Mapping[str, tuple[tuple[PairVerdict | None, ...], ...]]

    def to_dict(self) -> dict[str, Any]:
        """As plain dicts and lists, ready for JSON."""
        found: dict[str, Any] = to_plain(self)
        return found
