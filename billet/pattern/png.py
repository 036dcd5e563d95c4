"""A picture of greys as a PNG file: eight bits of grey, one image, nothing else (ISO/IEC 15948)."""

import struct
import zlib

import numpy as np

from billet.pattern.points import Floats

SIGNATURE = b"\x89PNG\r\n\x1a\n"
GREY_EIGHT_BITS = (8, 0, 0, 0, 0)
SUB = 1
LEVEL = 6


def png_bytes(grey: Floats, dots_per_mm: float | None = None) -> bytes:
    """The file of a picture, (rows, columns) of 0 (black) to 1 (white), with its true size where told."""
    levels = np.round(np.clip(grey, 0.0, 1.0) * 255.0).astype(np.uint8)
    rows, columns = levels.shape
    lines = np.zeros((rows, columns + 1), dtype=np.uint8)
    lines[:, 0] = SUB
    lines[:, 1:] = levels
    lines[:, 2:] -= levels[:, :-1]
    parts = [_chunk(b"IHDR", struct.pack(">II5B", columns, rows, *GREY_EIGHT_BITS))]
    if dots_per_mm is not None:
        dots_per_m = round(1000.0 * dots_per_mm)
        parts.append(_chunk(b"pHYs", struct.pack(">IIB", dots_per_m, dots_per_m, 1)))
    parts.append(_chunk(b"IDAT", zlib.compress(lines.tobytes(), LEVEL)))
    parts.append(_chunk(b"IEND", b""))
    return SIGNATURE + b"".join(parts)


def _chunk(name: bytes, content: bytes) -> bytes:
    checked = name + content
    return struct.pack(">I", len(content)) + checked + struct.pack(">I", zlib.crc32(checked))
