"""One view of a bar: what is asked, what it will show, and the greys of its pixels."""

import math
from dataclasses import dataclass, replace

import numpy as np

from billet.contract.face import FaceFacts, View
from billet.errors import OutOfDomain
from billet.pattern.bar import SolidBar
from billet.pattern.cost import MOST_NS, pixel_ns
from billet.pattern.cut_planes import VIEWS, Bevel, Plane, plane_of
from billet.pattern.points import Floats
from billet.pattern.seen import seen_in
from billet.pattern.solid import grey_at
from billet.recipe.model import Blade

USUAL_GROUND_MM = 0.3
USUAL_WIDTH_PX = 1200
USUAL_HALF_ANGLE_DEG = 4.0
LONGEST_TIMES = 8.0
"""What is shown along the bar is at most so many times as long as it is high."""
LEAST_PX, MOST_PX, MOST_PIXELS = 16, 6000, 4_000_000
STRIP_ROWS = 64


@dataclass(frozen=True)
class Asked:
    """A view and how it is wanted; None stands for what is usual.

    `ground_mm` off that face, edge or end; the flank takes it off both flats where no blade is told.
    `from_mm` and `length_mm`: what is shown along the bar. The others shape the blade of the flank.
    """

    view: View = "face"
    width_px: int = USUAL_WIDTH_PX
    ground_mm: float | None = None
    hand: bool = True
    from_mm: float | None = None
    length_mm: float | None = None
    half_angle_deg: float | None = None
    blade_width_mm: float | None = None


@dataclass(frozen=True)
class Framed:
    """A view that is ready to be drawn."""

    facts: FaceFacts
    plane: Plane


def framed(bar: SolidBar, blade: Blade | None, asked: Asked) -> Framed:
    """What a view will show, and how large. Raises OutOfDomain for what cannot be cut or drawn."""
    bevel, ground_mm, from_mm, plane = _cut(bar, blade, asked)
    rows = _rows(asked, plane)
    _check_work(bar, asked.width_px, rows)
    angle = bevel.half_angle_deg if asked.view == "bevel" else None
    facts = FaceFacts(
        asked.view, plane.wide_mm, plane.high_mm, 0.0 if asked.view == "end" else from_mm, ground_mm,
        asked.width_px, rows, asked.hand, angle, seen_in(bar, asked.view, ground_mm, asked.hand, angle),
    )  # fmt: skip
    return Framed(facts, plane)


def fitting(bar: SolidBar, blade: Blade | None, asked: Asked) -> Asked:
    """The view as asked; where that would be more pixels than are drawn, as much narrower as it must be.

    Raises OutOfDomain for what cannot be cut.
    """
    plane = _cut(bar, blade, asked)[-1]
    if _rows(asked, plane) * asked.width_px <= _most_pixels(bar):
        return asked
    widest = math.isqrt(int(0.99 * _most_pixels(bar) * plane.wide_mm / plane.high_mm))
    return replace(asked, width_px=max(widest, LEAST_PX))


def _rows(asked: Asked, plane: Plane) -> int:
    return max(round(asked.width_px * plane.high_mm / plane.wide_mm), 1)


def _cut(bar: SolidBar, blade: Blade | None, asked: Asked) -> tuple[Bevel, float, float, Plane]:
    """The bevel of a flank, what is ground off, from where it is shown, and the plane that is cut."""
    size = bar.size
    _check(asked, bar)
    ground_mm = _ground_mm(asked, bar, blade)
    bevel = _bevel(asked, bar, blade, ground_mm)
    sizes = (size.width_mm, size.height_mm, size.length_mm)
    high_mm = plane_of(asked.view, sizes, ground_mm, 0.0, 1.0, bevel).high_mm
    shown_mm = min(asked.length_mm or LONGEST_TIMES * high_mm, size.length_mm)
    middle_mm = 0.5 * (size.length_mm - shown_mm)
    from_mm = min(middle_mm if asked.from_mm is None else asked.from_mm, size.length_mm - shown_mm)
    plane = plane_of(asked.view, sizes, ground_mm, from_mm, shown_mm, bevel)
    return bevel, ground_mm, from_mm, plane


def drawn(bar: SolidBar, frame: Framed) -> Floats:
    """Greys of the pixels, (rows, columns) from 0 (black) to 1 (white), in strips that take little memory."""
    facts, plane = frame.facts, frame.plane
    right = np.linspace(0.0, plane.wide_mm, facts.columns + 1)[None, :]
    down = np.linspace(0.0, plane.high_mm, facts.rows + 1)[:, None]
    found = np.empty((facts.rows, facts.columns))
    for row in range(0, facts.rows, STRIP_ROWS):
        corners = plane.points(right, down[row : row + STRIP_ROWS + 1])
        found[row : row + STRIP_ROWS] = grey_at(bar.solid, corners, facts.hand)
    return found


def _check_work(bar: SolidBar, columns: int, rows: int) -> None:
    """Refuse what would take too much memory or time, before it is drawn."""
    most = _most_pixels(bar)
    if rows * columns > most:
        rule = f"so few that the picture has at most {most} pixels; it would be {rows} high"
        raise OutOfDomain("width of the picture in pixels", columns, rule)


def _most_pixels(bar: SolidBar) -> int:
    return min(MOST_PIXELS, int(MOST_NS / pixel_ns(bar.solid)))


def _check(asked: Asked, bar: SolidBar) -> None:
    if asked.view not in VIEWS:
        raise OutOfDomain("view", repr(asked.view)[:40], f"one of {', '.join(VIEWS)}")
    if not LEAST_PX <= asked.width_px <= MOST_PX:
        raise OutOfDomain("width of the picture in pixels", asked.width_px, f"{LEAST_PX} to {MOST_PX}")
    size = bar.size
    bounds = (
        ("from_mm", asked.from_mm, 0.0, size.length_mm),
        ("length_mm", asked.length_mm, 1.0, None),
        ("half angle of the bevel in degrees", asked.half_angle_deg, 0.5, 45.0),
        ("width of the blade in mm", asked.blade_width_mm, 1.0, size.width_mm),
    )
    for name, value, low, high in bounds:
        if value is None:
            continue
        if not math.isfinite(value) or value < low or (high is not None and value > high):
            rule = f"at least {low:g}" if high is None else f"{low:g} to {high:.4g}"
            raise OutOfDomain(name, value, rule)


def _ground_mm(asked: Asked, bar: SolidBar, blade: Blade | None) -> float:
    size = bar.size
    half_mm = 0.5 * size.height_mm
    through_mm = {"face": size.height_mm, "edge": size.width_mm, "end": size.length_mm, "bevel": half_mm}
    most_mm = through_mm[asked.view]
    if asked.ground_mm is not None:
        if not math.isfinite(asked.ground_mm) or not 0.0 <= asked.ground_mm < most_mm:
            raise OutOfDomain("mm ground off", asked.ground_mm, f"from 0 to under {most_mm:.4g}")
        return asked.ground_mm
    if asked.view == "bevel" and blade is not None:
        return max(half_mm - 0.5 * blade.thickness_mm, 0.0)
    return min(USUAL_GROUND_MM, 0.25 * most_mm)


def _bevel(asked: Asked, bar: SolidBar, blade: Blade | None, ground_mm: float) -> Bevel:
    """The blade of the flank: as asked, else as the recipe tells, else what is usual."""
    size = bar.size
    told_deg = blade.bevel_half_angle_deg if blade is not None else None
    told_mm = blade.width_mm if blade is not None else None
    at_face = blade is not None and blade.edge_at == "face"
    off_mm = ground_mm if asked.view == "bevel" else 0.0
    thickness_mm = size.height_mm - 2.0 * off_mm
    return Bevel(
        thickness_mm,
        asked.half_angle_deg or told_deg or USUAL_HALF_ANGLE_DEG,
        min(asked.blade_width_mm or told_mm or size.width_mm, size.width_mm),
        off_mm if at_face else 0.5 * size.height_mm,
        at_face,
    )
