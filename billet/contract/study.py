"""What a study of a plan holds: the why behind the answer, beside the report and not inside it.

Units as in the report: `_c` degrees Celsius, `_k` a difference in kelvins, `_wt` wt%, shares and
phase amounts mass fractions 0 to 1. Estimates hold nine cases in ten. Empty sequences, never None.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from billet.contract.report import Estimate, MadeWith, Medium, Range, SourceRow, to_plain

STUDY_FORMAT = 1
Product = Literal["ferrite", "pearlite", "bainite"]


@dataclass(frozen=True)
class HeatPoint:
    """One steel after the soak at one temperature, and as quenched from there."""

    temperature_c: float
    hrc: Estimate
    retained_austenite: Estimate
    austenite_carbon_wt: Estimate
    carbide: Estimate


@dataclass(frozen=True)
class PublishedHardness:
    """A printed hardness of a grade: from which range, in what medium, tempered at (None: as quenched)."""

    harden_c: Range | None
    medium: str
    hrc: float
    temper_c: float | None
    source: str
    seen: str


@dataclass(frozen=True)
class HeatCurve:
    """A hardening layer over the hardening heat. Where `points` is empty, `because` tells why."""

    steel: str
    carbon_wt: float | None
    points: tuple[HeatPoint, ...]
    published: tuple[PublishedHardness, ...]
    because: str | None


@dataclass(frozen=True)
class WindowReason:
    """Why the bar's window ends where it does."""

    end: Literal["low", "high"]
    temperature_c: float
    set_by: str | None
    because: str


@dataclass(frozen=True)
class WindowEnd:
    """What a layer is at one end of the bar's window, or of its own where the bar has none."""

    steel: str
    end: Literal["low", "high"]
    of: Literal["bar", "own"]
    temperature_c: float
    austenite_carbon_wt: Estimate | None
    carbide: Estimate | None
    retained_austenite: Estimate | None
    hrc: Estimate | None
    words: str


@dataclass(frozen=True)
class TimeCurve:
    """Seconds on a clock that starts when the middle passes 700 C, and degrees Celsius; one length."""

    name: str
    time_s: tuple[float, ...]
    temperature_c: tuple[float, ...]


@dataclass(frozen=True)
class MediumCooling:
    """The middle of the blade in one medium; the rate is the mean from 700 to 550 C.

    `times_needed`: that rate over the critical rate of each steel it is computed for.
    """

    medium: Medium
    rate_k_s: Estimate
    times_needed: Mapping[str, float]
    curve: TimeCurve


@dataclass(frozen=True)
class StartOfTransformation:
    """When 1 % of anything but martensite has formed, held at each temperature, after Li (1998).

    `outside` lists what of the dissolved analysis lies outside the range it was fitted to; then it
    ranks steels within a factor of three and no better.
    """

    line: TimeCurve
    product: tuple[Product, ...]
    nose_s: float
    nose_c: float
    nose_product: Product
    outside: tuple[str, ...]
    note: str


@dataclass(frozen=True)
class LayerCooling:
    """What one hardening layer asks of the quench, by three routes. `because`: why none is computed.

    `within_s`: the latest time from 700 to 550 C, which is the critical rate told as seconds.
    `grossmann_plate_mm`: the plate with half martensite at its middle in oil, by severity (Grossmann).
    """

    steel: str
    dissolved_wt: Mapping[str, float]
    grain: float
    start: StartOfTransformation | None
    critical_rate_k_s: Estimate | None
    within_s: Estimate | None
    critical_rate_li_k_s: Estimate | None
    li_limited_by: Product | None
    ideal_diameter_mm: Estimate | None
    grossmann_plate_mm: Estimate | None
    outside_a255: tuple[str, ...]
    words: str
    because: str | None


@dataclass(frozen=True)
class CoolingStudy:
    thickness_mm: float
    thickness_assumed: bool
    medium: Medium | None
    media: tuple[MediumCooling, ...]
    steels: tuple[LayerCooling, ...]


@dataclass(frozen=True)
class FireRow:
    """One step in the fire against burning and against the range in which the pair forges."""

    step: int
    do: str
    temperature_c: float
    highest_carbon_wt: Mapping[str, float]
    burns_first: str
    solidus_c: float
    limit_c: float
    margin_k: float
    in_forging_range: bool | None
    bar: str | None
    """The bar made first that the step belongs to; None for the bar itself."""


@dataclass(frozen=True)
class ForgingStudy:
    """`range_c` is None where no grade has a published forging range, or where they do not meet."""

    range_c: Range | None
    low_by: str | None
    high_by: str | None
    words: str
    fires: tuple[FireRow, ...]


@dataclass(frozen=True)
class PaleSeam:
    """A seam of a restack where carbon is at its lowest, with what each side has further in. [mm, wt%]"""

    step: int
    position_mm: float
    least_wt: float
    inside_wt: float
    steel: str
    in_blade: bool


@dataclass(frozen=True)
class SkinStudy:
    """Depth below each face within which carbon is under `share` of the inside, and what to grind."""

    share: float
    bottom_mm: float
    top_mm: float
    grind_per_face_mm: float
    short_mm: float
    words: str
    seams: int
    pale_from_wt: float
    pale_seams: tuple[PaleSeam, ...]
    pale_words: str


@dataclass(frozen=True)
class MagnetRow:
    """Where a layer lets go of a magnet on heating, and how far over it the heat lies."""

    steel: str
    magnet_c: Estimate | None
    above_k: Estimate | None
    words: str


@dataclass(frozen=True)
class ColourRow:
    words: str
    from_c: float
    to_c: float
    spread_k: float
    practised_k: float
    source: str
    seen: str
    note: str


@dataclass(frozen=True)
class AirTime:
    """From the heat in still air to the low end of the window, and to where a layer may begin to turn.

    The second is None where no layer's lines are computed. `outside`: the thickness lies beyond what the
    formula is good for.
    """

    where: Literal["thickest section", "edge"]
    thickness_mm: float
    first_rate_k_s: float
    window_s: float | None
    turns_s: float | None
    outside: bool


@dataclass(frozen=True)
class HoldingStudy:
    """`heat_c` is the set point, or the least bad temperature, or None; without it nothing else is told.

    `turns_c`: the highest temperature at which the austenite of a hardening layer may begin to turn.
    """

    heat_c: float | None
    low_c: float | None
    turns_c: float | None
    turns_first: str | None
    magnet: tuple[MagnetRow, ...]
    colour: ColourRow | None
    air: tuple[AirTime, ...]
    words: str


@dataclass(frozen=True)
class Study:
    format: int
    title: str
    recipe_id: str
    made_with: MadeWith
    heat_c: float | None
    heat_is: Literal["set point", "least bad"] | None
    window_c: Range | None
    hardness: tuple[HeatCurve, ...]
    reasons: tuple[WindowReason, ...]
    ends: tuple[WindowEnd, ...]
    ends_told: tuple[str, ...]
    """One sentence for each hardening steel: what changes from the low end to the high one."""
    cooling: CoolingStudy
    forging: ForgingStudy
    skin: SkinStudy
    holding: HoldingStudy
    sources: tuple[SourceRow, ...]

    def to_dict(self) -> dict[str, Any]:
        """Plain dicts and lists, ready for JSON."""
        plain: dict[str, Any] = to_plain(self)
        return plain
