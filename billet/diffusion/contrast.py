"""What stays in the layers and what blurs: the alloying metals, and what an etch will show."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet.composition import Composition
from billet.contract.forging_rows import ElementContrast
from billet.contract.values import Fact, Reason
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
    main = max(contrast, key=lambda e: etch_weight(e) * contrast[e].start_wt)
    return AlloyInterdiffusion(contrast, found.finest_useful_um, main, contrast[main].left)


def etch_weight(element: str) -> float:
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


def contrast_reason(blur: AlloyInterdiffusion, mean_layer_um: float) -> Reason:
    """How strongly the layers will show in an etch, and by which metal."""
    limits = decision_numbers("pattern")
    if blur.main_element is None:
        return Reason("contrast-none")
    now_wt = blur.contrast[blur.main_element].now_wt
    values: dict[str, Fact] = {
        "element": blur.main_element,
        "now_wt": now_wt,
        "left_frac": blur.left,
        "layer_um": mean_layer_um,
        "too_fine": mean_layer_um < limits["eye_um"],
    }
    if blur.left < limits["greys_out_left"]:
        return Reason("contrast-greys-out", values)
    shown = now_wt * etch_weight(blur.main_element)
    if shown >= limits["strong_ni_wt"]:
        return Reason("contrast-strong", values)
    if shown >= limits["clear_ni_wt"]:
        return Reason("contrast-clear", values)
    return Reason("contrast-weak", values)
