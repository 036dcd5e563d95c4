"""Dimension lines, cut marks, break lines and the datum mark, as drawings have them."""

from markupsafe import Markup

from web.charts.svg import Point, line, polyline, text

ARROW = 9.0
HALF_ARROW = 2.6


def arrow(tip: Point, direction: Point, class_: str = "arrow") -> Markup:
    """A closed arrow head at `tip`, pointing along `direction` (a unit vector along an axis)."""
    (x, y), (dx, dy) = tip, direction
    back = (x - dx * ARROW, y - dy * ARROW)
    side = (dy * HALF_ARROW, dx * HALF_ARROW)
    corners = [tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1])]
    return polyline(corners, class_, closed=True)


def across(
    left: float, right: float, y: float, words: str, class_: str = "dimension", above: float = 6.0
) -> list[Markup]:
    """A horizontal dimension with its words above the line; arrows from outside when it is short."""
    parts: list[Markup] = []
    if right - left >= 3.2 * ARROW:
        parts.append(line((left, y), (right, y), class_))
        parts += [arrow((left, y), (-1, 0)), arrow((right, y), (1, 0))]
    else:
        parts.append(line((left - 2 * ARROW, y), (right + 2 * ARROW, y), class_))
        parts += [arrow((left, y), (1, 0)), arrow((right, y), (-1, 0))]
    parts.append(text((left + right) / 2, y - above, words, "dimension-label", "middle"))
    return parts


def upward(top: float, bottom: float, x: float, words: str, outside: float = 1.0) -> list[Markup]:
    """A vertical dimension at x, its words beside it (outside 1 to the right, -1 to the left)."""
    parts: list[Markup] = []
    if bottom - top >= 3.2 * ARROW:
        parts.append(line((x, top), (x, bottom), "dimension"))
        parts += [arrow((x, top), (0, -1)), arrow((x, bottom), (0, 1))]
    else:
        parts.append(line((x, top - 2 * ARROW), (x, bottom + 2 * ARROW), "dimension"))
        parts += [arrow((x, top), (0, 1)), arrow((x, bottom), (0, -1))]
    anchor = "start" if outside > 0 else "end"
    middle = (top + bottom) / 2 + 5
    parts.append(text(x + outside * 7, middle, words, "dimension-label", anchor))
    return parts


def extension(start: Point, end: Point) -> Markup:
    """The thin line that carries a corner of the body out to its dimension line."""
    return line(start, end, "extension")


def cut_mark(x: float, top: float, bottom: float) -> Markup:
    """A chain line across the bar where it is cut."""
    return line((x, top), (x, bottom), "chain")


def break_line(x: float, top: float, bottom: float) -> Markup:
    """The zigzag that says: some of the length is left out here."""
    middle = (top + bottom) / 2
    reach = min(7.0, max((bottom - top) / 4, 2.0))
    points = [
        (x, top - 5),
        (x, middle - reach),
        (x - 4, middle - reach / 3),
        (x + 4, middle + reach / 3),
        (x, middle + reach),
        (x, bottom + 5),
    ]
    return polyline(points, "break")


def datum(x: float, y: float, class_: str = "datum") -> Markup:
    """The filled triangle that stands on a line: this is where to measure from."""
    return polyline([(x, y), (x - 8, y - 13), (x + 8, y - 13)], class_, closed=True)
