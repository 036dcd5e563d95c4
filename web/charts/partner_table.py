"""Every steel beside every other as a square of marks that differ in shape, so that grey paper shows them."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from web.charts.svg import drawing, element, line, number, text

if TYPE_CHECKING:
    from billet import PartnerTable

CELL, LEFT, TOP, LEGEND = 8.0, 118.0, 118.0, 34.0
FIFTH = 5
MARKS = {"good": (0.68, "pair-good"), "works": (0.5, "pair-works"), "unknown": (0.15, "pair-unknown")}
"""Share of a cell that a mark is long, and its class, which says how thick it is."""


def partner_square(
    table: "PartnerTable", verdict: str, words: str, key: str = "pairs", width: float = 700.0
) -> Markup:
    """One verdict of all pairs: a square is good, a dash works, a dot is unknown, blank is no."""
    count = len(table.steels)
    cell = CELL if width > 500 else (width - LEFT - 4) / count
    side = cell * count
    narrow = "" if width > 500 else " pair-narrow"
    parts = [_grid(count, cell)]
    for word, (length, class_) in MARKS.items():
        drawn = [
            _marks([column for column, told in enumerate(told_row) if told == word], row, cell, length)
            for row, told_row in enumerate(table.verdicts[verdict])
        ]
        parts.append(element("path", d="".join(drawn), class_=f"{class_}{narrow}"))
    if width > 500:
        for place, name in enumerate(table.steels):
            middle = cell * (place + 0.5)
            parts.append(text(LEFT - 5, TOP + middle + 3, name, "pair-name", "end"))
            parts.append(text(LEFT + middle + 3, TOP - 5, name, "pair-name", turned=True))
    else:
        for place in range(0, count, FIFTH):
            middle = cell * (place + 0.5)
            parts.append(text(LEFT - 5, TOP + middle + 3, table.steels[place], "pair-name", "end"))
    parts += _legend(TOP + side + 22.0)
    counted = {
        word: sum(told_of.count(word) for told_of in table.verdicts[verdict]) for word in ("good", "works")
    }
    good, works = counted["good"], counted["works"]
    summed = f"{words}: {good} good and {works} that work of {count * (count - 1)} pairs."
    wide, high = max(LEFT + side + 4, width), TOP + side + LEGEND
    return drawing(key, wide, high, f"{words}, each beside each", summed, parts)


def _marks(columns: list[int], row: int, cell: float, share: float) -> str:
    """Level strokes in some cells of a row, each over this share of its cell."""
    drawn, at = [], 0.0
    for place, column in enumerate(columns):
        start = LEFT + cell * (column + 0.5 - 0.5 * share)
        y = number(TOP + cell * (row + 0.5))
        drawn.append(f"M{number(start)} {y}" if place == 0 else f"m{number(start - at)} 0")
        drawn.append(f"h{number(share * cell)}")
        at = start + share * cell
    return "".join(drawn)


def _grid(count: int, cell: float) -> Markup:
    side = cell * count
    lines = [line((LEFT, TOP), (LEFT + side, TOP), "rule"), line((LEFT, TOP), (LEFT, TOP + side), "rule")]
    for place in range(FIFTH, count + 1, FIFTH):
        at = cell * place
        lines.append(line((LEFT, TOP + at), (LEFT + side, TOP + at), "rule"))
        lines.append(line((LEFT + at, TOP), (LEFT + at, TOP + side), "rule"))
    return element("g", *lines)


def _legend(y: float) -> list[Markup]:
    parts = []
    for place, (word, (share, class_)) in enumerate(MARKS.items()):
        x = 8.0 + 84.0 * place
        drawn = f"M{number(x + 4 - 4 * share)} {number(y - 5)}h{number(8 * share)}"
        parts.append(element("path", d=drawn, class_=class_))
        parts.append(text(x + 17, y, word, "small-label"))
    parts.append(text(8.0 + 84.0 * len(MARKS), y, "blank: no", "small-label"))
    return parts
