"""What happens to the metal, in order: geometry writes it down once, diffusion replays it.

All sizes are cold. A *piece* is a joined sequence of layers from the bottom up; a loose pile is
several pieces one on another. The list begins with one `Lay` (the stack: every plate a piece).
"""

from dataclasses import dataclass

from billet.recipe.model import Atmosphere, Layer


@dataclass(frozen=True)
class Copy:
    """A copy of the one joined bar as it was before; `turned` upside down."""

    turned: bool


@dataclass(frozen=True)
class Lay:
    """Pieces laid loose one on another, bottom up: copies of the bar, or fresh plates."""

    step: int
    items: tuple[Copy | Layer, ...]


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
class Forge:
    """All heights of the piece become `ratio` times what they were (after the fire's scale has gone)."""

    step: int
    ratio: float


@dataclass(frozen=True)
class Remove:
    """Metal ground off bottom and top, mm."""

    step: int
    bottom_mm: float
    top_mm: float


@dataclass(frozen=True)
class Done:
    """The step has ended: take the profile here."""

    step: int


Event = Lay | HeatLoose | Join | Heat | Forge | Remove | Done
