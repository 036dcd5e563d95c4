"""The bar after the step that is looked at, large: its end and its side at one scale, dimension lines without
words, for the page lays its fields beside them."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.bar_grown import end_parts, piece_heights_mm, side_parts, size_told
from web.charts.dimension import across, extension, upward
from web.charts.end_view import Box, detail, detail_mark, layers_seen, legend
from web.charts.hatch import definitions, with_definitions
from web.charts.svg import drawing

if TYPE_CHECKING:
    from billet import Report

ROOM, LEFT, TOP, BELOW = 168.0, 30.0, 8.0, 30.0
END_WIDE, SIDE_WIDE, DETAIL_WIDE, RADIUS = LEFT + ROOM + 8, 2 * (LEFT + ROOM + 8) + 10, 130.0, 52.0
DIMENSION = 22.0


def chosen_end(report: "Report", step: int, key: str, length_units: wording.Units = "mm") -> Markup:
    """The end of the bar with the lines of its height and its width."""
    box = _end_box(report, step)
    bottom, right = box.y + box.height, box.x + box.width
    steels = [item.steel for item in report.steels]
    parts = with_definitions(key, steels, end_parts(report, step, box, key))
    parts += [
        extension((box.x - 3, box.y), (box.x - DIMENSION - 4, box.y)),
        extension((box.x - 3, bottom), (box.x - DIMENSION - 4, bottom)),
        *upward(box.y, bottom, box.x - DIMENSION, "", outside=-1.0),
        *_under(box.x, right, bottom),
    ]
    if _has_detail(report, step):
        parts += detail_mark(box)
    title = "End of the cold stack" if step == 0 else f"End of the bar after step {step}"
    told = size_told(report, step, length_units)
    return drawing(key, END_WIDE, _high(report, step), title, told, parts, "chosen")


def chosen_side(report: "Report", step: int, key: str, length_units: wording.Units = "mm") -> Markup:
    """The side of the bar with the line of its length, and its layers enlarged where they are too thin."""
    row = report.schedule[step]
    px_per_mm, steels = _scale(report), [item.steel for item in report.steels]
    with_detail = _has_detail(report, step)
    room = SIDE_WIDE - 8 - (DETAIL_WIDE if with_detail else 0.0)
    end = _end_box(report, step)
    box = Box(4, end.y, min(row.length_mm * px_per_mm, room), end.height)
    broken = row.length_mm * px_per_mm > room + 0.01
    parts = side_parts(report, step, box, broken)
    parts += _under(box.x, box.x + box.width, box.y + box.height)
    if with_detail:
        centre = (SIDE_WIDE - RADIUS - 6, TOP + RADIUS)
        parts = [definitions(key, steels), *parts, *detail(centre, RADIUS, row.layers, key, steels)]
    title = "Side of the cold stack" if step == 0 else f"Side of the bar after step {step}"
    told = size_told(report, step, length_units)
    return drawing(key, SIDE_WIDE, _high(report, step), title, told, parts, "chosen")


def steel_key(report: "Report", key: str, width: float = 340.0) -> Markup:
    """The hatch of each steel with its name."""
    steels = [item.steel for item in report.steels]
    names = [i.steel if i.steel == i.designation else f"{i.steel} ({i.designation})" for i in report.steels]
    swatches, taken = legend(2, 4, steels, names, key, width - 4)
    parts = [definitions(key, steels), *swatches]
    return drawing(key, width, taken + 4, "Which hatch is which steel", ", ".join(names), parts, "key")


def _scale(report: "Report") -> float:
    """Pixels to the millimetre: that of all steps, at which the largest end fits."""
    return ROOM / max(max(row.height_mm, row.width_mm) for row in report.schedule)


def _end_box(report: "Report", step: int) -> Box:
    row, px_per_mm = report.schedule[step], _scale(report)
    return Box(LEFT, TOP, row.width_mm * px_per_mm, row.height_mm * px_per_mm)


def _has_detail(report: "Report", step: int) -> bool:
    row = report.schedule[step]
    loose = len(piece_heights_mm(report, step)) > 1
    return bool(row.layers) and not loose and not layers_seen(row.layers, _scale(report))


def _high(report: "Report", step: int) -> float:
    """Both drawings end on one line, so that their dimensions do; an enlarged part may hang below it."""
    return TOP + _end_box(report, step).height + BELOW


def _under(left: float, right: float, bottom: float) -> list[Markup]:
    return [
        extension((left, bottom + 3), (left, bottom + DIMENSION + 4)),
        extension((right, bottom + 3), (right, bottom + DIMENSION + 4)),
        *across(left, right, bottom + DIMENSION, ""),
    ]
