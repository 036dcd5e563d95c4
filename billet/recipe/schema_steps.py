"""JSON schema of the steps of a recipe, made from the bounds and defaults that the reader keeps."""

from typing import Any

from billet.recipe import limits

Schema = dict[str, Any]
Bounds = tuple[float, float]


def number(bounds: Bounds, unit: str, text: str, default_key: str | None = None) -> Schema:
    """A number with its unit in the description."""
    told = f"{text} [{unit}]" if unit else text
    found: Schema = {"type": "number", "minimum": bounds[0], "maximum": bounds[1], "description": told}
    if default_key:
        found["default"] = limits.DEFAULTS[default_key]
    return found


def integer(bounds: tuple[int, int], text: str, default_key: str | None = None) -> Schema:
    found: Schema = {"type": "integer", "minimum": bounds[0], "maximum": bounds[1], "description": text}
    if default_key:
        found["default"] = limits.DEFAULTS[default_key]
    return found


def text_line(longest: int, text: str) -> Schema:
    return {"type": "string", "minLength": 1, "maxLength": longest, "description": text}


def choice(words: tuple[str, ...], text: str, default_key: str | None = None) -> Schema:
    found: Schema = {"type": "string", "enum": list(words), "description": text}
    if default_key:
        found["default"] = limits.DEFAULTS[default_key]
    return found


def table(properties: Schema, required: tuple[str, ...], text: str) -> Schema:
    """A closed table: no key but these."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(required),
        "additionalProperties": False,
        "description": text,
    }


def pair(bounds: Bounds, text: str, default_key: str | None = None) -> Schema:
    """One number for both ends, or [handle end, far end]."""
    one: Schema = {"type": "number", "minimum": bounds[0], "maximum": bounds[1]}
    found: Schema = {
        "anyOf": [one, {"type": "array", "items": one, "minItems": 2, "maxItems": 2}],
        "description": f"{text}; one number for both ends or [handle end, far end] [mm]",
    }
    if default_key:
        found["default"] = limits.DEFAULTS[default_key]
    return found


def plate() -> Schema:
    """A plate of one of the recipe's own steels."""
    return table(
        {
            "steel": text_line(limits.NAME_LONGEST, "a name of [steels]"),
            "thickness_mm": number(limits.PLATE_MM, "mm", "thickness, cold"),
        },
        ("steel", "thickness_mm"),
        "a plate, as wide and long as what it lies on",
    )


def step_schema() -> Schema:
    """One of the eight kinds of step, told apart by `do`."""
    return {"oneOf": [_weld(), _draw(), _upset(), _grind(), _restack(), _crop(), _turn(), _other()]}


def _step(do: str, properties: Schema, required: tuple[str, ...], text: str) -> Schema:
    sizes = {
        key: number(limits.MEASURED_MM, "mm", "measured after the step")
        for key in ("height_mm", "width_mm", "length_mm")
    }
    common: Schema = {
        "do": {"const": do, "type": "string"},
        "note": text_line(limits.NOTE_LONGEST, "printed beside the step"),
        "measured": table(sizes, (), "kept with the recipe, not used"),
    }
    return table({**common, **properties}, ("do", *required), text)


def _fire() -> Schema:
    return {
        "temperature_c": number(limits.FORGE_C, "C", "temperature of the metal"),
        "minutes": number(limits.MINUTES, "min", "at heat, all heats together"),
        "heats": integer(limits.HEATS, "how many heats the step takes", "heats"),
        "atmosphere": choice(limits.ATMOSPHERES, "what the outer faces see", "atmosphere"),
    }


_FIRE_REQUIRED = ("temperature_c", "minutes")


def _weld() -> Schema:
    properties = {
        **_fire(),
        "flux": {"type": "boolean", "default": limits.DEFAULTS["flux"], "description": "flux is used"},
        "height_mm": number(limits.HEIGHT_MM, "mm", "height after the weld, cold"),
        "width_mm": number(limits.WIDTH_MM, "mm", "width after the weld, cold"),
    }
    return _step("weld", properties, _FIRE_REQUIRED, "joins what lies loose")


def _draw() -> Schema:
    properties = {
        **_fire(),
        "height_mm": number(limits.HEIGHT_MM, "mm", "height after the step, cold"),
        "width_mm": number(limits.WIDTH_MM, "mm", "width after the step, cold; without it the width stays"),
    }
    return _step("draw", properties, (*_FIRE_REQUIRED, "height_mm"), "forges the bar longer")


def _upset() -> Schema:
    properties = {
        **_fire(),
        "length_mm": number(limits.LENGTH_AFTER_MM, "mm", "length after the step, cold"),
    }
    return _step("upset", properties, (*_FIRE_REQUIRED, "length_mm"), "forges the bar shorter")


def _other() -> Schema:
    properties = {**_fire(), "what": text_line(limits.TITLE_LONGEST, "what is done, as printed")}
    text = "any other work in the fire; the pattern counts as disturbed after it"
    return _step("other", properties, (*_FIRE_REQUIRED, "what"), text)


def _turn() -> Schema:
    return _step("turn", {}, (), "turns the bar on edge; it cannot be restacked or welded after it")


def _grind() -> Schema:
    properties = {
        "per_face_mm": number(limits.GRIND_MM, "mm", "off top and off bottom"),
        "side_mm": number(limits.GRIND_MM, "mm", "off each side", "side_mm"),
    }
    return _step("grind", properties, ("per_face_mm",), "grinds faces and sides")


def _crop() -> Schema:
    properties = {
        "end_mm": pair(limits.TRIM_MM, "what goes off"),
        "length_mm": number(limits.LENGTH_AFTER_MM, "mm", "what stays"),
    }
    both = [{"required": ["end_mm"]}, {"required": ["length_mm"]}]
    return {**_step("crop", properties, (), "cuts ends off: end_mm or length_mm"), "oneOf": both}


def _restack() -> Schema:
    lay: Schema = {
        "type": "array",
        "minItems": 2,
        "maxItems": limits.PLATES[1],
        "items": {"anyOf": [{"type": "string", "enum": ["piece", "turned"]}, plate()]},
        "description": "bottom up; pieces that are not laid are left over",
    }
    orders = "folded is a zigzag of 2 to 4 pieces without kerf"
    properties = {
        "pieces": integer(limits.PIECES, "how many pieces the bar is cut into"),
        "trim_mm": pair(limits.TRIM_MM, "cut off before", "trim_mm"),
        "kerf_mm": number(limits.KERF_MM, "mm", "lost in each cut; 0 for a fold", "kerf_mm"),
        "order": choice(limits.ORDERS, orders),
        "lay": lay,
    }
    either = [{"required": ["order"]}, {"required": ["lay"]}]
    step = _step("restack", properties, ("pieces",), "cuts and lays the pieces one on another")
    return {**step, "oneOf": either}
