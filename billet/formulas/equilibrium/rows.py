"""Coefficients of the metals and phases of a batch at its temperatures."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.formulas.equilibrium.coefficients import (
    BLOCK,
    LOWEST_K,
    METALS,
    STEP_K,
    Array,
    table,
)
from billet.formulas.equilibrium.pure import GAS_CONSTANT

SELF_INTERACTION_K = 69342.0 / GAS_CONSTANT


@dataclass
class Rows:
    """Coefficients of n samples: transfer (n, phases, metals), carbon (n, metals), pairs in austenite
    and in ferrite (n, 2, metals, metals), the two constants (n,) and k = 69342/(RT) (n,)."""

    transfer: Array
    carbon: Array
    pair: Array
    const: Array
    const_ferrite: Array
    self_interaction: Array


@dataclass
class Slopes:
    """What Rows change by for one kelvin. Interactions between metals drift too little to count."""

    transfer: Array
    carbon: Array
    const: Array
    const_ferrite: Array


@lru_cache(maxsize=256)
def cut_table(metals: tuple[int, ...], phases: tuple[int, ...]) -> Array:
    """The table cut down to some metals and phases, with the step to the next row behind each row.

    In order: terms by phase, carbon, pairs in austenite and in ferrite, the two constants.
    """
    m = np.array(metals)
    pairs = (m[:, None] * METALS + m).ravel()
    columns = [
        (np.array(phases)[:, None] * METALS + m).ravel(),
        BLOCK.carbon.start + m,
        BLOCK.austenite.start + pairs,
        BLOCK.ferrite.start + pairs,
        [BLOCK.const, BLOCK.const_ferrite],
    ]
    nodes = table()[:, np.concatenate(columns)]
    return np.ascontiguousarray(np.concatenate([nodes[:-1], np.diff(nodes, axis=0)], axis=1))


def rows_at(
    temperature_k: Array, metals: tuple[int, ...], phases: tuple[int, ...]
) -> tuple[Rows, Slopes]:  # fmt: skip
    """Coefficients at temperatures (n,), straight between the rows of the table, and their slopes."""
    nodes = cut_table(metals, phases)
    n, m, p, size = len(temperature_k), len(metals), len(phases), nodes.shape[1] // 2
    place = (temperature_k - LOWEST_K) / STEP_K
    lower = np.minimum(place.astype(np.intp), len(nodes) - 1)
    both = nodes.take(lower, axis=0)
    step = both[:, size:]
    row = both[:, :size] + (place - lower)[:, None] * step
    step = step / STEP_K
    end = p * m
    return (
        Rows(
            row[:, :end].reshape(n, p, m),
            row[:, end : end + m],
            row[:, end + m : -2].reshape(n, 2, m, m),
            row[:, -2],
            row[:, -1],
            SELF_INTERACTION_K / temperature_k,
        ),
        Slopes(
            step[:, :end].reshape(n, p, m), step[:, end : end + m], step[:, -2], step[:, -1]
        ),
    )  # fmt: skip
