"""Layer counts, carbon between the layers, hardening temperature and quench oil of a layered bar.

The public names. They are loaded when first asked for, so that a small command stays quick.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from billet.version import VERSION as __version__

if TYPE_CHECKING:
    from billet import quantities, wording
    from billet.composition import ELEMENTS, Composition
    from billet.contract.partners import Partners, PartnerTable
    from billet.contract.report import Report, to_plain
    from billet.contract.study import HeatCurve, HeatPoint, Study, TimeCurve
    from billet.contract.sweep import Sweep
    from billet.contract.uncertainty import Uncertainty
    from billet.contract.wish import Proposal, WishAnswer, WishProgress
    from billet.drawn import (
        FaceAsked,
        FaceBar,
        FaceFacts,
        FacePicture,
        FaceView,
        View,
        face,
        face_bar,
        face_view,
        first_views,
    )
    from billet.errors import (
        AmbiguousSteel,
        BilletError,
        Fault,
        OutOfDomain,
        RecipeError,
        SteelError,
        ToolFault,
        UnknownSteel,
    )
    from billet.examples import example_recipes, examples_folder
    from billet.formulas.radiation import BANDS_UM, true_temperature_c
    from billet.many_bars import PartnerQuestion, partner_question, partner_table, partners, propose, sweep
    from billet.methods import MethodEntry
    from billet.methods import methods as computation_methods
    from billet.one_steel import SteelState, austenitised_state, find_steel, heat_curve
    from billet.own_shop import (
        OWN_KEYS,
        oils_with_classes,
        own_oil_faults,
        own_partner_terms,
        with_own_shop,
    )
    from billet.parse import Recipe, load, parse_recipe
    from billet.planned import Planned, plan
    from billet.proposals import (
        BarBefore,
        bar_before,
        height_for_length_mm,
        proposed_heat_c,
        proposed_heats,
        proposed_height_mm,
        proposed_minutes,
    )
    from billet.questions import study, uncertainty
    from billet.recipe.canonical import canonical_json
    from billet.recipe.declaration import recipe_tables
    from billet.recipe.file import load_recipe_text, recipe_to_toml
    from billet.recipe.help import recipe_help
    from billet.recipe.json_text import JsonRefused, read_json
    from billet.recipe.schema import recipe_schema
    from billet.recipe.spec import FieldSpec, TableSpec
    from billet.sheets import Page as SheetPage
    from billet.sheets import Section, Sheet, build_sheet, kiln_csv, sheet_text
    from billet.sheets.drawn import (
        BarFigure,
        CutFigure,
        FaceFigure,
        Operation,
        StackFigure,
        Stop,
        WindowFigure,
        figure_ends,
    )
    from billet.sheets.forge_proposed import proposed_keys, proposed_of_step
    from billet.shop_units import fahrenheit_first
    from billet.studies.quench_picture import (
        CriticalTime,
        HardnessCurve,
        QuenchPicture,
        hardness_curves,
        quench_picture,
    )
    from billet.tables.control import control_methods
    from billet.tables.glossary import glossary
    from billet.tables.oil_names import NamedOil, oil_by_name
    from billet.tables.scrap import Scrap, SoftIron, scrap_by_name, scraps, soft_iron, soft_irons
    from billet.tables.sources import source, sources
    from billet.tables.steels import STARTS, Start, Steel, steels
    from billet.tables.steels import search as search_steels
    from billet.text.practice import plain_line_points, practice_groups
    from billet.text.state import state_dict
    from billet.text.steel import steel_dict
    from billet.wish.example import EXAMPLE_WISH

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
    "FaceAsked": "billet.drawn",
    "FaceBar": "billet.drawn",
    "FaceFacts": "billet.drawn",
    "FacePicture": "billet.drawn",
    "FaceView": "billet.drawn",
    "View": "billet.contract.face",
    "face": "billet.drawn",
    "face_bar": "billet.drawn",
    "face_view": "billet.drawn",
    "first_views": "billet.drawn",
    "example_recipes": "billet.examples",
    "examples_folder": "billet.examples",
    "OutOfDomain": "billet.errors",
    "RecipeError": "billet.errors",
    "SteelError": "billet.errors",
    "ToolFault": "billet.errors",
    "UnknownSteel": "billet.errors",
    "BANDS_UM": "billet.formulas.radiation",
    "true_temperature_c": "billet.formulas.radiation",
    "MethodEntry": "billet.methods",
    "computation_methods": "billet.methods:methods",
    "BarFigure": "billet.sheets.drawn",
    "CutFigure": "billet.sheets.drawn",
    "FaceFigure": "billet.sheets.drawn",
    "Operation": "billet.sheets.drawn",
    "Section": "billet.sheets",
    "Sheet": "billet.sheets",
    "SheetPage": "billet.sheets:Page",
    "StackFigure": "billet.sheets.drawn",
    "Stop": "billet.sheets.drawn",
    "WindowFigure": "billet.sheets.drawn",
    "figure_ends": "billet.sheets.drawn",
    "proposed_keys": "billet.sheets.forge_proposed",
    "proposed_of_step": "billet.sheets.forge_proposed",
    "build_sheet": "billet.sheets",
    "kiln_csv": "billet.sheets",
    "sheet_text": "billet.sheets",
    "state_dict": "billet.text.state",
    "steel_dict": "billet.text.steel",
    "control_methods": "billet.tables.control",
    "glossary": "billet.tables.glossary",
    "NamedOil": "billet.tables.oil_names",
    "Scrap": "billet.tables.scrap",
    "SoftIron": "billet.tables.scrap",
    "scrap_by_name": "billet.tables.scrap",
    "scraps": "billet.tables.scrap",
    "soft_iron": "billet.tables.scrap",
    "soft_irons": "billet.tables.scrap",
    "OWN_KEYS": "billet.own_shop",
    "oils_with_classes": "billet.own_shop",
    "own_oil_faults": "billet.own_shop",
    "own_partner_terms": "billet.own_shop",
    "with_own_shop": "billet.own_shop",
    "oil_by_name": "billet.tables.oil_names",
    "source": "billet.tables.sources",
    "sources": "billet.tables.sources",
    "STARTS": "billet.tables.steels",
    "Start": "billet.tables.steels",
    "Steel": "billet.tables.steels",
    "find_steel": "billet.one_steel",
    "steels": "billet.tables.steels",
    "search_steels": "billet.tables.steels:search",
    "plain_line_points": "billet.text.practice",
    "practice_groups": "billet.text.practice",
    "fahrenheit_first": "billet.shop_units",
    "Planned": "billet.planned",
    "plan": "billet.planned",
    "BarBefore": "billet.proposals",
    "bar_before": "billet.proposals",
    "height_for_length_mm": "billet.proposals",
    "proposed_heat_c": "billet.proposals",
    "proposed_heats": "billet.proposals",
    "proposed_height_mm": "billet.proposals",
    "proposed_minutes": "billet.proposals",
    "Recipe": "billet.parse",
    "load": "billet.parse",
    "parse_recipe": "billet.parse",
    "load_recipe_text": "billet.recipe.file",
    "recipe_to_toml": "billet.recipe.file",
    "recipe_schema": "billet.recipe.schema",
    "recipe_help": "billet.recipe.help",
    "JsonRefused": "billet.recipe.json_text",
    "read_json": "billet.recipe.json_text",
    "recipe_tables": "billet.recipe.declaration",
    "FieldSpec": "billet.recipe.spec",
    "TableSpec": "billet.recipe.spec",
    "canonical_json": "billet.recipe.canonical",
    "Report": "billet.contract.report",
    "to_plain": "billet.contract.report",
    "SteelState": "billet.one_steel",
    "austenitised_state": "billet.one_steel",
    "study": "billet.questions",
    "heat_curve": "billet.one_steel",
    "HeatCurve": "billet.contract.study",
    "HeatPoint": "billet.contract.study",
    "Study": "billet.contract.study",
    "TimeCurve": "billet.contract.study",
    "Uncertainty": "billet.contract.uncertainty",
    "uncertainty": "billet.questions",
    "PartnerQuestion": "billet.many_bars",
    "PartnerTable": "billet.contract.partners",
    "Partners": "billet.contract.partners",
    "partner_question": "billet.many_bars",
    "partner_table": "billet.many_bars",
    "partners": "billet.many_bars",
    "Sweep": "billet.contract.sweep",
    "sweep": "billet.many_bars",
    "Proposal": "billet.contract.wish",
    "WishAnswer": "billet.contract.wish",
    "WishProgress": "billet.contract.wish",
    "propose": "billet.many_bars",
    "EXAMPLE_WISH": "billet.wish.example",
}

__all__ = ["__version__", "quantities", "wording", *_HOME]


def __getattr__(name: str) -> Any:
    """Fetch a public name from its module. Raises AttributeError for any other."""
    if name in ("quantities", "wording"):
        return import_module(f"billet.{name}")
    home = _HOME.get(name)
    if home is None:
        raise AttributeError(f"module 'billet' has no attribute {name!r}")
    module, _, other = home.partition(":")
    value = getattr(import_module(module), other or name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    """The public names."""
    return sorted(__all__)
