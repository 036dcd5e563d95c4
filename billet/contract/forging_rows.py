"""Rows of the report on the bar: schedule, steels, carbon, pattern, blade."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from billet.contract.values import Range


@dataclass(frozen=True)
class HeatSize:
    """Height and length of the bar after one fire of a step (cold).

    `hot` is what a caliper shows at the end of that fire as a multiple of the cold size, where told.
    """

    height_mm: float
    length_mm: float
    hot: float | None = None


@dataclass(frozen=True)
class Lost:
    """Mass that left the bar in this step, kg."""

    scale: float
    grind: float
    trim: float
    kerf: float
    left_over: float
    cut: float
    """Cut away as grooves or dimples."""


@dataclass(frozen=True)
class MarksRow:
    """Where to mark grooves, dimples or a die on one face: middles from the handle end, as the bar lies after
    the step. `across_mm` is the distance of a line of dimples from the left side, None for what goes right
    across the bar."""

    face: Literal["bottom", "top"]
    across_mm: float | None
    along_mm: tuple[float, ...]


@dataclass(frozen=True)
class LayerSize:
    mean: float
    thinnest: float
    thickest: float


@dataclass(frozen=True)
class LayerSum:
    """How the layers of a row add up.

    The pile was laid of `pieces` of a bar of `bar_laid` layers, `bar_visible` to the eye, and of `plates`
    (0 pieces: plates alone), and of `bars` made first with so many layers laid and visible together. `seams`
    of like steel were closed in this step, None where nothing was joined; `gone` layers to the eye were lost
    to `gone_in` in it. Of bars side by side (columns) seams and what is gone are those of the most.
    """

    state: Literal["loose", "joined", "counted", "columns"]
    pieces: int
    bar_laid: int
    bar_visible: int
    plates: int
    laid: int
    visible: int
    seams: int | None
    gone: int
    gone_in: Literal["scale", "grinding"] | None
    bars: int = 0
    bars_laid: int = 0
    bars_visible: int = 0
    across: int = 0
    """Of the visible layers, those that go through all columns of a bar with bars side by side."""


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
    solid_height_mm: float
    """Height by volume: less than `height_mm` while grooves or dimples lie open."""
    each_heat: tuple[HeatSize, ...]
    loose: bool
    pieces: int
    piece_mm: float | None
    cut_marks_mm: tuple[float, ...]
    marks: tuple[MarksRow, ...]
    mass_kg: float
    lost_kg: Lost
    added_kg: float
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
    layer_sum: LayerSum
    alike: bool
    """The layers reach every face alike: twisted, cut and flattened, pressed, stood on end, split. Of bars
    side by side, those of at least one."""
    layers: tuple[tuple[str, float], ...]
    """Steel and thickness in mm from the bottom up; empty where there are more than 400 layers, where they
    reach every face alike, and where bars lie side by side."""
    planned_mm: tuple[float, float, float] | None = None
    """Height, width and length that were planned, where others were measured."""


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
    carbon_wt: CarbonSpread | None
    """None when none of the steel is left in the bar."""
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
    column: int
    """Which of the bars side by side, from the left; 0 where there is but one column."""


@dataclass(frozen=True)
class CarbonRow:
    mean_wt: float
    lost_g: CarbonLost
    difference_wt: Difference
    profiles: tuple[Profile, ...]
    skin_mm: tuple[float, float]
    """Depth poor in carbon at the bottom and the top of the finished bar."""
    sentence: str
    settled: bool | None
    """Whether carbon is level inside every steel of the bar's middle half; None with one steel."""


@dataclass(frozen=True)
class MadeBarRow:
    """A bar made first, by its name in [bars], of which `times` are made in all: rows and carbon of one."""

    name: str
    times: int
    schedule: tuple[ScheduleRow, ...]
    carbon: CarbonRow


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
    contrast_code: str
    """The same as a code: contrast-none, -greys-out, -weak, -clear or -strong."""


@dataclass(frozen=True)
class BladeRow:
    height_mm: float
    layers_visible: int
    layer_um: LayerSize
    mass_share: Mapping[str, float]
    carbon_wt: Mapping[str, CarbonSpread]
    line_spacing_mm: float | None
    """Distance of the lines on the bevel; None without an angle, and where layers do not lie flat."""
    least_edge_mm: float
    grind_per_face_mm: float
