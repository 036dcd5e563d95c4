"""Every steel beside every other as a square of marks that differ in shape, so that grey paper shows them."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from web.charts.svg import drawing, element, line, number, text

if TYPE_CHECKING:
    from billet import PartnerTable

CELL, LEFT, TOP, LEGEND = 8.0, 118.0, 118.0, 34.0
FIFTH = 5


def partner_square(
    table: "PartnerTable", verdict: str, words: str, key: str = "pairs", width: float = 700.0
) -> Markup:
    """One verdict of all pairs: a full square is good, an open one works, a dot is unknown, blank is no."""
    count = len(table.steels)
    cell = CELL if width > 500 else (width - LEFT - 4) / count
    side = cell * count
    paths: dict[str, list[str]] = {"good": [], "works": [], "unknown": []}
    for row, told in enumerate(table.verdicts[verdict]):
        for column, word in enumerate(told):
            if word in paths:
                x, y = LEFT + cell * column, TOP + cell * row
                paths[word].append(_mark(word, x, y, cell))
    parts = [_grid(count, cell)]
    parts += [element("path", d="".join(paths["good"]), class_="bar-now")]
    parts += [element("path", d="".join(paths["works"]), class_="bar-start")]
    parts += [element("path", d="".join(paths["unknown"]), class_="fine")]
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
    counted = {word: sum(told_of.count(word) for told_of in table.verdicts[verdict]) for word in paths}
    good, works = counted["good"], counted["works"]
    summed = f"{words}: {good} good and {works} that work of {count * (count - 1)} pairs."
    wide, high = max(LEFT + side + 4, width), TOP + side + LEGEND
    return drawing(key, wide, high, f"{words}, each beside each", summed, parts)


def _mark(word: str, x: float, y: float, cell: float) -> str:
    room = 0.16 * cell
    if word == "unknown":
        middle = cell / 2
        return f"M{number(x + middle - 1)} {number(y + middle)}h2"
    wide = cell - 2 * room
    return f"M{number(x + room)} {number(y + room)}h{number(wide)}v{number(wide)}h{number(-wide)}z"


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
    for place, (word, words) in enumerate((("good", "good"), ("works", "works"), ("unknown", "unknown"))):
        x = 8.0 + 84.0 * place
        class_ = {"good": "bar-now", "works": "bar-start", "unknown": "fine"}[word]
        parts.append(element("path", d=_mark(word, x, y - 11, 12.0), class_=class_))
        parts.append(text(x + 17, y, words, "small-label"))
    parts.append(text(8.0 + 84.0 * 3, y, "blank: no", "small-label"))
    return parts
