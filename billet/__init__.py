"""Layer counts, carbon between the layers, hardening temperature and quench oil of a layered bar.

The public names. They are loaded when first asked for, so that a small command stays quick.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from billet.version import VERSION as __version__

if TYPE_CHECKING:
    from billet.composition import ELEMENTS, Composition
    from billet.curves import (
        Gate,
        HardnessCurve,
        QuenchPicture,
        hardness_curves,
        quench_picture,
    )
    from billet.errors import (
        AmbiguousSteel,
        BilletError,
        Fault,
        OutOfDomain,
        RecipeError,
        SteelError,
        UnknownSteel,
    )
    from billet.formulas.radiation import BANDS_UM, true_temperature_c
    from billet.methods import MethodEntry
    from billet.methods import methods as computation_methods
    from billet.practice_text import plain_line_points, practice_groups
    from billet.sheets import Sheet, build_sheet, sheet_text
    from billet.state_text import state_dict
    from billet.steel_text import steel_dict
    from billet.tables.control import control_methods
    from billet.tables.glossary import glossary
    from billet.tables.sources import source, sources
    from billet.tables.steels import Steel, find_steel, steels
    from billet.tables.steels import search as search_steels
    from billet.workflow.plan import plan
    from billet.workflow.recipe import Recipe, parse_recipe
    from billet.workflow.recipe_file import load_recipe_text, recipe_to_toml
    from billet.workflow.recipe_schema import recipe_schema
    from billet.workflow.report import Report, to_plain
    from billet.workflow.state import SteelState, state_of_steel
    from billet.workflow.studies import study
    from billet.workflow.study_heat import heat_curve
    from billet.workflow.study_model import HeatCurve, HeatPoint, Study, TimeCurve
    from billet.workflow.uncertainty import Uncertainty
    from billet.workflow.uncertainty import uncertainty_of as uncertainty

_HOME: dict[str, str] = {
    "ELEMENTS": "billet.composition",
    "Composition": "billet.composition",
    "Gate": "billet.curves",
    "HardnessCurve": "billet.curves",
    "QuenchPicture": "billet.curves",
    "hardness_curves": "billet.curves",
    "quench_picture": "billet.curves",
    "AmbiguousSteel": "billet.errors",
    "BilletError": "billet.errors",
    "Fault": "billet.errors",
    "OutOfDomain": "billet.errors",
    "RecipeError": "billet.errors",
    "SteelError": "billet.errors",
    "UnknownSteel": "billet.errors",
    "BANDS_UM": "billet.formulas.radiation",
    "true_temperature_c": "billet.formulas.radiation",
    "MethodEntry": "billet.methods",
    "computation_methods": "billet.methods:methods",
    "Sheet": "billet.sheets",
    "build_sheet": "billet.sheets",
    "sheet_text": "billet.sheets",
    "state_dict": "billet.state_text",
    "steel_dict": "billet.steel_text",
    "control_methods": "billet.tables.control",
    "glossary": "billet.tables.glossary",
    "source": "billet.tables.sources",
    "sources": "billet.tables.sources",
    "Steel": "billet.tables.steels",
    "find_steel": "billet.tables.steels",
    "steels": "billet.tables.steels",
    "search_steels": "billet.tables.steels:search",
    "plain_line_points": "billet.practice_text",
    "practice_groups": "billet.practice_text",
    "plan": "billet.workflow.plan",
    "Recipe": "billet.workflow.recipe",
    "parse_recipe": "billet.workflow.recipe",
    "load_recipe_text": "billet.workflow.recipe_file",
    "recipe_to_toml": "billet.workflow.recipe_file",
    "recipe_schema": "billet.workflow.recipe_schema",
    "Report": "billet.workflow.report",
    "to_plain": "billet.workflow.report",
    "SteelState": "billet.workflow.state",
    "state_of_steel": "billet.workflow.state",
    "study": "billet.workflow.studies",
    "heat_curve": "billet.workflow.study_heat",
    "HeatCurve": "billet.workflow.study_model",
    "HeatPoint": "billet.workflow.study_model",
    "Study": "billet.workflow.study_model",
    "TimeCurve": "billet.workflow.study_model",
    "Uncertainty": "billet.workflow.uncertainty",
    "uncertainty": "billet.workflow.uncertainty:uncertainty_of",
}

__all__ = [
    "BANDS_UM",
    "ELEMENTS",
    "AmbiguousSteel",
    "BilletError",
    "Composition",
    "Fault",
    "Gate",
    "HardnessCurve",
    "HeatCurve",
    "HeatPoint",
    "MethodEntry",
    "OutOfDomain",
    "QuenchPicture",
    "Recipe",
    "RecipeError",
    "Report",
    "Sheet",
    "Steel",
    "SteelError",
    "SteelState",
    "Study",
    "TimeCurve",
    "Uncertainty",
    "UnknownSteel",
    "__version__",
    "build_sheet",
    "computation_methods",
    "control_methods",
    "find_steel",
    "glossary",
    "hardness_curves",
    "heat_curve",
    "load_recipe_text",
    "parse_recipe",
    "plain_line_points",
    "plan",
    "practice_groups",
    "quench_picture",
    "recipe_schema",
    "recipe_to_toml",
    "search_steels",
    "sheet_text",
    "source",
    "sources",
    "state_dict",
    "state_of_steel",
    "steel_dict",
    "steels",
    "study",
    "to_plain",
    "true_temperature_c",
    "uncertainty",
    "wording",
]


def __getattr__(name: str) -> Any:
    """Fetch a public name from its module. Raises AttributeError for any other."""
    home = _HOME.get(name)
    if home is None:
        raise AttributeError(f"module 'billet' has no attribute {name!r}")
    module, _, other = home.partition(":")
    value = getattr(import_module(module), other or name)
    globals()[name] = value
    return value
