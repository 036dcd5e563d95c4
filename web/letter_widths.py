"""About how wide letters stand: thousandths of the type size, of the upright sans that the pages ask for.

The widths of Helvetica, which Arial and Liberation Sans share (from memory; Adobe's font metrics).
"""

WIDTHS = {
    **dict.fromkeys("0123456789abdeghnopquL_$?", 556),
    **dict.fromkeys("ijl'|", 222),
    **dict.fromkeys(" ftI.,:;/!", 278),
    **dict.fromkeys("r-()[]", 333),
    **dict.fromkeys("ckvxyszJ", 500),
    **dict.fromkeys("ABEKPSVXY&", 667),
    **dict.fromkeys("CDHNRUw", 722),
    **dict.fromkeys("GOQ", 778),
    **dict.fromkeys("FTZ", 611),
    **dict.fromkeys("mM", 833),
    **dict.fromkeys("+=<>×±−", 584),
    "W": 944, "°": 400, "\u202f": 200, "\u00a0": 278, "µ": 576, "%": 889,
}  # fmt: skip
USUAL = 560
BOLD = 1.09
"""Letters are wider by so much where they are bold; figures and signs are not."""
POINT_MM = 25.4 / 72.0


def width_mm(words: str, points: float, bold: bool = False) -> float:
    """How wide the words stand on one line."""
    widths = (WIDTHS.get(c, USUAL) * (BOLD if bold and c.isalpha() else 1.0) for c in words)
    return sum(widths) / 1000.0 * points * POINT_MM


def line_count(words: str, room_mm: float, points: float, bold: bool = False) -> int:
    """Into how many lines the words break, word by word; a number stays with its unit."""
    lines, used = 1, 0.0
    gap = width_mm(" ", points, bold)
    for word in words.split(" "):
        wide = width_mm(word, points, bold)
        if used > 0.0 and used + gap + wide > room_mm:
            lines, used = lines + 1, wide
        else:
            used += wide + (gap if used > 0.0 else 0.0)
    return lines
