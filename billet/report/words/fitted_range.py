"""Words for a formula that was used outside the range it was fitted for."""

from collections.abc import Callable, Mapping
from typing import Any

from billet import wording
from billet.composition import ELEMENTS

QUANTITIES = {
    "equilibrium.lines.critical_lines": "Ae1, Ae3 and Acm are",
    "solidus.solidus_c": "where melting begins is",
    "martensite.ms_van_bohemen_c": "the start of martensite is",
    "hardness.martensite_hardness_hrc": "the hardness of martensite is",
    "hardness.hardness_with_retained_austenite": "the hardness beside retained austenite is",
    "hardenability.ideal_diameter_in": "the ideal diameter, and from it the critical rate, is",
    "tempering.tempered_martensite_hv": "the hardness after tempering is",
    "grain.austenite_grain_um": "the growth of grain is",
    "activity.interaction_uhrenius": "how other elements shift the activity of carbon is",
    "steel_heat.elongation_ec3": "how much longer a bar is while hot is",
    "diffusion.substitutional_diffusivity_m2_s": "how far the other metals cross a seam is",
}


def outside_fitted_range(values: Mapping[str, Any]) -> str:
    """What was asked for, by whom, and the range that the formula was fitted for."""
    name = values["input"]
    who = ", ".join(values["who"])
    farthest = "" if len(values["who"]) == 1 else f" ({values['farthest']} the farthest)"
    return (
        f"{who}: {QUANTITIES[values['formula']]} known for {_shown(name, values['low'], values['high'])} and "
        f"is carried on to {_shown(name, values['value'])}{farthest}"
    )


def _heat(*ends: float) -> str:
    return wording.temperature(ends[0]) if len(ends) == 1 else wording.temperature_range(ends[0], ends[1])


def _share(*ends: float) -> str:
    return " to ".join(wording.percent(end) for end in ends)


def _content(element: str) -> Callable[..., str]:
    return lambda *ends: f"{element} {' to '.join(wording.wt(end) for end in ends)}"


INPUTS: dict[str, Callable[..., str]] = {
    "temperature_c": _heat,
    "retained_austenite_frac": _share,
    "carbon_wt": _content("C"),
    **{element: _content(element) for element in ELEMENTS},
}
"""How each input of a formula is written, by its name."""


def _shown(name: str, *ends: float) -> str:
    return INPUTS[name](*ends)


WORDS: dict[str, Callable[[Mapping[str, Any]], str]] = {"outside-fitted-range": outside_fitted_range}
