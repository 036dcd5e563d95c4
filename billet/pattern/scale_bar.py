"""A bar of known length beneath a picture, with its length written beside it: true scale can be checked."""

import numpy as np

from billet.pattern.points import Floats

ROWS = 24
LENGTHS_MM = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
MOST_OF_WIDTH = 0.25
DOT = 2
GLYPHS = {
    "0": "0e11131519110e", "1": "040c040404040e", "2": "0e11010204081f", "5": "1f101e0101110e",
    ".": "00000000000c0c", "m": "00001a15151515", " ": "00000000000000",
}  # fmt: skip
"""Seven rows of five dots, a byte a row."""


def with_scale_bar(grey: Floats, mm_per_px: float) -> Floats:
    """The picture with a white strip of `ROWS` rows beneath it that holds the bar."""
    columns = grey.shape[1]
    most_mm = MOST_OF_WIDTH * columns * mm_per_px
    length_mm = max((mm for mm in LENGTHS_MM if mm <= most_mm), default=LENGTHS_MM[0])
    strip = np.ones((ROWS, columns))
    end = min(max(round(length_mm / mm_per_px), 1), columns)
    strip[10:14, :end] = 0.0
    strip[4:20, :2] = strip[4:20, max(end - 2, 0) : end] = 0.0
    label = _lettered(f"{length_mm:g} mm")
    place = end + 8
    room = strip[5 : 5 + label.shape[0], place : place + label.shape[1]]
    room[:] = label[:, : room.shape[1]]
    return np.concatenate([grey, strip])


def _lettered(text: str) -> Floats:
    rows = []
    for glyph in (bytes.fromhex(GLYPHS[letter]) for letter in text):
        bits = np.unpackbits(np.frombuffer(glyph, dtype=np.uint8)[:, None], axis=1)[:, 3:]
        rows.append(np.pad(bits, ((0, 0), (0, 1))))
    dots = np.repeat(np.repeat(np.concatenate(rows, axis=1), DOT, axis=0), DOT, axis=1)
    return 1.0 - dots.astype(np.float64)
