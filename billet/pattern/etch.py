"""How light each layer lies after the etch: nickel bright, manganese and carbon dark, chromium between.

The contents are those that the plan leaves in the layers: every seam has spread as far as each metal went,
so layers finer than that come out as one grey, and a skin that lost its carbon as a pale line.
"""

import numpy as np

from billet.composition import Composition
from billet.diffusion.heat import SPREADING
from billet.diffusion.profile import Profile
from billet.pattern.points import Floats
from billet.pattern.share_mean import RunningGrey, running_grey
from billet.tables.practice import decision_numbers

CELLS_A_LAYER = 16
FEWEST_CELLS, MOST_CELLS = 1 << 12, 1 << 18
ELEMENTS = ("Ni", "Mn", "Cr")
CLASSES_A_DECADE = 5.0
"""Seams whose spread falls into one class are blurred together."""
SHARP_CELLS = 0.3
"""A spread under so many cells does not show."""


def grey_of(wt: dict[str, Floats]) -> Floats:
    """Grey from 0 (black) to 1 (white) of contents of Ni, Mn, Cr and C in wt%, arrays of one shape."""
    told = decision_numbers("etch")
    brightness = sum(told["weight"][element] * wt[element] for element in ("Ni", "Mn", "C"))
    share = 0.5 * (1.0 + np.tanh((brightness - told["middle"]) / told["width"]))
    chromium = wt["Cr"] / (wt["Cr"] + told["chromium_half_wt"])
    share = share + chromium * (told["chromium_share"] - share)
    dark, bright = told["greys"]
    found: Floats = dark + (bright - dark) * share
    return found


def grey_of_steel(composition: Composition, carbon_wt: float) -> float:
    """Grey of an even piece of one steel."""
    wt = {element: np.array([composition[element]]) for element in ELEMENTS}
    return float(grey_of({**wt, "C": np.array([carbon_wt])})[0])


def section_grey(profile: Profile) -> RunningGrey:
    """Grey through the layers of a piece, from the bottom up."""
    thickness_mm, steel = profile.layers()
    wanted = 1 << int(np.ceil(np.log2(CELLS_A_LAYER * len(steel))))
    grid = np.linspace(0.0, profile.height_mm, min(max(wanted, FEWEST_CELLS), MOST_CELLS) + 1)
    wt = {"C": _shares(profile.thickness_mm, profile.carbon_wt, grid)}
    for element in ELEMENTS:
        content = np.array([c[element] for c in profile.metals.compositions])[steel]
        spread_mm2 = profile.spread_mm2[:, SPREADING.index(element)]
        wt[element] = _spread(thickness_mm, content, np.sqrt(spread_mm2), grid)
    return running_grey(grey_of(wt), profile.height_mm)


def _shares(thickness_mm: Floats, content: Floats, grid: Floats) -> Floats:
    """Mean content of each cell of the grid, from a content constant within each layer."""
    edges = np.concatenate([[0.0], np.cumsum(thickness_mm)])
    total = np.concatenate([[0.0], np.cumsum(thickness_mm * content)])
    found: Floats = np.diff(np.interp(grid, edges, total)) / np.diff(grid)
    return found


def _spread(thickness_mm: Floats, content: Floats, sigma_mm: Floats, grid: Floats) -> Floats:
    """Content of each cell once every seam has spread by its own sigma; the faces are mirrors."""
    steps = np.diff(content)
    found = np.full(len(grid) - 1, content[0])
    if not np.any(steps):
        return found
    cell = grid[1] - grid[0]
    classes = np.round(CLASSES_A_DECADE * np.log10(np.maximum(sigma_mm / (SHARP_CELLS * cell), 1e-9)))
    classes = np.maximum(classes, 0.0)
    for each in np.unique(classes):
        here = classes == each
        layers = np.concatenate([[0.0], np.cumsum(np.where(here, steps, 0.0))])
        part = _shares(thickness_mm, layers, grid)
        sigma = float(np.sqrt(np.average(sigma_mm[here] ** 2, weights=np.abs(steps[here]) + 1e-12)))
        found += part if each == 0.0 else _blurred(part, sigma / cell)
    return found


def _blurred(values: Floats, sigma_cells: float) -> Floats:
    """Spread by a bell of so many cells, the ends as mirrors."""
    both = np.concatenate([values, values[::-1]])
    waves = np.fft.rfft(both)
    k = 2.0 * np.pi * np.fft.rfftfreq(len(both))
    found: Floats = np.fft.irfft(waves * np.exp(-0.5 * (k * sigma_cells) ** 2), len(both))[: len(values)]
    return found
