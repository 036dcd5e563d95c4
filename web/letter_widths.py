"""About how wide letters stand: thousandths of the type size, of the upright sans that the pages ask for.

The widths of Helvetica, which Arial and Liberation Sans share (from memory; Adobe's font metrics). The sign
of a caution is as wide as static/paper.css draws it, with its gap.
"""

from functools import lru_cache

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
    "W": 944, "\u26a0": 1150, "°": 400, "\u202f": 200, "\u00a0": 278, "µ": 576, "%": 889,
}  # fmt: skip
USUAL = 560
BOLD_WIDTHS = {
    **dict.fromkeys("bdghnopquL?", 611),
    **dict.fromkeys("cksvxyJ", 556),
    **dict.fromkeys("ft:;![]", 333),
    **dict.fromkeys("ABK&", 722),
    **dict.fromkeys("ijl", 278),
    "m": 889, "r": 389, "w": 778, "'": 238, "|": 280,
}  # fmt: skip
"""Those that are wider where they are bold; figures and most signs are not."""
POINT_MM = 25.4 / 72.0
WORDS_KEPT, SENTENCES_KEPT = 4096, 1024


def width_mm(words: str, points: float, bold: bool = False) -> float:
    """How wide the words stand on one line."""
    return _ems(words, bold) * points * POINT_MM


@lru_cache(WORDS_KEPT)
def _ems(words: str, bold: bool) -> float:
    return sum((BOLD_WIDTHS.get(c) if bold else None) or WIDTHS.get(c, USUAL) for c in words) / 1000.0


def line_count(words: str, room_mm: float, points: float, bold: bool = False) -> int:
    """Into how many lines the words break, word by word; a number stays with its unit."""
    em = points * POINT_MM
    room, gap = room_mm / em, _ems(" ", bold)
    lines, used = 1, 0.0
    for wide in _word_ems(words, bold):
        if used > 0.0 and used + gap + wide > room:
            lines, used = lines + 1, wide
        else:
            used += wide + (gap if used > 0.0 else 0.0)
    return lines


@lru_cache(SENTENCES_KEPT)
def _word_ems(words: str, bold: bool) -> tuple[float, ...]:
    return tuple(_ems(word, bold) for word in words.split(" "))
