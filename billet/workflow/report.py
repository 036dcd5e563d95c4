"""The report: the one model that the page, its JSON twin, the command line and the sheets read.

Phase amounts and shares are mass fractions 0 to 1; `_wt` is wt% of an element; `_c` is a temperature
in degrees Celsius, `_k` a difference of temperatures in kelvins. Estimates hold nine cases in ten
between `low` and `high`. Every key stands on every row: None where it does not apply, empty lists
rather than None. No NaN, no infinity, no clock.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Any, Literal

REPORT_FORMAT = 1

Role = Literal["hardens", "partly", "soft"]
Verdict = Literal["shared", "narrow", "none"]
NoneBecause = Literal["gap", "soft", "unknown"]
QuenchVerdict = Literal["shared", "compromise", "none"]
Medium = Literal[
    "brine", "water", "fast oil", "medium oil", "slow oil", "hot oil", "plates", "air"
]
Level = Literal["caution", "limit", "note"]
Range = tuple[float, float]


@dataclass(frozen=True)
class Estimate:
    """A value with the band that holds nine cases in ten."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class MadeWith:
    billet: str
    data: str


@dataclass(frozen=True)
class HeatSize:
    """Height and length of the bar after one fire of a step (cold)."""

    height_mm: float
    length_mm: float


@dataclass(frozen=True)
class Lost:
    """Mass that left the bar in this step, kg."""

    scale: float
    grind: float
    trim: float
    kerf: float
    left_over: float


@dataclass(frozen=True)
class LayerSize:
    mean: float
    thinnest: float
    thickest: float


@dataclass(frozen=True)
class ScheduleRow:
    """Row 0 is the cold stack, row n the bar after the n-th step; sizes are cold."""

    step: int
    do: str
    note: str | None
    temperature_c: float | None
    minutes: float | None
    heats: int | None
    fire_min: float | None
    atmosphere: str | None
    height_mm: float
    width_mm: float
    length_mm: float
    each_heat: tuple[HeatSize, ...]
    loose: bool
    pieces: int
    piece_mm: float | None
    cut_marks_mm: tuple[float, ...]
    mass_kg: float
    lost_kg: Lost
    yield_: float
    layers_laid: int
    layers_visible: int
    layer_um: LayerSize
    skin_um: Range
    mass_share: Mapping[str, float]
    carbon_wt: Mapping[str, float]
    stop_c: float | None
    reduction: float | None
    arithmetic: str
    layers: tuple[tuple[str, float], ...]
    """Steel and thickness in mm from the bottom up; empty where there are more than 400 layers."""


@dataclass(frozen=True)
class CarbonSpread:
    start: float
    mean: float
    p10: float
    p90: float
    min: float
    max: float


@dataclass(frozen=True)
class SteelRow:
    steel: str
    designation: str
    number: str | None
    aliases: tuple[str, ...]
    analysis: Literal["nominal", "given"]
    mass_share: float
    carbon_wt: CarbonSpread
    wt: Mapping[str, float]
    melt: str | None
    source: str | None
    seen: str | None


@dataclass(frozen=True)
class CarbonLost:
    faces: float
    metal: float


@dataclass(frozen=True)
class Difference:
    start: float
    now: float


@dataclass(frozen=True)
class Profile:
    """Carbon across the bar after a step, bottom to top; two points at each seam, at most 400."""

    step: int
    position_mm: tuple[float, ...]
    carbon_wt: tuple[float, ...]
    steel: tuple[str, ...]


@dataclass(frozen=True)
class CarbonRow:
    mean_wt: float
    lost_g: CarbonLost
    difference_wt: Difference
    profiles: tuple[Profile, ...]
    sentence: str


@dataclass(frozen=True)
class ElementContrast:
    start_wt: float
    now_wt: float
    left: float


@dataclass(frozen=True)
class PatternRow:
    elements: Mapping[str, ElementContrast]
    disturbed: bool
    finest_useful_um: float | None
    contrast: str
    """The expected etch contrast in words with its reason."""


@dataclass(frozen=True)
class BladeRow:
    height_mm: float
    layers_visible: int
    layer_um: LayerSize
    mass_share: Mapping[str, float]
    carbon_wt: Mapping[str, CarbonSpread]
    line_spacing_mm: float | None
    least_edge_mm: float
    grind_per_face_mm: float


@dataclass(frozen=True)
class Suffers:
    steel: str
    suffers: str


@dataclass(frozen=True)
class LeastBad:
    c: float
    per_steel: tuple[Suffers, ...]


@dataclass(frozen=True)
class HardeningSteel:
    steel: str
    role: Role
    role_because: str
    supplied_c: Range | None
    supplied_source: str | None
    supplied_basis: str | None
    preferred_c: Range | None
    possible_c: Range | None
    low_because: str | None
    high_because: str | None
    ae1_c: Estimate | None
    ae3_c: Estimate | None
    acm_c: Estimate | None
    austenite_carbon_wt: Estimate | None
    carbide: Estimate | None
    ms_c: Estimate | None
    retained_austenite: Estimate | None
    hrc: Estimate | None
    hrc_soft: Estimate | None


@dataclass(frozen=True)
class ControlRow:
    method: str | None
    label: str | None
    half_width_k: float
    fits: bool
    advice: str


@dataclass(frozen=True)
class MethodRow:
    method: str
    label: str
    half_width_k: float
    fits: bool
    how: str
    basis: str


@dataclass(frozen=True)
class HardeningRow:
    verdict: Verdict
    none_because: NoneBecause | None
    window_c: Range | None
    set_point_c: float | None
    gap_k: float | None
    low_set_by: str | None
    high_set_by: str | None
    because: str
    least_bad: LeastBad | None
    could_change: tuple[str, ...]
    normalise_c: tuple[float, ...]
    normalise_because: str
    soak_min: float | None
    soak_because: str | None
    per_steel: tuple[HardeningSteel, ...]
    control: ControlRow | None
    methods: tuple[MethodRow, ...]


@dataclass(frozen=True)
class ThicknessRow:
    thickness_mm: float
    verdict: QuenchVerdict
    medium: Medium | None


@dataclass(frozen=True)
class QuenchSteel:
    steel: str
    slowest: Medium | None
    fastest: Medium | None
    hardens_to_mm: Mapping[str, float]
    critical_rate_k_s: Estimate | None
    ideal_diameter_mm: Estimate | None
    because: str


@dataclass(frozen=True)
class Pays:
    steel: str
    how: str


@dataclass(frozen=True)
class QuenchRow:
    verdict: QuenchVerdict
    medium: Medium | None
    bath_c: Range | None
    by_thickness: tuple[ThicknessRow, ...]
    per_steel: tuple[QuenchSteel, ...]
    pays: tuple[Pays, ...]
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class TemperSteel:
    steel: str
    low: float
    high: float


@dataclass(frozen=True)
class TemperStep:
    temperature_c: float
    advised: bool
    why_not: str | None
    per_steel: tuple[TemperSteel, ...]


@dataclass(frozen=True)
class TemperRow:
    table: tuple[TemperStep, ...]
    governs: str | None
    cycles: int
    minutes: float
    because: str


@dataclass(frozen=True)
class Notice:
    code: str
    level: Level
    where: str
    text: str


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
    defaults_used: tuple[str, ...]
    made_with: MadeWith
    schedule: tuple[ScheduleRow, ...]
    steels: tuple[SteelRow, ...]
    carbon: CarbonRow
    pattern: PatternRow
    blend: Mapping[str, float]
    blade: BladeRow | None
    hardening: HardeningRow
    quench: QuenchRow
    temper: TemperRow
    notices: tuple[Notice, ...]
    sources: tuple[SourceRow, ...]

    def to_dict(self) -> dict[str, Any]:
        """Plain dicts and lists with the keys of the contract, ready for JSON."""
        plain: dict[str, Any] = to_plain(self)
        return plain


def to_plain(value: Any) -> Any:
    """Dataclasses to dicts (a trailing underscore falls off a key), tuples to lists; the pattern's
    elements stand beside its other keys, as the contract has them."""
    if isinstance(value, PatternRow):
        rest = {
            "disturbed": value.disturbed,
            "finest_useful_um": value.finest_useful_um,
            "contrast": value.contrast,
        }
        return {**{k: to_plain(v) for k, v in value.elements.items()}, **rest}
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name.rstrip("_"): to_plain(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, Mapping):
        return {k: to_plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [to_plain(v) for v in value]
    return value
