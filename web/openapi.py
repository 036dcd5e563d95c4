"""The interface described: the recipe by the library's schema, the report by its dataclasses."""

import types
import typing
from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from typing import Any, Literal, get_args, get_origin, get_type_hints

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi

from billet import (
    ELEMENTS,
    STARTS,
    Partners,
    Report,
    SteelState,
    Sweep,
    WishAnswer,
    recipe_schema,
)

Schema = dict[str, Any]
PROBLEM: Schema = {
    "type": "object",
    "description": "RFC 9457; `errors` tells where in the recipe and why",
    "required": ["type", "title", "status", "detail", "errors"],
    "properties": {
        "type": {"type": "string"},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "errors": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["where", "message"],
                "properties": {"where": {"type": "string"}, "message": {"type": "string"}},
            },
        },
    },
}
WORDS = {
    400: "not readable",
    404: "not there",
    405: "another method is taken",
    413: "the body is over 64 KiB",
    414: "the address is over 4 KiB",
    415: "another content type is taken",
    422: "refused; the errors tell where and why",
    429: "busy; try again",
    500: "the fault is ours",
    503: "no answer in time",
}
EXAMPLE: Schema = {
    "format": 1,
    "title": "Nine plates",
    "steels": {"dark": "1084", "bright": "75Ni8"},
    "stack": {
        "width_mm": 40,
        "length_mm": 150,
        "pattern": ["dark", "bright"],
        "count": 9,
        "thickness_mm": {"dark": 3, "bright": 1.5},
    },
    "steps": [
        {"do": "weld", "temperature_c": 1150, "minutes": 12},
        {"do": "draw", "temperature_c": 1100, "minutes": 20, "heats": 4, "height_mm": 6},
    ],
    "blade": {"thickness_mm": 3},
}
RECIPE_BODY: Schema = {
    "requestBody": {
        "required": True,
        "content": {
            "application/json": {
                "schema": {"$ref": "#/components/schemas/Recipe"},
                "example": EXAMPLE,
            }
        },
    }
}
ELEMENT_PARAMETERS: Schema = {
    "parameters": [
        {"name": "steel", "in": "query", "description": "a grade; or give elements",
         "schema": {"type": "string"}},
        {"name": "temperature_c", "in": "query", "required": True, "schema": {"type": "number"}},
        {"name": "start", "in": "query", "description": "structure before heating",
         "schema": {"type": "string", "enum": list(STARTS), "default": STARTS[0]}},
        *(
            {"name": element, "in": "query", "description": f"{element} in wt%",
             "schema": {"type": "number", "minimum": 0, "maximum": 100}}
            for element in ELEMENTS
        ),
    ]
}  # fmt: skip


def returns(schema: str) -> dict[int | str, dict[str, Any]]:
    """The good answer of a route."""
    reference = {"$ref": f"#/components/schemas/{schema}"}
    return {200: {"description": "the answer", "content": {"application/json": {"schema": reference}}}}


def refusals(*statuses: int) -> dict[int | str, dict[str, Any]]:
    """The refusals of a route; 405, 500 and 503 are told for all."""
    content = {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}}
    return {
        status: {"description": WORDS[status], "content": content}
        for status in sorted({*statuses, 405, 414, 500, 503})
    }


def describe(app: FastAPI) -> Schema:
    """The whole description; made once, when it is first asked for."""
    if app.openapi_schema is None:
        schema = get_openapi(
            title=app.title, version=app.version, description=app.description, routes=app.routes
        )
        made: dict[str, Schema] = {"Problem": PROBLEM, "State": _object_of(SteelState)}
        made["Recipe"] = recipe_schema()
        made["Steels"] = {
            "type": "array",
            "items": {"type": "object", "required": ["designation", "nominal"]},
        }
        for kind in (Report, Sweep, Partners, WishAnswer):
            schema_of(kind, made)
        schema.setdefault("components", {}).setdefault("schemas", {}).update(made)
        app.openapi_schema = schema
    return app.openapi_schema


def _object_of(kind: type) -> Schema:
    """An object with every key of a dataclass, told no further."""
    return {"type": "object", "required": [f.name for f in fields(kind)]}


def schema_of(kind: Any, made: dict[str, Schema]) -> Schema:
    """The JSON schema of a type of the report; dataclasses go into `made` and are referred to."""
    if is_dataclass(kind) and isinstance(kind, type):
        return _table(kind, made)
    origin, parts = get_origin(kind), get_args(kind)
    if origin in (types.UnionType, typing.Union):
        return {"anyOf": [schema_of(part, made) for part in parts]}
    if origin is Literal:
        return {"type": "string", "enum": list(parts)}
    if origin is tuple:
        if len(parts) == 2 and parts[1] is Ellipsis:
            return {"type": "array", "items": schema_of(parts[0], made)}
        items = [schema_of(part, made) for part in parts]
        return {"type": "array", "prefixItems": items, "minItems": len(items), "maxItems": len(items)}
    if origin is not None and issubclass(origin, Mapping):
        return {"type": "object", "additionalProperties": schema_of(parts[1], made)}
    if origin is not None and issubclass(origin, Sequence):
        return {"type": "array", "items": schema_of(parts[0], made)}
    return PLAIN.get(kind, {})


PLAIN: dict[Any, Schema] = {
    str: {"type": "string"},
    int: {"type": "integer"},
    float: {"type": "number"},
    bool: {"type": "boolean"},
    type(None): {"type": "null"},
}


def _table(kind: type, made: dict[str, Schema]) -> Schema:
    name = kind.__name__
    if name not in made:
        made[name] = {}
        hints = get_type_hints(kind)
        properties = {f.name.rstrip("_"): schema_of(hints[f.name], made) for f in fields(kind)}
        elements = properties.pop("elements", None) if name == "PatternRow" else None
        made[name] = {"type": "object", "required": list(properties), "properties": properties}
        if elements is not None:
            made[name]["additionalProperties"] = elements["additionalProperties"]
    return {"$ref": f"#/components/schemas/{name}"}
