"""The equation a reader is shown and the equation that is computed must be the same.

The text of each equation is read as arithmetic ("10.7 Mn" is a product) and compared with the function
on analyses that hold every element. A slip in one of the two then fails, whichever it is.
"""

import math
import re
from collections.abc import Callable
from importlib import import_module
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import ELEMENTS, Composition
from billet.published import REGISTRY
from billet.units import f_to_c, k_to_c

TOKEN = re.compile(r"\d+(?:\.\d+)?(?:e-?\d+)?|sqrt|exp|ln|log V|[A-Z][a-z]?|[-+*/^()]")
FUNCTIONS = {"sqrt": math.sqrt, "exp": math.exp}
BY_ANALYSIS = [
    "critical.ae1_andrews_c",
    "critical.ae3_andrews_c",
    "critical.ae1_grange_c",
    "critical.ae3_grange_c",
    "critical.ae1_eldis_c",
    "critical.ae3_eldis_c",
    "critical.ac1_trzaska_2016_c",
    "critical.ac3_trzaska_2016_c",
    "critical.acm_lee_lee_c",
    "martensite.ms_van_bohemen_c",
    "martensite.ms_ingber_kunert_c",
    "martensite.ms_andrews_linear_c",
    "martensite.ms_andrews_product_c",
    "martensite.ms_steven_haynes_c",
    "martensite.ms_kung_rayment_andrews_c",
    "martensite.ms_kung_rayment_steven_haynes_c",
    "martensite.ms_payson_savage_c",
    "martensite.ms_capdevila_c",
    "martensite.ms_barbier_c",
    "martensite.ms_trzaska_2016_c",
    "martensite.alpha_van_bohemen_per_k",
    "transformation.ferrite_factor",
    "transformation.pearlite_factor",
    "transformation.bainite_factor",
    "transformation.bainite_start_li_c",
    "transformation.bainite_start_van_bohemen_c",
]
BY_CARBON = [
    "critical.acm_iron_carbon_c",
    "hardenability.initial_hardness_hrc",
    "hardenability.half_martensite_hardness_hrc",
    "solidus.solidus_iron_carbon_c",
    "tempering.hollomon_jaffe_constant",
]
BY_VELOCITY = [
    "maynier.martensite_hardness_hv",
    "maynier.bainite_hardness_hv",
    "maynier.ferrite_pearlite_hardness_hv",
]


def function(key: str) -> Callable[..., Any]:
    module, name = key.rsplit(".", 1)
    found: Callable[..., Any] = getattr(import_module(f"billet.formulas.{module}"), name)
    return found


def as_python(equation: str) -> str:
    """The right-hand side of an equation as a Python expression: neighbours are multiplied."""
    words: list[str] = []
    for token in TOKEN.findall(equation.split(" = ")[-1]):
        word = token.replace("^", "**").replace("log V", "log_velocity")
        begins = word[0].isalnum() or word == "("
        before = words[-1] if words else "("
        if begins and (before[-1].isalnum() or before == ")") and before not in FUNCTIONS:
            words.append("*")
        words.append(word)
    return "".join(words)


def shown(key: str, values: dict[str, float]) -> float:
    entry = REGISTRY[key]
    result = float(eval(as_python(entry.equation), {**FUNCTIONS, **values}))
    if "[F]" in entry.equation:
        return f_to_c(result)
    return k_to_c(result) if "[K]" in entry.equation else result


def analysis(amounts: list[float]) -> dict[str, float]:
    return dict(zip(ELEMENTS, amounts, strict=True))


ANALYSES = st.lists(st.floats(0.0, 1.5), min_size=len(ELEMENTS), max_size=len(ELEMENTS))


@pytest.mark.parametrize("key", BY_ANALYSIS)
@given(amounts=ANALYSES)
def test_equation_in_elements_is_what_is_computed(key: str, amounts: list[float]) -> None:
    compute, wt = function(key), analysis(amounts)
    assert compute(Composition(wt)) == pytest.approx(shown(key, wt), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("key", BY_CARBON)
@given(carbon=st.floats(0.0, 2.0))
def test_equation_in_carbon_is_what_is_computed(key: str, carbon: float) -> None:
    compute = function(key)
    assert compute(carbon) == pytest.approx(shown(key, {"C": carbon}), rel=1e-9)


@pytest.mark.parametrize("key", BY_VELOCITY)
@given(amounts=ANALYSES, log_velocity=st.floats(1.0, 6.0))
def test_equation_in_velocity_is_what_is_computed(
    key: str, amounts: list[float], log_velocity: float
) -> None:
    compute, wt = function(key), analysis(amounts)
    wt["C"] = min(wt["C"], 0.5)
    expected = shown(key, {**wt, "log_velocity": log_velocity})
    assert compute(Composition(wt), 10.0**log_velocity / 3600.0) == pytest.approx(expected, rel=1e-9)


def test_reader_of_equations_multiplies_neighbours() -> None:
    assert as_python("X = 2 C^2 - 3 C Mn + sqrt(C)") == "2*C**2-3*C*Mn+sqrt(C)"
    assert as_python("Y = 1e-3 (27.2 - 0.14 Mn)") == "1e-3*(27.2-0.14*Mn)"


def test_every_equation_in_elements_is_in_the_list() -> None:
    """A new regression on an analysis cannot be forgotten here."""
    for module in {key.split(".")[0] for key in BY_ANALYSIS}:
        import_module(f"billet.formulas.{module}")
    pattern = re.compile(r"\d (?:C|Mn|Si|Ni|Cr)\b")
    modules = ("critical", "martensite", "transformation", "density")
    with_elements = {
        key
        for key, entry in REGISTRY.items()
        if entry.module in modules and pattern.search(entry.equation.replace("sqrt(C)", "C"))
    }
    in_pieces = {"martensite.steven_haynes_carbon_correction_k"}
    assert with_elements - in_pieces == set(BY_ANALYSIS + BY_CARBON) & with_elements
