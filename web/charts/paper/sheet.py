"""What drawings on paper share: their size in millimetres, the scales they may have, their letters."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from web.charts.svg import element, number

PX = 96.0 / 25.4
"""User units to one millimetre of paper."""
LETTER_MM = 4.24
"""Twelve points, the least that stands on a sheet."""
SCALES = (
    (5.0, "5:1"), (2.0, "2:1"), (1.0, "1:1"), (1 / 1.5, "1:1.5"), (1 / 2, "1:2"), (1 / 2.5, "1:2.5"),
    (1 / 3, "1:3"), (1 / 4, "1:4"), (1 / 5, "1:5"), (1 / 7.5, "1:7.5"), (1 / 10, "1:10"), (1 / 15, "1:15"),
    (1 / 20, "1:20"), (1 / 50, "1:50"), (1 / 100, "1:100"),
)  # fmt: skip


@dataclass(frozen=True)
class DrawingScale:
    """Millimetres of paper to one of the thing, and its name."""

    ratio: float
    name: str

    def __call__(self, mm: float) -> float:
        """User units of a length of the thing."""
        return mm * self.ratio * PX


def scale_for(lengths_mm: Sequence[tuple[float, float]]) -> DrawingScale:
    """The largest scale at which every length (thing, room on paper) has room."""
    for ratio, name in SCALES:
        if all(thing * ratio <= room for thing, room in lengths_mm):
            return DrawingScale(ratio, name)
    return DrawingScale(*SCALES[-1])


def text_mm(words: str) -> float:
    """About how wide words are in twelve points."""
    return 0.53 * LETTER_MM * len(words)


def paper_drawing(
    key: str, width: float, height: float, title: str, told: str, children: Iterable[str], kind: str
) -> Markup:
    """The whole picture; `width` and `height` in user units, written in millimetres of paper."""
    return element(
        "svg",
        element("title", title, id=f"{key}-title"),
        element("desc", told, id=f"{key}-desc"),
        *children,
        xmlns="http://www.w3.org/2000/svg",
        width=f"{number(width / PX)}mm",
        height=f"{number(height / PX)}mm",
        viewBox=f"0 0 {number(width)} {number(height)}",
        class_=f"drawn drawn-{kind}",
        role="img",
        aria_labelledby=f"{key}-title {key}-desc",
    )
