"""The report: the one model that the page, its JSON twin, the command line and the sheets read.

Phase amounts and shares are mass fractions 0 to 1; `_wt` is wt% of an element; `_c` is a temperature
in degrees Celsius, `_k` a difference of temperatures in kelvins. Estimates hold nine cases in ten
between `low` and `high`. Every key stands on every row: None where it does not apply, empty lists
rather than None. No NaN, no infinity, no clock.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cache
from typing import Any, Literal

from billet.contract.forging_rows import (
    BladeRow,
    CarbonLost,
    CarbonRow,
    CarbonSpread,
    Difference,
    ElementContrast,
    HeatSize,
    LayerSize,
    LayerSum,
    Lost,
    MadeBarRow,
    MarksRow,
    PatternRow,
    Profile,
    ScheduleRow,
    SteelRow,
)
from billet.contract.hardening_rows import (
    Compromise,
    ControlRow,
    EdgeRow,
    HardeningRow,
    HardeningSteel,
    HeadlineRow,
    LeastBad,
    MethodRow,
    OwnOilRow,
    QuenchRow,
    QuenchSteel,
    Suffers,
    TemperRow,
    TemperSteel,
    TemperStep,
    TemperWanted,
    ThicknessRow,
)
from billet.contract.heat_cycle_rows import (
    AnnealRow,
    ColdTreatmentRow,
    GrainRow,
    ProgrammeRow,
    SegmentRow,
    SkinRow,
)
from billet.contract.values import (
    Estimate,
    Fact,
    Level,
    Medium,
    NoneBecause,
    QuenchVerdict,
    Range,
    Role,
    Verdict,
)

__all__ = [
    "REPORT_FORMAT",
    "AnnealRow",
    "BladeRow",
    "CarbonLost",
    "CarbonRow",
    "CarbonSpread",
    "ColdTreatmentRow",
    "Compromise",
    "ControlRow",
    "Difference",
    "EdgeRow",
    "ElementContrast",
    "Estimate",
    "GrainRow",
    "HardeningRow",
    "HardeningSteel",
    "HeadlineRow",
    "HeatSize",
    "LayerSize",
    "LayerSum",
    "LeastBad",
    "Level",
    "Lost",
    "MadeBarRow",
    "MadeWith",
    "MarksRow",
    "Medium",
    "MethodRow",
    "NoneBecause",
    "Notice",
    "OwnOilRow",
    "PatternRow",
    "Profile",
    "ProgrammeRow",
    "QuenchRow",
    "QuenchSteel",
    "QuenchVerdict",
    "Range",
    "Report",
    "Role",
    "ScheduleRow",
    "SegmentRow",
    "SkinRow",
    "SourceRow",
    "SteelRow",
    "Suffers",
    "TemperRow",
    "TemperSteel",
    "TemperStep",
    "TemperWanted",
    "ThicknessRow",
    "Verdict",
    "to_plain",
]

REPORT_FORMAT = 1


@dataclass(frozen=True)
class MadeWith:
    billet: str
    data: str


@dataclass(frozen=True)
class Notice:
    code: str
    level: Level
    where: str
    text: str
    values: Mapping[str, Fact] = field(default_factory=dict)
    """What the text tells, by name, in the units of the names; no fact has to be read out of the text."""


@dataclass(frozen=True)
class SourceRow:
    key: str
    citation: str
    used_for: str
    basis: Literal["published", "practice", "memory"]


@dataclass(frozen=True)
class Report:
    format: int
    title: str
    recipe: Mapping[str, Any]
    recipe_id: str
    bar_id: str
    defaults_used: tuple[str, ...]
    made_with: MadeWith
    schedule: tuple[ScheduleRow, ...]
    steels: tuple[SteelRow, ...]
    carbon: CarbonRow
    pattern: PatternRow
    blend: Mapping[str, float]
    blade: BladeRow | None
    headline: HeadlineRow
    hardening: HardeningRow
    quench: QuenchRow
    programmes: tuple[ProgrammeRow, ...]
    temper: TemperRow
    notices: tuple[Notice, ...]
    sources: tuple[SourceRow, ...]
    bars: tuple[MadeBarRow, ...] = ()
    """The bars made first, in the order in which they are made."""

    def to_dict(self) -> dict[str, Any]:
        """Plain dicts and lists with the keys of the contract, ready for JSON."""
        plain: dict[str, Any] = to_plain(self)
        return plain


def to_plain(value: Any) -> Any:
    """Dataclasses to dicts (a trailing underscore falls off a key), tuples to lists; the pattern's
    elements stand beside its other keys, as the contract has them."""
    kind: Any = type(value)
    if kind in _AS_THEY_ARE:
        return value
    if kind is tuple or kind is list:
        return list(value) if _AS_THEY_ARE.issuperset(map(type, value)) else [to_plain(v) for v in value]
    keys = _keys_of(kind)
    if keys is not None:
        plain = {key: to_plain(getattr(value, name)) for name, key in keys}
        return {**plain.pop("elements"), **plain} if kind is PatternRow else plain
    if isinstance(value, Mapping):
        return {k: to_plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [to_plain(v) for v in value]
    return value


_AS_THEY_ARE = frozenset({float, int, str, bool, type(None)})


@cache
def _keys_of(kind: Any) -> tuple[tuple[str, str], ...] | None:
    """Field and key of each field of a dataclass; None for what is none."""
    if not isinstance(kind, type) or not is_dataclass(kind):
        return None
    return tuple((field.name, field.name.rstrip("_")) for field in fields(kind))
