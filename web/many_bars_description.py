"""What the questions over many bars take, described: sweep, partners, wish."""

from billet import ELEMENTS
from web.openapi import EXAMPLE, Schema

WISH_EXAMPLE: Schema = {
    "format": 1,
    "steels": {"dark": "1084", "bright": "75Ni8"},
    "want": {"thickness_mm": 5, "width_mm": 40, "length_mm": 200, "layers": 11},
    "stock": {"width_mm": 40, "thickness_mm": {"dark": 3, "bright": 2}},
    "limits": {"stack_mm": 30, "bar_mm": 400, "heats": 9},
}
WISH_SCHEMA: Schema = {
    "type": "object",
    "required": ["format", "steels", "want", "stock", "limits"],
    "properties": {
        "format": {"const": 1},
        "title": {"type": "string"},
        "steels": {"type": "object", "description": "as in a recipe"},
        "share": {"type": "object", "description": "share of the mass by steel, 0 to 1"},
        "want": {
            "type": "object",
            "description": "thickness_mm, width_mm, length_mm of the finished bar; layers or layer_um; "
            "grind_mm off each face; core, core_mm; within, the share by which layers may be off",
        },
        "stock": {"type": "object", "description": "thickness_mm by steel, width_mm, price_kg by steel"},
        "limits": {"type": "object", "description": "stack_mm, bar_mm, heats"},
        "blade": {"type": "object", "description": "as in a recipe; every proposal has it"},
        "control": {"type": "object", "description": "as in a recipe; every proposal has it"},
        "shop": {"type": "object", "description": "as in a recipe; every proposal has it"},
    },
}
SWEEP_SCHEMA: Schema = {
    "type": "object",
    "required": ["recipe", "vary"],
    "additionalProperties": False,
    "properties": {
        "recipe": {"$ref": "#/components/schemas/Recipe"},
        "vary": {"type": "string", "description": "PLACE=LOW:HIGH:STEP, such as steps[1].minutes=2:30:2"},
    },
}


def _body(schema: Schema, example: Schema) -> Schema:
    content = {"application/json": {"schema": schema, "example": example}}
    return {"requestBody": {"required": True, "content": content}}


SWEEP_BODY = _body(SWEEP_SCHEMA, {"recipe": EXAMPLE, "vary": "steps[0].minutes=6:18:6"})
WISH_BODY = _body(WISH_SCHEMA, WISH_EXAMPLE)


def _asked(name: str, description: str, kind: str = "string") -> Schema:
    return {"name": name, "in": "query", "description": description, "schema": {"type": kind}}


PARTNER_PARAMETERS: Schema = {
    "parameters": [
        _asked("steel", "a grade; or give elements"),
        _asked("share", "part of the mass that the steel has, 0.05 to 0.95", "number"),
        _asked("fire", "how the heat is held, a method of the page of methods"),
        _asked("half_width_k", "or how far off the heat may be, K", "number"),
        _asked("section_mm", "thickest section that is quenched, mm", "number"),
        _asked("oil", "own oils: classes or nickel-ball seconds, joined by commas"),
        *(_asked(element, f"{element} in wt%", "number") for element in ELEMENTS),
    ]
}
