"""Words and small values that many rows of the report share."""

from dataclasses import dataclass
from typing import Literal

Role = Literal["hardens", "partly", "soft"]
Verdict = Literal["shared", "narrow", "none"]
NoneBecause = Literal["gap", "soft", "unknown"]
QuenchVerdict = Literal["shared", "compromise", "none"]
Medium = Literal["brine", "water", "fast oil", "medium oil", "slow oil", "hot oil", "plates", "air"]
Level = Literal["caution", "limit", "note"]
Range = tuple[float, float]


@dataclass(frozen=True)
class Estimate:
    """A value with the band that holds nine cases in ten."""

    value: float
    low: float
    high: float
