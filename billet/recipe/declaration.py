"""Every field of every table of a recipe, declared once.

The reader, the schema, the canonical form, the form of the pages and the help are made from this. The
bounds are ours: wide enough for any small forge, narrow enough that a slip of a decimal point or of a
unit is caught, and that no recipe can keep the machine busy for long.
"""

from typing import Any

from billet.composition import ELEMENTS
from billet.recipe.declared_steps import BAR_PIECE, BESIDE, MEASURED, PLATE, PLATES, STEPS, STEPS_COUNT
from billet.recipe.model import USUAL_START, Blade, Control, Layer, SheetInfo, Shop, ShopOil, StackPlan
from billet.recipe.spec import (
    TITLE_LONGEST,
    Choice,
    Either,
    FieldSpec,
    TableSpec,
    choice,
    flag,
    number,
    text,
    whole,
)
from billet.recipe.steel import RecipeSteel
from billet.tables.control import control_methods
from billet.tables.oil_names import never_quenched_in
from billet.tables.steels import STARTS

__all__ = ["BAR_PIECE", "BESIDE", "PLATE", "PLATES", "STEPS", "STEPS_COUNT"]

FORMAT = 1
STEELS = (1, 12)
BARS = (1, 12)
MOST_LAYERS = 10_000
STACK_HEIGHT_MM = 400.0
ELEMENT_WT = (0.0, 100.0)
STEEL_CARBON_WT = 2.5
"""Above about 2.1 % carbon an iron alloy is cast iron; the highest tool steels reach 2.3."""


def _methods() -> tuple[Choice, ...]:
    return tuple(Choice(method.key, method.label) for method in control_methods())


TITLE = text("title", "title", "title, as printed", TITLE_LONGEST, label="Title", required=True)


def _element(element: str) -> FieldSpec:
    bounds = (0.0, STEEL_CARBON_WT) if element == "C" else ELEMENT_WT
    return number(element, f"content of {element}", f"content of {element}", bounds, "wt%", label=element)


ANALYSIS = TableSpec("wt", "analysis; iron is the rest", tuple(_element(e) for e in ELEMENTS), dict)
STEEL = TableSpec(
    "steels",
    "a grade with an analysis of its own laid over it, or a steel told by its analysis alone",
    (
        text("like", "grade it is like", "designation, number or name of a grade of the library",
             label="Grade it is like"),
        text("name", "name of the steel", "what the steel is called", label="What it is",
             attribute="own_name"),
        text("melt", "heat number", "number of the melt", label="Heat number of the melt"),
        FieldSpec("wt", "table", "analysis", ANALYSIS.help, inner=ANALYSIS,
                  label="Analysis, percent by mass"),
        FieldSpec("harden_c", "range", "hardening range", "hardening range of the maker, [low, high]",
                  label="Hardening range", unit="C", bounds=(650.0, 1300.0), hint="from the maker's sheet"),
        choice("role", "part in the bar", "a steel that may stay soft",
               ("cladding", "cladding, may stay soft"), label="Part in the bar"),
    ),
    RecipeSteel,
    either=Either((("like",), ("name",))),
)  # fmt: skip
STACK = TableSpec(
    "stack",
    "the cold stack",
    (
        number("width_mm", "width of the plates", "width of all plates", (5.0, 500.0), "mm",
               label="Width of the plates", required=True),
        number("length_mm", "length of the plates", "length of all plates", (10.0, 5000.0), "mm",
               label="Length of the plates", required=True),
        FieldSpec("pattern", "steels", "order of the plates",
                  "repeated from the bottom up until `count` plates lie", bounds=PLATES,
                  label="From the bottom up"),
        whole("count", "number of plates", "number of plates", PLATES, label="Plates in all",
              hint="the order is repeated until they lie"),
        FieldSpec("thickness_mm", "each", "thickness", "a thickness for each steel of the pattern", unit="mm",
                  bounds=(0.02, 100.0), label="Thickness of a plate"),
        FieldSpec("plates", "plates", "plates", "every plate from the bottom up, instead of a pattern",
                  bounds=PLATES, inner=PLATE, bar_inner=BAR_PIECE, beside_inner=BESIDE,
                  attribute="listed", label="Plate by plate"),
    ),
    StackPlan,
    label="The stack",
    either=Either((("plates",), ("pattern", "count", "thickness_mm")), where="pattern"),
    rule=lambda stack: _stack_rule(stack),
)  # fmt: skip
FORGE = TableSpec(
    "forge",
    "how the forge differs from the published law",
    (number("scale_factor", "scale factor", "multiplies the metal that the published law of scaling takes",
            (0.0, 5.0), label="Scale, times the published law", default=1.0),),
    dict,
    label="Scale",
)  # fmt: skip
BLADE = TableSpec(
    "blade",
    "the blade that is hardened",
    (
        number("thickness_mm", "thickness of the blade", "thickest section when quenched", (0.3, 30.0), "mm",
               label="Thickest section when quenched", required=True),
        number("edge_mm", "thickness of the edge", "thickness of the edge when quenched", (0.05, 30.0), "mm",
               label="Edge when quenched", default=1.0),
        choice("made", "way it is made", "ground from the middle of the bar, or forged to thickness",
               ("ground", "grinding from the bar"), ("forged", "forging to thickness"),
               label="Made by", default="ground"),
        choice("start", "structure before hardening", "structure before hardening",
               *((word, word) for word in STARTS), label="Structure before hardening", default=USUAL_START),
        number("bevel_half_angle_deg", "half angle of the bevels", "half of the angle of the bevels",
               (0.5, 45.0), "degrees", label="Bevel, half angle"),
        choice("edge_at", "place of the edge",
               "where in the bar the edge lies; left and right where bars lie side by side",
               ("middle", "in the middle of the bar"), ("face", "at one face"),
               ("left", "at the left side"), ("right", "at the right side"),
               label="Edge lies", default="middle"),
        number("width_mm", "width of the blade", "width of the blade", (2.0, 500.0), "mm",
               label="Width of the blade"),
        number("length_mm", "length of the blade", "length of the blade", (10.0, 5000.0), "mm",
               label="Length of the blade"),
        number("bevel_height_mm", "height of the bevels", "height of the bevels from the edge", (1.0, 500.0),
               "mm", label="Height of the bevels"),
        number("temper_to_hrc", "hardness wanted", "hardness wanted at the edge", (30.0, 68.0), "HRC",
               label="Hardness wanted at the edge"),
        FieldSpec("cladding", "some", "cladding", "steels that may stay soft", bounds=(0, STEELS[1]),
                  default=(), label="May stay soft"),
    ),
    Blade,
    label="The blade",
    rule=lambda blade: _blade_rule(blade),
)  # fmt: skip
HALF_WIDTH = number("half_width_k", "how far off the heat may be", "how far off the heat may be either way",
                    (0.5, 200.0), "K", label="or how far off it may be, each way")  # fmt: skip
CONTROL = TableSpec(
    "control",
    "how well the hardening heat is held",
    (
        choice("method", "way to hold the heat", "how the hardening heat is held", offered=_methods,
               label="How the hardening heat is judged"),
        HALF_WIDTH,
    ),
    Control,
    label="Judging the heat",
    either=Either((("method",), ("half_width_k",))),
)  # fmt: skip
OIL_CLASSES = ("brine", "water", "fast oil", "medium oil", "slow oil", "hot oil", "vegetable oil")
OIL = TableSpec(
    "oils",
    "one bath of your own; its class or its nickel-ball seconds or both",
    (
        text("name", "name of the bath", "what the bath is called", label="Your name for it", required=True),
        choice("class", "class of the oil", "class of the oil", *((word, word) for word in OIL_CLASSES),
               label="Class", attribute="medium"),
        number("nickel_ball_s", "nickel-ball seconds", "nickel-ball seconds, from the maker's sheet",
               (1.0, 60.0), "s", label="Nickel-ball seconds"),
    ),
    ShopOil,
    label="Oil",
    either=Either((("class",), ("nickel_ball_s",)), "least"),
)  # fmt: skip
SHOP = TableSpec(
    "shop",
    "what this smith owns",
    (
        choice("fire", "way to hold the heat",
               "how the hardening heat is held; used where [control] is not given", offered=_methods,
               label="The fire you harden in"),
        HALF_WIDTH,
        flag("press", "press", "a press forges, else a hammer", False, label="A press forges, not a hammer"),
        number("hot_length_mm", "length that the fire heats", "length of bar that the fire heats",
               (20.0, 5000.0), "mm", label="Length the fire heats"),
        number("tallest_mm", "height between the dies", "height that fits between the dies",
               (5.0, 1000.0), "mm", label="Tallest stack the dies take"),
        FieldSpec("oils", "rows", "oils", "the baths you have", bounds=(0, 12), inner=OIL, default=(),
                  label="Your oils"),
        flag("controlled_cooling", "controlled cooling", "the furnace can follow a falling ramp", False,
             label="The furnace can follow a falling ramp"),
        number("lowest_cooling_k_h", "slowest fall", "slowest fall that the furnace can hold",
               (1.0, 1000.0), "K/h", label="Slowest fall it can hold"),
    ),
    Shop,
    label="Your shop",
    either=Either((("fire",), ("half_width_k",)), "most"),
    rule=lambda shop: _shop_rule(shop),
)  # fmt: skip
SHEET = TableSpec(
    "sheet",
    "what the title block says",
    (
        text("number", "bar number", "number of the bar", label="Bar number"),
        text("maker", "maker", "who forged it", TITLE_LONGEST, label="Made by"),
        FieldSpec("forged_on", "day", "day of forging", "day, as printed", bounds=(1, 40), label="Forged on"),
        flag("share_recipe", "leave to share the recipe",
             "the buyer's sheet and the label carry the link to this recipe", False,
             label="The buyer may see the recipe (link on label and buyer's sheet)"),
    ),
    SheetInfo,
    label="For the paper",
)  # fmt: skip
BARS_HELP = "bars that are made first, by names of your own, each with a stack and steps as below"
FLAT = (FORGE, BLADE, CONTROL, SHOP, SHEET)
"""Tables that stand once, hold fields alone and may be left out."""
TABLES = (
    "format", "title", "steels", "bars", "stack", "forge", "steps", "blade", "control", "shop", "sheet",
)  # fmt: skip
"""The keys of a recipe, in the order in which it is written."""


def _stack_rule(stack: StackPlan) -> tuple[str, str] | None:
    height_mm = sum(item.thickness_mm for item in stack.plates if isinstance(item, Layer))
    if height_mm <= STACK_HEIGHT_MM:
        return None
    return "", f"the plates must not lie higher than {STACK_HEIGHT_MM:g} mm, got {height_mm:g}"


def _blade_rule(blade: Blade) -> tuple[str, str] | None:
    if blade.edge_mm <= blade.thickness_mm:
        return None
    rule = (
        f"thickness of the edge (edge_mm) must not be more than that of the blade, {blade.thickness_mm:g} mm"
    )
    return "edge_mm", f"{rule}, got {blade.edge_mm:g}"


def _shop_rule(shop: Shop) -> tuple[str, str] | None:
    names: list[Any] = [oil.name for oil in shop.oils]
    for index, name in enumerate(names):
        never = never_quenched_in(str(name))
        if never is not None:
            return f"oils[{index}].name", never
        if name in names[:index]:
            return f"oils[{index}].name", f'another oil is called "{name}"; each needs its own name'
    return None


def recipe_tables() -> dict[str, TableSpec]:
    """Every table of a recipe by name: "stack", "blade", "steps.draw", "shop" and so on.

    "" holds the fields that stand at the top; "wt", "plates", "bar", "beside", "measured" and "oils" are
    inner tables. Each of [bars] has the fields of "stack" and of the steps.
    """
    top = TableSpec("", "what stands at the top", (TITLE,), dict, label="The bar")
    steps = {f"steps.{do}": spec for do, spec in STEPS.items()}
    inner = {spec.key: spec for spec in (STEEL, ANALYSIS, STACK, PLATE, BAR_PIECE, BESIDE, MEASURED, OIL)}
    return {"": top, **inner, **{spec.key: spec for spec in FLAT}, **steps}
