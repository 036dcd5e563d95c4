"""What the temper takes and what it decides: layers in, rows and reasons out."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from billet.contract.values import Reason
from billet.tables.tempering import TemperCurve

Array = npt.NDArray[np.float64]


class TemperedLayer(Protocol):
    """What the temper asks of a layer; LayerSamples has it."""

    @property
    def name(self) -> str: ...
    @property
    def wt(self) -> Mapping[str, Array]: ...
    @property
    def weight(self) -> Array: ...
    @property
    def at_edge(self) -> Array: ...


class Quenched(Protocol):
    """A layer as the plan takes it (sample 0) and with one input moved in every other, before the temper:
    analysis and hardness as quenched, each (samples,); austenite_state.Varied is one."""

    @property
    def wt(self) -> Mapping[str, Array]: ...
    @property
    def hrc(self) -> Array: ...


@dataclass(frozen=True)
class TemperedSteel:
    """Hardness of one steel after a temper, with the band that holds nine of ten. [HRC]"""

    steel: str
    low: float
    value: float
    high: float


@dataclass(frozen=True)
class TemperedStep:
    """One temperature; `minutes` of all cycles together. `why_not` where it is advised against."""

    temperature_c: float
    minutes: float
    why_not: Reason | None
    per_steel: tuple[TemperedSteel, ...]


@dataclass(frozen=True)
class WantedTemper:
    """What gives the wanted hardness at the softest layer of the edge; no temperature out of reach."""

    hrc: float
    temperature_c: float | None
    minutes: float
    reason: Reason | None
    per_steel: tuple[TemperedSteel, ...]


@dataclass(frozen=True)
class TemperDecision:
    """The temper decided. `minutes` of one cycle; `not_told` names hardening steels without a figure."""

    wanted: WantedTemper | None
    table: tuple[TemperedStep, ...]
    governs: str | None
    not_told: tuple[str, ...]
    advised_c: tuple[float, float] | None
    brittle_c: tuple[float, float] | None
    cycles: int
    minutes: float
    reasons: tuple[Reason, ...]
    curves: Mapping[str, tuple[TemperCurve, ...]]
    """By steel: the printed curves that its figures are moved to."""
