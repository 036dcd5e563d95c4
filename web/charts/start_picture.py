"""A small sign for every bar to start from: how its layers run, drawn as a scheme and not to scale."""

from collections.abc import Iterable
from math import sin, tau

from markupsafe import Markup

from web.charts.svg import drawing, level_lines, polyline, rectangle

WIDTH, HEIGHT, TOP = 84.0, 40.0, 6.0
LEFT, RIGHT, BOTTOM = 4.0, 80.0, 34.0
TITLES = {
    "flat": "layers lie flat",
    "folded": "a bar folded on itself",
    "core": "a plain core between layered sides",
    "twist": "a bar twisted about its length",
    "ladder": "layers rise in rungs across the bar",
    "nickel": "a thin sheet between plates",
    "several": "two twisted bars beside a plain one",
    "one": "a bar of one steel",
}


def start_picture(name: str, key: str) -> Markup:
    """The sign of a start; an outline alone for a name that has none of its own."""
    parts = [rectangle(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, "outline paper"), *_inside(name)]
    return drawing(key, WIDTH, HEIGHT, TITLES.get(name, name), "A scheme, not to scale.", parts, "sign")


def _inside(name: str) -> list[Markup]:
    wide, high = RIGHT - LEFT, BOTTOM - TOP
    if name == "flat":
        return [_lines(TOP + high * i / 7 for i in range(1, 7))]
    if name == "folded":
        near, far = LEFT + 8, RIGHT - 8
        turns = [(LEFT, 13.0), (far, 13.0), (far, 20.0), (near, 20.0), (near, 27.0), (RIGHT, 27.0)]
        return [polyline(turns, "seam-strong")]
    if name == "core":
        sides = [TOP + 3, TOP + 6, BOTTOM - 6, BOTTOM - 3]
        return [rectangle(LEFT, TOP + 9, wide, high - 18, "tone"), _lines(sides)]
    if name == "twist":
        starts = [LEFT + wide * i / 8 for i in range(8)]
        return [polyline([(x, BOTTOM), (x + wide / 8, TOP)], "seam-strong") for x in starts]
    if name == "ladder":
        return [polyline(_wave(y), "seam-strong") for y in (13.0, 20.0, 27.0)]
    if name == "nickel":
        sheets = [rectangle(LEFT, y, wide, 3, "tone") for y in (TOP + 8, BOTTOM - 11)]
        return [*sheets, _lines([14.0, 17.0, 23.0, 26.0])]
    if name == "several":
        cords = (
            [(LEFT + 10 * i, TOP, 9.0) for i in range(8)],
            [(LEFT + 10 * i + 9, TOP + 10, -9.0) for i in range(8)],
        )
        return [polyline([(x, y + 9), (x + run, y)], "seam-strong") for row in cords for x, y, run in row] + [
            _lines([TOP + 10, TOP + 20])
        ]
    return []


def _lines(heights: Iterable[float]) -> Markup:
    return level_lines(LEFT, RIGHT - LEFT, list(heights), "seam-strong")


def _wave(y: float) -> list[tuple[float, float]]:
    return [(LEFT + (RIGHT - LEFT) * i / 48, y + 3.0 * sin(tau * 4 * i / 48)) for i in range(49)]
