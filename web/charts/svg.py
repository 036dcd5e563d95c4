"""SVG as text: every attribute and every word is escaped here and nowhere else.

Classes only, never `style=`: the pages forbid inline styles. Lengths are in user units, which are
CSS pixels at full size.
"""

import re
from collections.abc import Iterable, Sequence
from functools import cache
from math import hypot

from markupsafe import Markup, escape

Point = tuple[float, float]


def number(value: float) -> str:
    """A coordinate with at most two decimals and no trailing zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def element(name: str, *children: str, **attributes: str | float | None) -> Markup:
    """One element; `class_` is written `class`, underscores become hyphens, None leaves it out."""
    opening = f"<{name}"
    for key, value in attributes.items():
        if value is not None:
            word = _escaped(value) if isinstance(value, str) else number(value)
            opening += f' {_attribute_name(key)}="{word}"'
    if not children:
        return Markup(f"{opening}/>")
    inside = "".join([_escaped(child) for child in children])
    return Markup(f"{opening}>{inside}</{name}>")


def _escaped(word: str) -> str:
    """Words made safe; what is markup already stays as it is."""
    if type(word) is Markup or not _UNSAFE.search(word):
        return word
    return str(escape(word))


_UNSAFE = re.compile("[&<>\"']")


@cache
def _attribute_name(key: str) -> str:
    kept = {"viewBox", "patternUnits", "patternTransform", "clipPathUnits"}
    return key if key in kept else key.rstrip("_").replace("_", "-")


def group(children: Iterable[str], class_: str | None = None) -> Markup:
    """Several elements under one class."""
    return element("g", *children, class_=class_)


def line(start: Point, end: Point, class_: str | None = None) -> Markup:
    return element("line", x1=start[0], y1=start[1], x2=end[0], y2=end[1], class_=class_)


def level_lines(x: float, width: float, heights: Sequence[float], class_: str) -> Markup:
    """Lines of one width at several heights, in one element."""
    left, along = f"M{number(x)} ", f"h{number(width)}"
    drawn = "".join([f"{left}{number(y)}{along}" for y in heights])
    return element("path", d=drawn, class_=class_)


def upright_lines(places: Sequence[float], y: float, height: float, class_: str) -> Markup:
    """Lines of one height at several places, in one element."""
    down = f" {number(y)}v{number(height)}"
    drawn = "".join([f"M{number(x)}{down}" for x in places])
    return element("path", d=drawn, class_=class_)


def rectangle(
    x: float, y: float, width: float, height: float, class_: str, fill: str | None = None
) -> Markup:
    """`fill` is a reference to a pattern (`url(#...)`), otherwise the class decides."""
    return element("rect", x=x, y=y, width=width, height=height, class_=class_, fill=fill)


STRAIGHT = 0.3
"""How far, in units of the drawing, a point may lie off the line through its neighbours and be left out."""


def thinned(points: Sequence[Point]) -> list[Point]:
    """The points that the eye needs: all others lie within a third of a unit of the line they leave."""
    kept = [0, len(points) - 1]
    spans = [(0, len(points) - 1)]
    while spans:
        first, last = spans.pop()
        worst = _farthest(points, first, last)
        if worst:
            kept.append(worst)
            spans += [(first, worst), (worst, last)]
    return [points[i] for i in sorted(set(kept))]


def _farthest(points: Sequence[Point], first: int, last: int) -> int:
    """Which point between two others lies farthest off the line through them (off the first, where they are
    one); 0 where none lies off it by more than is let pass."""
    (x, y), (end_x, end_y) = points[first], points[last]
    along, up = end_x - x, end_y - y
    length = hypot(along, up)
    worst, most = 0, STRAIGHT
    for place in range(first + 1, last):
        right, down = points[place][0] - x, points[place][1] - y
        off = abs(along * down - up * right) / length if length else hypot(right, down)
        if off > most:
            worst, most = place, off
    return worst


def polyline(
    points: Sequence[Point], class_: str | None = None, closed: bool = False, fill: str | None = None
) -> Markup:
    """A line through the points; closed, it is a polygon, which may have a pattern as fill."""
    drawn = points if closed or len(points) < 3 else thinned(points)
    listed = " ".join([f"{number(x)},{number(y)}" for x, y in drawn])
    return element("polygon" if closed else "polyline", points=listed, class_=class_, fill=fill)


def text(
    x: float, y: float, words: str, class_: str = "label", anchor: str = "start", turned: bool = False
) -> Markup:
    """Words at a point; `anchor` start, middle or end; turned, they read upwards."""
    transform = f"rotate(-90 {number(x)} {number(y)})" if turned else None
    anchored = None if anchor == "start" else anchor
    return element("text", words, x=x, y=y, class_=class_, text_anchor=anchored, transform=transform)


def drawing(
    key: str,
    width: float,
    height: float,
    title: str,
    description: str,
    children: Iterable[str],
    shown: str | None = None,
) -> Markup:
    """The whole picture with its title and description for those who hear the page.

    `key` starts every id inside, so that several pictures can stand on one page. `shown` says on
    which paper the picture stands: "wide", "narrow" or "always"; without it the width decides.
    """
    paper = shown or ("narrow" if width < 500 else "wide")
    return element(
        "svg",
        element("title", title, id=f"{key}-title"),
        element("desc", description, id=f"{key}-desc"),
        *children,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        class_=f"drawing drawing-{paper}",
        role="img",
        aria_labelledby=f"{key}-title {key}-desc",
    )
