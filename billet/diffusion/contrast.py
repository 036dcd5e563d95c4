"""What stays in the layers and what blurs: the alloying metals, and what an etch will show."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet import wording
from billet.composition import Composition
from billet.contract.report import ElementContrast, PatternRow
from billet.diffusion.alloy_diffusion import alloy_contrast
from billet.diffusion.profile import Profile
from billet.tables.practice import decision_numbers


@dataclass(frozen=True)
class AlloyInterdiffusion:
    """Contrast left for each element; `main_element` is the one that shows most in an etch."""

    contrast: Mapping[str, ElementContrast]
    finest_um: float | None
    main_element: str | None
    left: float


def alloy_interdiffusion(profile: Profile) -> AlloyInterdiffusion:
    """How much of each element's difference between neighbours is left in a piece."""
    found = alloy_contrast(profile)
    contrast = {
        element: ElementContrast(row.start_wt, row.now_wt, min(row.left, 1.0))
        for element, row in found.elements.items()
    }
    if not contrast:
        return AlloyInterdiffusion({}, None, None, 1.0)
    main = max(contrast, key=lambda e: _weight(e) * contrast[e].start_wt)
    return AlloyInterdiffusion(contrast, found.finest_useful_um, main, contrast[main].left)


def _weight(element: str) -> float:
    """How strongly an element shows in an etch beside nickel = 1. Common practice, no source."""
    return {"Ni": 1.0, "Cr": 0.8, "Mn": 0.7, "Si": 0.4, "W": 0.4, "Mo": 0.4}.get(element, 0.3)


def interdiffused_composition(
    supplied: Composition, mean: Composition, contrast: Mapping[str, ElementContrast]
) -> Composition:
    """A layer's analysis after blurring: what is left of its difference from the bar's mean."""
    wt = dict(supplied.wt)
    for element, row in contrast.items():
        wt[element] = mean[element] + row.left * (supplied[element] - mean[element])
    return Composition(wt)


def pattern_row(blur: AlloyInterdiffusion, disturbed: bool, mean_layer_um: float) -> PatternRow:
    """The pattern's row of the report."""
    return PatternRow(blur.contrast, disturbed, blur.finest_um, _contrast_words(blur, mean_layer_um))


def _contrast_words(blur: AlloyInterdiffusion, mean_layer_um: float) -> str:
    limits = decision_numbers("pattern")
    if blur.main_element is None:
        return "no pattern: the layers do not differ in any metal that an etch shows; carbon evens out"
    row = blur.contrast[blur.main_element]
    name, now = blur.main_element, row.now_wt
    if blur.left < limits["greys_out_left"]:
        left = wording.percent(blur.left)
        return f"greys out: only {left} of the difference in {name} is left between the layers"
    strength = _strength(name, now)
    words = f"{strength}: the layers still differ by {wording.wt(now)} {name}"
    if mean_layer_um < limits["eye_um"]:
        words += f"; at {wording.micrometres(mean_layer_um)} a layer the eye sees a grey sheen, not lines"
    return words


def _strength(element: str, now_wt: float) -> str:
    limits = decision_numbers("pattern")
    shown = now_wt * _weight(element)
    if shown >= limits["strong_ni_wt"]:
        return "strong, bright against dark"
    if shown >= limits["clear_ni_wt"]:
        return "clear"
    return "weak: two greys close together"
