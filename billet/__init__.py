"""Layer counts, carbon between the layers, hardening temperature and quench oil of a layered bar.

The public names. They are loaded when first asked for, so that a small command stays quick.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from billet.version import VERSION as __version__

if TYPE_CHECKING:
    from billet.composition import ELEMENTS, Composition
    from billet.contract.report import Report, to_plain
    from billet.contract.study import HeatCurve, HeatPoint, Study, TimeCurve
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
    from billet.hardening.austenite_state import SteelState, austenitised_state
    from billet.methods import MethodEntry
    from billet.methods import methods as computation_methods
    from billet.parse import Recipe, parse_recipe
    from billet.planned import plan
    from billet.recipe.file import load_recipe_text, recipe_to_toml
    from billet.recipe.schema import recipe_schema
    from billet.sheets import Sheet, build_sheet, kiln_csv, sheet_text
    from billet.studies.heat_curves import heat_curve
    from billet.studies.quench_picture import (
        CriticalTime,
        HardnessCurve,
        QuenchPicture,
        hardness_curves,
        quench_picture,
    )
    from billet.studies.study import study
    from billet.tables.control import control_methods
    from billet.tables.glossary import glossary
    from billet.tables.sources import source, sources
    from billet.tables.steels import Steel, find_steel, steels
    from billet.tables.steels import search as search_steels
    from billet.text.practice import plain_line_points, practice_groups
    from billet.text.state import state_dict
    from billet.text.steel import steel_dict
    from billet.variation.count import Uncertainty
    from billet.variation.count import uncertainty_of as uncertainty

_HOME: dict[str, str] = {
    "ELEMENTS": "billet.composition",
    "Composition": "billet.composition",
    "CriticalTime": "billet.studies.quench_picture",
    "HardnessCurve": "billet.studies.quench_picture",
    "QuenchPicture": "billet.studies.quench_picture",
    "hardness_curves": "billet.studies.quench_picture",
    "quench_picture": "billet.studies.quench_picture",
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
    "kiln_csv": "billet.sheets",
    "sheet_text": "billet.sheets",
    "state_dict": "billet.text.state",
    "steel_dict": "billet.text.steel",
    "control_methods": "billet.tables.control",
    "glossary": "billet.tables.glossary",
    "source": "billet.tables.sources",
    "sources": "billet.tables.sources",
    "Steel": "billet.tables.steels",
    "find_steel": "billet.tables.steels",
    "steels": "billet.tables.steels",
    "search_steels": "billet.tables.steels:search",
    "plain_line_points": "billet.text.practice",
    "practice_groups": "billet.text.practice",
    "plan": "billet.planned",
    "Recipe": "billet.parse",
    "parse_recipe": "billet.parse",
    "load_recipe_text": "billet.recipe.file",
    "recipe_to_toml": "billet.recipe.file",
    "recipe_schema": "billet.recipe.schema",
    "Report": "billet.contract.report",
    "to_plain": "billet.contract.report",
    "SteelState": "billet.hardening.austenite_state",
    "austenitised_state": "billet.hardening.austenite_state",
    "study": "billet.studies.study",
    "heat_curve": "billet.studies.heat_curves",
    "HeatCurve": "billet.contract.study",
    "HeatPoint": "billet.contract.study",
    "Study": "billet.contract.study",
    "TimeCurve": "billet.contract.study",
    "Uncertainty": "billet.variation.count",
    "uncertainty": "billet.variation.count:uncertainty_of",
}

__all__ = [
    "BANDS_UM",
    "ELEMENTS",
    "AmbiguousSteel",
    "BilletError",
    "Composition",
    "CriticalTime",
    "Fault",
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
    "austenitised_state",
    "build_sheet",
    "computation_methods",
    "control_methods",
    "find_steel",
    "glossary",
    "hardness_curves",
    "heat_curve",
    "kiln_csv",
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
