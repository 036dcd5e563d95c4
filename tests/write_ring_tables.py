"""Writes billet/data/ring_square.npz: how a twist carries a square section into a disk and back.

    python tests/write_ring_tables.py

Rings r(l, f) = l (|cos f|^p + |sin f|^p)^(-1/p) with p = 2 / (1 - l^2) go from a circle at the axis (l = 0)
to the square of half side 1 (l = 1). The ring l goes to the circle that holds the same area, and along a
ring the angle goes so that every sector between two rings keeps its area too. Half a quadrant is enough,
0 <= f <= 45 degrees: there u = r cos f is the larger side, v = tan f the smaller over the larger.
"""

from pathlib import Path

import numpy as np

SIDE = 257
TARGET = Path(__file__).parent.parent / "billet" / "data" / "ring_square.npz"
EIGHTH = 0.25 * np.pi
_NODES, _WEIGHTS = (
    0.5 * (n + s) for n, s in zip(np.polynomial.legendre.leggauss(64), (1.0, 0.0), strict=True)
)
LAYER = 25.0


def exponent(ring):
    return 2.0 / np.maximum(1.0 - ring**2, 1e-12)


def integrals(ring, v):
    """Area of the eighth up to v, and its growth with the ring, over 2 l; both (like v)."""
    p = exponent(ring)
    near = v * np.clip(1.0 - LAYER / p, 0.0, 1.0)
    area, growth = np.zeros_like(v), np.zeros_like(v)
    for low, high in ((np.zeros_like(v), near), (near, v)):
        for node, weight in zip(_NODES, _WEIGHTS, strict=True):
            t = low + (high - low) * node
            m = np.minimum(-p * np.log(np.maximum(t, 1e-300)), 700.0)
            e = np.exp(-m)
            bulge = np.log1p(e)
            entropy = bulge + m * e / (1.0 + e)
            wide = np.exp(-2.0 / p * bulge) * (high - low) * weight
            area += 0.5 * ring**2 * wide
            growth += (1.0 + ring**2 * entropy) * wide
    return area, growth


def half_side(ring, v):
    """u of a point of the ring."""
    p = exponent(ring)
    return ring * np.exp(-np.log1p(np.exp(p * np.log(np.maximum(v, 1e-300)))) / p)


def ring_of(u, v):
    low, high = np.zeros_like(u), np.ones_like(u)
    for _ in range(60):
        middle = 0.5 * (low + high)
        under = half_side(middle, v) < u
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    return 0.5 * (low + high)


def to_disk():
    """Radius over u, and angle over 45 degrees, at (u, v)."""
    u, v = np.meshgrid(np.linspace(0.0, 1.0, SIDE), np.linspace(0.0, 1.0, SIDE), indexing="ij")
    u = np.maximum(u, 1e-6)
    ring = ring_of(u, v)
    whole, whole_growth = integrals(ring, np.ones_like(v))
    _, growth = integrals(ring, v)
    return np.sqrt(8.0 * whole / np.pi) / u, growth / whole_growth


def to_square():
    """u over the radius, and v, at (radius over the largest, angle over 45 degrees)."""
    radius = np.maximum(np.linspace(0.0, 1.0, SIDE), 1e-6)
    rings = np.linspace(1e-7, 1.0, 8193)
    held = np.sqrt(2.0 * integrals(rings, np.ones_like(rings))[0])
    ring = np.interp(radius, held, rings)
    angle = np.linspace(0.0, 1.0, SIDE)
    fine = 1.0 - (1.0 - np.linspace(0.0, 1.0, 4097)) ** 2
    over, place = np.zeros((SIDE, SIDE)), np.zeros((SIDE, SIDE))
    for row, each in enumerate(ring):
        growth = integrals(np.full_like(fine, each), fine)[1]
        place[row] = np.interp(angle, growth / growth[-1], fine)
        over[row] = half_side(each, place[row]) / (radius[row] * 2.0 / np.sqrt(np.pi))
    return over, place


def main():
    names = ("radius", "angle", "half", "ratio")
    tables = (*to_disk(), *to_square())
    np.savez_compressed(TARGET, **{n: t.astype(np.float32) for n, t in zip(names, tables, strict=True)})


if __name__ == "__main__":
    main()
