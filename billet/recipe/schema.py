"""JSON schema (draft 2020-12) of a recipe. What a schema cannot say, `parse_recipe` checks."""

from billet.composition import ELEMENTS
from billet.recipe import limits
from billet.recipe.schema_steps import (
    Schema,
    choice,
    integer,
    number,
    plate,
    step_schema,
    table,
    text_line,
)
from billet.tables.control import control_methods


def recipe_schema() -> Schema:
    """The schema as a plain dict without references, fit to stand anywhere in an OpenAPI document."""
    properties: Schema = {
        "format": {"const": limits.FORMAT, "type": "integer", "description": "format of the recipe"},
        "title": text_line(limits.TITLE_LONGEST, "title, as printed"),
        "steels": _steels(),
        "stack": _stack(),
        "forge": table({"scale_factor": _scale_factor()}, (), "how the forge differs from the published law"),
        "steps": {
            "type": "array",
            "maxItems": limits.STEPS_COUNT[1],
            "items": step_schema(),
            "description": "in order; may be absent for a single plate",
        },
        "blade": _blade(),
        "control": _control(),
        "shop": _shop(),
        "sheet": _sheet(),
    }
    text = "A bar of two or more steels: mm, C, minutes and wt% throughout"
    return {"title": "Recipe", **table(properties, ("format", "title", "steels", "stack"), text)}


def _scale_factor() -> Schema:
    text = "multiplies the metal that the published law of scaling takes"
    return number(limits.SCALE_FACTOR, "", text, "scale_factor")


def _steels() -> Schema:
    designation = text_line(limits.NAME_LONGEST, "designation, number or name of a grade of the library")
    carbon = number((0.0, limits.STEEL_CARBON_WT), "wt%", "content of C")
    others = {e: number(limits.ELEMENT_WT, "wt%", f"content of {e}") for e in ELEMENTS if e != "C"}
    wt = {**table({"C": carbon, **others}, (), "analysis; iron is the rest"), "minProperties": 1}
    end: Schema = {"type": "number", "minimum": limits.HARDEN_C[0], "maximum": limits.HARDEN_C[1]}
    harden: Schema = {
        "type": "array",
        "items": end,
        "minItems": 2,
        "maxItems": 2,
        "description": "hardening range of the maker, [low, high] [C]",
    }
    melt = text_line(limits.NAME_LONGEST, "number of the melt")
    role = choice(("cladding",), "a steel that may stay soft")
    shared = {"melt": melt, "role": role, "wt": wt, "harden_c": harden}
    like = table(
        {"like": designation, **shared}, ("like",), "a grade with an analysis of its own laid over it"
    )
    name = text_line(limits.NAME_LONGEST, "what the steel is called")
    own = table({"name": name, **shared}, ("name", "wt"), "a steel told by its analysis alone")
    return {
        "type": "object",
        "minProperties": limits.STEELS[0],
        "maxProperties": limits.STEELS[1],
        "propertyNames": {"minLength": 1, "maxLength": limits.NAME_LONGEST},
        "additionalProperties": {"anyOf": [designation, like, own]},
        "description": "names of your own, each with the steel it stands for",
    }


def _stack() -> Schema:
    steel = text_line(limits.NAME_LONGEST, "a name of [steels]")
    low, high = limits.PLATES
    thickness = number(limits.PLATE_MM, "mm", "thickness of the plates of this steel")
    properties: Schema = {
        "width_mm": number(limits.WIDTH_MM, "mm", "width of all plates"),
        "length_mm": number(limits.LENGTH_MM, "mm", "length of all plates"),
        "pattern": {
            "type": "array",
            "items": steel,
            "minItems": low,
            "maxItems": high,
            "description": "repeated from the bottom up until `count` plates lie",
        },
        "count": integer(limits.PLATES, "number of plates"),
        "thickness_mm": {
            "type": "object",
            "additionalProperties": thickness,
            "description": "a thickness for each steel of the pattern [mm]",
        },
        "plates": {
            "type": "array",
            "items": plate(),
            "minItems": low,
            "maxItems": high,
            "description": "every plate from the bottom up, instead of a pattern",
        },
    }
    ways = [{"required": ["plates"]}, {"required": ["pattern", "count", "thickness_mm"]}]
    return {**table(properties, ("width_mm", "length_mm"), "the cold stack"), "oneOf": ways}


def _blade() -> Schema:
    properties = {
        "thickness_mm": number(limits.BLADE_MM, "mm", "thickest section when quenched"),
        "edge_mm": number(limits.EDGE_MM, "mm", "thickness of the edge when quenched", "edge_mm"),
        "made": choice(limits.MADE, "ground from the middle of the bar, or forged to thickness", "made"),
        "start": choice(limits.STARTS, "structure before hardening", "start"),
        "bevel_half_angle_deg": number(limits.BEVEL_DEG, "degrees", "half of the angle of the bevels"),
        "edge_at": choice(limits.EDGE_AT, "where in the height of the bar the edge lies", "edge_at"),
        "width_mm": number(limits.BLADE_WIDTH_MM, "mm", "width of the blade"),
        "length_mm": number(limits.BLADE_LENGTH_MM, "mm", "length of the blade"),
        "bevel_height_mm": number(limits.BEVEL_HEIGHT_MM, "mm", "height of the bevels from the edge"),
        "temper_to_hrc": number(limits.TEMPER_HRC, "HRC", "hardness wanted at the edge"),
        "cladding": {
            "type": "array",
            "items": text_line(limits.NAME_LONGEST, "a name of [steels]"),
            "maxItems": limits.STEELS[1],
            "description": "steels that may stay soft",
        },
    }
    return table(properties, ("thickness_mm",), "the blade that is hardened")


def _control() -> Schema:
    properties = {
        "method": choice(tuple(m.key for m in control_methods()), "how the hardening heat is held"),
        "half_width_k": number(limits.HALF_WIDTH_K, "K", "how far off the heat may be either way"),
    }
    either = [{"required": ["method"]}, {"required": ["half_width_k"]}]
    return {**table(properties, (), "how well the hardening heat is held"), "oneOf": either}


def _shop() -> Schema:
    oil = {
        "name": text_line(limits.NAME_LONGEST, "what the bath is called"),
        "class": choice(limits.OIL_CLASSES, "class of the oil"),
        "nickel_ball_s": number(limits.NICKEL_BALL_S, "s", "nickel-ball seconds"),
    }
    row = {
        **table(oil, ("name",), "one bath of your own"),
        "anyOf": [{"required": ["class"]}, {"required": ["nickel_ball_s"]}],
    }
    properties = {
        "fire": choice(tuple(m.key for m in control_methods()), "how the hardening heat is held"),
        "half_width_k": number(limits.HALF_WIDTH_K, "K", "how far off the heat may be either way"),
        "press": {"type": "boolean", "default": False, "description": "a press forges, else a hammer"},
        "hot_length_mm": number(limits.HOT_LENGTH_MM, "mm", "length of bar that the fire heats"),
        "tallest_mm": number(limits.TALLEST_MM, "mm", "height that fits between the dies"),
        "oils": {"type": "array", "items": row, "maxItems": limits.OILS[1], "description": "baths"},
        "controlled_cooling": {
            "type": "boolean",
            "default": False,
            "description": "the furnace can follow a falling ramp",
        },
        "lowest_cooling_k_h": number(limits.COOLING_K_H, "K/h", "slowest fall the furnace can hold"),
    }
    return table(properties, (), "what this smith owns")


def _sheet() -> Schema:
    properties = {
        "number": text_line(limits.NAME_LONGEST, "number of the bar"),
        "maker": text_line(limits.TITLE_LONGEST, "who forged it"),
        "forged_on": text_line(limits.NAME_LONGEST, "day, as printed"),
        "share_recipe": {
            "type": "boolean",
            "default": limits.DEFAULTS["share_recipe"],
            "description": "the buyer's sheet and the label carry the link to this recipe",
        },
    }
    return table(properties, (), "what the title block says")
