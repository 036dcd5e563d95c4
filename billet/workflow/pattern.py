"""What stays in the layers and what blurs: the alloying metals, and what an etch will show."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from billet import wording
from billet.composition import Composition
from billet.formulas.alloy_blur import difference_left, finest_layer_um
from billet.tables.practice import rule
from billet.workflow.profile import Profile
from billet.workflow.report import ElementContrast, PatternRow
from billet.workflow.transport import SPREADING

ELEMENTS = ("Ni", "Mn", "Cr", "Si", "Mo", "V", "W", "Co")
STAINLESS_COLUMN = SPREADING.index("Cr stainless")
STAINLESS_CR_WT = 11.0
LEAST_TOLD_WT = 0.02
UM_PER_MM = 1000.0


@dataclass(frozen=True)
class Blur:
    """Contrast left for each element, and the layers' analyses as the blurring leaves them."""

    contrast: Mapping[str, ElementContrast]
    finest_um: float | None
    main_element: str | None
    left: float


def blur_of(profile: Profile) -> Blur:
    """How much of each element's difference between neighbours is left in a piece."""
    thickness_mm, steel = profile.layers()
    thickness_um = UM_PER_MM * thickness_mm
    compositions = profile.metals.compositions
    contrast: dict[str, ElementContrast] = {}
    sigmas: dict[str, float] = {}
    for element in ELEMENTS:
        by_steel = np.array([c[element] for c in compositions])
        content = by_steel[steel]
        if len(content) < 2 or np.ptp(by_steel) < LEAST_TOLD_WT or np.ptp(content) < LEAST_TOLD_WT:
            continue
        sigma_um = UM_PER_MM * np.sqrt(profile.spread_mm2[:, _column(element, by_steel)])
        start, now, left = difference_left(thickness_um, content, sigma_um)
        contrast[element] = ElementContrast(start, now, min(left, 1.0))
        sigmas[element] = float(np.median(sigma_um))
    if not contrast:
        return Blur({}, None, None, 1.0)
    main = max(contrast, key=lambda e: _weight(e) * contrast[e].start_wt)
    return Blur(contrast, finest_layer_um(sigmas[main]), main, contrast[main].left)


def _column(element: str, by_steel: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]") -> int:
    if element == "Cr" and float(np.max(by_steel)) > STAINLESS_CR_WT:
        return STAINLESS_COLUMN
    return SPREADING.index(element)


def _weight(element: str) -> float:
    """How strongly an element shows in an etch beside nickel = 1. Common practice, no source."""
    return {"Ni": 1.0, "Cr": 0.8, "Mn": 0.7, "Si": 0.4, "W": 0.4, "Mo": 0.4}.get(element, 0.3)


def blurred_composition(supplied: Composition, mean: Composition, contrast: Mapping[str, ElementContrast]) -> Composition:
    """A layer's analysis after blurring: what is left of its difference from the bar's mean."""
    wt = dict(supplied.wt)
    for element, row in contrast.items():
        wt[element] = mean[element] + row.left * (supplied[element] - mean[element])
    return Composition(wt)


def pattern_row(blur: Blur, disturbed: bool, mean_layer_um: float) -> PatternRow:
    """The pattern's row of the report."""
    return PatternRow(blur.contrast, disturbed, blur.finest_um, _contrast_words(blur, mean_layer_um))


def _contrast_words(blur: Blur, mean_layer_um: float) -> str:
    limits = rule("pattern")
    if blur.main_element is None:
        return "no pattern: the layers do not differ in any metal that an etch shows; carbon evens out"
    row = blur.contrast[blur.main_element]
    name, now = blur.main_element, row.now_wt
    if blur.left < limits["greys_out_left"]:
        return f"greys out: only {wording.percent(blur.left)} of the difference in {name} is left between the layers"
    strength = _strength(name, now)
    words = f"{strength}: the layers still differ by {wording.wt(now)} {name}"
    if mean_layer_um < limits["eye_um"]:
        words += f"; at {wording.micrometres(mean_layer_um)} a layer the eye sees a grey sheen, not lines"
    return words


def _strength(element: str, now_wt: float) -> str:
    limits = rule("pattern")
    shown = now_wt * _weight(element)
    if shown >= limits["strong_ni_wt"]:
        return "strong, bright against dark"
    if shown >= limits["clear_ni_wt"]:
        return "clear"
    return "weak: two greys close together"
