"""One hatch per steel in the manner of ISO 128: angle, spacing, weight. It survives grey print.

Neighbouring steels in the list differ in angle or density at first sight; the tint behind the lines
is only a second cue.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from web.charts.svg import element, line


@dataclass(frozen=True)
class Hatch:
    """Angle in degrees, spacing and stroke in user units; `crossed` adds the lines across."""

    angle_deg: float
    spacing: float
    weight: str
    crossed: bool = False


HATCHES = (
    Hatch(45, 4, "heavy"),
    Hatch(-45, 9, "light"),
    Hatch(0, 5, "light"),
    Hatch(45, 7, "light", crossed=True),
    Hatch(90, 4, "light"),
    Hatch(-45, 4, "heavy"),
    Hatch(0, 10, "heavy"),
    Hatch(0, 5, "light", crossed=True),
)


BAND_ANGLES = (-45.0, 45.0, 90.0, 0.0)


def hatch_of(index: int) -> Hatch:
    """The hatch of the steel at this place of the recipe; past eight the spacing grows."""
    base = HATCHES[index % len(HATCHES)]
    turn = index // len(HATCHES)
    return Hatch(base.angle_deg + 15 * turn, base.spacing + 3 * turn, base.weight, base.crossed)


def definitions(key: str, steels: Sequence[str]) -> Markup:
    """The patterns of all steels; a shape refers to one through `fill_of`."""
    return _definitions(key, range(len(steels)))


def _definitions(key: str, places: Iterable[int]) -> Markup:
    return element("defs", *(_pattern(key, index) for index in places))


def with_definitions(key: str, steels: Sequence[str], parts: Sequence[Markup]) -> list[Markup]:
    """The parts, with the patterns before them that any is filled with."""
    drawn = "".join(parts)
    filled = [i for i, steel in enumerate(steels) if fill_of(key, steels, steel) in drawn]
    return [_definitions(key, filled), *parts] if filled else list(parts)


def fill_of(key: str, steels: Sequence[str], steel: str) -> str:
    """Reference to the pattern of this steel."""
    return f"url(#{key}-hatch-{list(steels).index(steel)})"


def band_definitions(key: str, count: int) -> Markup:
    """Fine hatchings for bands of uncertainty, each at its own angle; see `band_fill`."""
    patterns = (
        element(
            "pattern",
            line((0, 2), (5, 2), "band-line"),
            id=f"{key}-band-{index}",
            width=5,
            height=5,
            patternUnits="userSpaceOnUse",
            patternTransform=f"rotate({BAND_ANGLES[index % len(BAND_ANGLES)]:g})",
        )
        for index in range(count)
    )
    return element("defs", *patterns)


def band_fill(key: str, index: int) -> str:
    """Reference to the fine hatching of the band with this index."""
    return f"url(#{key}-band-{index})"


def _pattern(key: str, index: int) -> Markup:
    hatch = hatch_of(index)
    size = hatch.spacing
    half = size / 2
    lines = [line((0, half), (size, half), f"hatch hatch-{hatch.weight}")]
    if hatch.crossed:
        lines.append(line((half, 0), (half, size), f"hatch hatch-{hatch.weight}"))
    ground = element(
        "rect", x=0, y=0, width=size, height=size, class_=f"ground ground-{index % len(HATCHES)}"
    )
    return element(
        "pattern",
        ground,
        *lines,
        id=f"{key}-hatch-{index}",
        width=size,
        height=size,
        patternUnits="userSpaceOnUse",
        patternTransform=f"rotate({-hatch.angle_deg:g})",
    )
