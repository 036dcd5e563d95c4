"""Reading a table between its points: straight along each axis."""

import numpy as np

from billet.pattern.points import Floats


def read_plane(tables: tuple[Floats, ...], row: Floats, column: Floats) -> list[Floats]:
    """Values of tables of one shape (rows, columns) at places counted in rows and columns."""
    rows, columns = tables[0].shape
    i = np.clip(row, 0, rows - 2).astype(np.intp)
    j = np.clip(column, 0, columns - 2).astype(np.intp)
    s, t = row - i, column - j
    at = i * columns + j
    found = []
    for table in tables:
        flat = table.ravel()
        low, high = flat[at], flat[at + columns]
        low = low + t * (flat[at + 1] - low)
        high = high + t * (flat[at + columns + 1] - high)
        found.append(low + s * (high - low))
    return found


def read_block(tables: tuple[Floats, ...], place: tuple[Floats, Floats, Floats]) -> list[Floats]:
    """The same for tables of three axes, at places counted along each."""
    shape = tables[0].shape
    index = [np.clip(p, 0, n - 2).astype(np.intp) for p, n in zip(place, shape, strict=True)]
    s, t, w = (p - i for p, i in zip(place, index, strict=True))
    strides = (shape[1] * shape[2], shape[2], 1)
    at = index[0] * strides[0] + index[1] * strides[1] + index[2]
    found = []
    for table in tables:
        flat = table.ravel()
        rows = []
        for corner in (0, strides[0]):
            low = flat[at + corner] + w * (flat[at + corner + 1] - flat[at + corner])
            over = at + corner + strides[1]
            high = flat[over] + w * (flat[over + 1] - flat[over])
            rows.append(low + t * (high - low))
        found.append(rows[0] + s * (rows[1] - rows[0]))
    return found
