"""Words and small values that many rows of the report share."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Role = Literal["hardens", "partly", "soft"]
Verdict = Literal["shared", "narrow", "none"]
NoneBecause = Literal["gap", "soft", "unknown"]
QuenchVerdict = Literal["shared", "compromise", "none"]
Medium = Literal["brine", "water", "fast oil", "medium oil", "slow oil", "hot oil", "plates", "air"]
Grade = Literal["good", "works", "no"]
Level = Literal["caution", "limit", "note"]
Range = tuple[float, float]


@dataclass(frozen=True)
class Estimate:
    """A value with the band that holds nine cases in ten."""

    value: float
    low: float
    high: float


Fact = str | float | int | bool | None | tuple[str, ...] | tuple[float, ...]


@dataclass(frozen=True)
class Reason:
    """Why a rule decided as it did: a code and the values it decided on, in SI shop units by name.

    Rules return reasons; `billet.report.words` alone turns them into sentences, every figure of which
    comes from `values`.
    """

    code: str
    values: Mapping[str, Fact] = field(default_factory=dict)


@dataclass(frozen=True)
class Finding:
    """A reason that the reader is warned of: how grave it is and where in the recipe it sits."""

    reason: Reason
    level: Level
    where: str
