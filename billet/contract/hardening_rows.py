"""Rows of the report on the heat: hardening, quench, temper."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from billet.contract.heat_cycle_rows import AnnealRow, ColdTreatmentRow, GrainRow, SkinRow
from billet.contract.values import (
    Estimate,
    Grade,
    Medium,
    NoneBecause,
    QuenchVerdict,
    Range,
    Role,
    Verdict,
)


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
    magnet_c: Estimate | None
    """Where it lets go of a magnet on heating; None where a magnet says nothing."""


@dataclass(frozen=True)
class GivesUp:
    """What a steel loses where the fire swings out of its good range."""

    at_c: float
    steel: str
    code: str
    text: str


@dataclass(frozen=True)
class ControlRow:
    method: str | None
    label: str | None
    half_width_k: float
    fits: bool
    grade: Grade
    advice: str


@dataclass(frozen=True)
class MethodRow:
    method: str
    label: str
    half_width_k: float
    fits: bool
    grade: Grade
    how: str
    basis: str


@dataclass(frozen=True)
class HardeningRow:
    verdict: Verdict
    none_because: NoneBecause | None
    window_c: Range | None
    works_c: Range | None
    set_point_c: float | None
    loss: float | None
    grade: Grade | None
    good_within_k: float | None
    works_within_k: float | None
    """The roughest fire about the set point that is good, and that works, down to a kelvin as written."""
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
    heat_through_min: float | None
    """Beside the soak: until the middle of the blade is at heat, chamber 50 K hotter."""
    anneal: AnnealRow
    grain: GrainRow
    skin: SkinRow
    cold_treatment: ColdTreatmentRow | None
    per_steel: tuple[HardeningSteel, ...]
    control: ControlRow | None
    methods: tuple[MethodRow, ...]
    gives_up: tuple[GivesUp, ...]


@dataclass(frozen=True)
class ThicknessRow:
    thickness_mm: float
    verdict: QuenchVerdict
    medium: Medium | None
    grade: str | None = None


@dataclass(frozen=True)
class QuenchSteel:
    """What one steel would take alone; `hardens_to_mm` is told up to 30 mm, which stands for more.

    `grades` and `margin` by bath at the blade's own section: good, works or no, and the spine's cooling
    over `asked_k_s`. Depth and grade stand on the rate asked for, the estimate is the band around its value.
    """

    steel: str
    slowest: Medium | None
    fastest: Medium | None
    hardens_to_mm: Mapping[str, float]
    critical_rate_k_s: Estimate | None
    ideal_diameter_mm: Estimate | None
    because: str
    grades: Mapping[str, str] = field(default_factory=dict)
    margin: Mapping[str, float] = field(default_factory=dict)
    asked_k_s: float | None = None


@dataclass(frozen=True)
class OwnOilRow:
    """What an oil of the smith's own does by this bar; `medium` is the class it counts as."""

    name: str
    medium: str
    nickel_ball_s: float | None
    grade: str
    hardens_to_mm: float | None
    edge_hrc: Mapping[str, Estimate | None]
    spine_hrc: Mapping[str, Estimate | None]
    because: str


@dataclass(frozen=True)
class EdgeRow:
    """What the edge is made of when it is quenched: layers, steels from one face on, mean carbon by steel."""

    layers: int
    steels: tuple[str, ...]
    carbon_wt: Mapping[str, float]


@dataclass(frozen=True)
class Compromise:
    steel: str
    how: str


@dataclass(frozen=True)
class QuenchRow:
    verdict: QuenchVerdict
    medium: Medium | None
    bath_c: Range | None
    by_thickness: tuple[ThicknessRow, ...]
    per_steel: tuple[QuenchSteel, ...]
    pays: tuple[Compromise, ...]
    reasons: tuple[str, ...]
    grade: str | None = None
    also: tuple[Medium, ...] = ()
    in_shop: tuple[OwnOilRow, ...] = ()
    edge: EdgeRow | None = None


@dataclass(frozen=True)
class HeadlineRow:
    """The answer in one sentence, and what to do.

    `fire` grades the fire that was told (the steels alone where none is), `oil` the bath: "works" too where
    a layer may crack in it. Both are "no" without a set point. `own_oil` is the smith's oil it is about.
    """

    fire: Grade
    oil: Grade
    code: str
    own_oil: str | None
    text: str
    do: str


@dataclass(frozen=True)
class TemperSteel:
    """Hardness of a steel after a temper, HRC: nine of ten between `low` and `high`."""

    steel: str
    low: float
    value: float
    high: float


@dataclass(frozen=True)
class TemperStep:
    """One temperature; `minutes` at heat of all cycles together."""

    temperature_c: float
    minutes: float
    advised: bool
    why_not: str | None
    per_steel: tuple[TemperSteel, ...]


@dataclass(frozen=True)
class TemperWanted:
    """What brings the softest layer of the edge to the hardness the recipe asks for.

    `temperature_c` is None out of reach; `minutes` of all cycles together; `why_not` says why it is out of
    reach or advised against.
    """

    hrc: float
    temperature_c: float | None
    minutes: float
    advised: bool
    why_not: str | None
    per_steel: tuple[TemperSteel, ...]


@dataclass(frozen=True)
class TemperRow:
    """`minutes` of one cycle; `not_told` names hardening steels without a figure; `brittle_c` is the range
    the bar stays out of. `begin` says when to begin, `notes` whence the figures come; `because` is both."""

    wanted: TemperWanted | None
    table: tuple[TemperStep, ...]
    governs: str | None
    not_told: tuple[str, ...]
    advised_c: Range | None
    brittle_c: Range | None
    cycles: int
    minutes: float
    begin: str | None
    notes: tuple[str, ...]
    because: str
