"""What happens to the metal, in order: geometry writes it down once, diffusion replays it.

All sizes are cold. A *piece* is a joined sequence of layers from the bottom up; a loose pile is
several pieces one on another. The list begins with one `Lay` (the stack: every plate a piece).
"""

from dataclasses import dataclass

from billet.forging.cut_shapes import Cut
from billet.recipe.model import Atmosphere, Layer


@dataclass(frozen=True)
class Copy:
    """A copy of the one joined bar as it was before; `turned` upside down."""

    turned: bool


@dataclass(frozen=True)
class Made:
    """A bar made first, as one of its columns ended; `turned` upside down. Its layers become `ratio` times
    as thick, as wide as they then are thinner: bars side by side are evened to one height."""

    bar: str
    column: int
    turned: bool
    ratio: float


@dataclass(frozen=True)
class Lay:
    """Pieces laid loose one on another, bottom up: copies of the bar, fresh plates, or bars made first."""

    step: int
    items: tuple[Copy | Layer | Made, ...]


@dataclass(frozen=True)
class HeatLoose:
    """A loose pile warms up before it joins: every face of every piece is open to the atmosphere."""

    step: int
    temperature_c: float
    minutes: float
    atmosphere: Atmosphere


@dataclass(frozen=True)
class Join:
    """The pile becomes one piece; neighbours of one steel become one layer."""

    step: int


@dataclass(frozen=True)
class Heat:
    """One fire of a joined bar at its size before it is forged.

    `minutes` at heat; `extra_minutes` is the time above 900 C while heating through (upper band).
    `scale_mm` is the metal that scale takes from bottom and top in this fire: the surface moves
    inwards by so much over the fire. Where only one face is of a steel that scales, the other is 0.
    """

    step: int
    fire: int
    temperature_c: float
    minutes: float
    extra_minutes: float
    atmosphere: Atmosphere
    scale_mm: tuple[float, float]


@dataclass(frozen=True)
class Mix:
    """From here on the layers reach every face of the bar alike; it is `height_mm` high by volume.

    `faces_known` tells that bottom and top are those that it had while its layers lay flat.
    """

    step: int
    height_mm: float
    faces_known: bool


@dataclass(frozen=True)
class HeatAlike:
    """One fire of a bar whose faces all layers reach: `height_mm` high before it, `scale_mm` off each face.

    Of the thickness of every layer `left` (0 to 1) is left after the scale.
    """

    step: int
    fire: int
    temperature_c: float
    minutes: float
    extra_minutes: float
    atmosphere: Atmosphere
    height_mm: float
    scale_mm: float
    left: float


@dataclass(frozen=True)
class Forge:
    """The thickness of all layers becomes `ratio` times what it was (after the fire's scale has gone), the
    height of the bar `height_ratio` times."""

    step: int
    ratio: float
    height_ratio: float | None = None
    """None where the layers lie one on another, and it is the same ratio."""


@dataclass(frozen=True)
class Remove:
    """Metal ground off bottom and top, mm."""

    step: int
    bottom_mm: float
    top_mm: float


@dataclass(frozen=True)
class RemoveAlike:
    """Metal ground off bottom and top of a bar whose faces all layers reach, `height_mm` high before it.

    Of the thickness of every layer `left` (0 to 1) is left.
    """

    step: int
    height_mm: float
    bottom_mm: float
    top_mm: float
    left: float


@dataclass(frozen=True)
class Carve:
    """Grooves or dimples cut into bottom and top of a bar, `height_mm` high by volume before it.

    `left` is None where the layers lie flat: each loses what lies in its depth. Else every layer keeps that
    share of its thickness.
    """

    step: int
    height_mm: float
    bottom: Cut | None
    top: Cut | None
    left: float | None


@dataclass(frozen=True)
class Done:
    """The step has ended: take the profile here."""

    step: int


Event = (
    Lay | HeatLoose | Join | Heat | HeatAlike | Forge | Remove | RemoveAlike | Carve | Mix | Done
)  # fmt: skip
