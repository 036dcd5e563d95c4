"""JSON schema (draft 2020-12) of a recipe, made from the declaration.

What a schema cannot say, `parse_recipe` checks.
"""

from typing import Any

from billet.recipe import declaration
from billet.recipe.spec import NAME_LONGEST, Either, FieldSpec, TableSpec

Schema = dict[str, Any]


def recipe_schema() -> Schema:
    """The schema as a plain dict without references, fit to stand anywhere in an OpenAPI document."""
    flat = {spec.key: table_schema(spec) for spec in declaration.FLAT}
    properties: Schema = {
        "format": {"const": declaration.FORMAT, "type": "integer", "description": "format of the recipe"},
        "title": field_schema(declaration.TITLE),
        "steels": _steels(),
        "bars": _bars(),
        "stack": table_schema(declaration.STACK),
        "steps": _steps(),
        **flat,
    }
    text = "A bar of two or more steels: mm, C, minutes and wt% throughout"
    in_order = {key: properties[key] for key in declaration.TABLES}
    return {"title": "Recipe", **_closed(in_order, ("format", "title", "steels", "stack"), text)}


def _steps() -> Schema:
    return {
        "type": "array",
        "maxItems": declaration.STEPS_COUNT[1],
        "items": {"oneOf": [_step(spec) for spec in declaration.STEPS.values()]},
        "description": "in order; may be absent for a single plate",
    }


def _bars() -> Schema:
    """Bars that are made first, by name."""
    parts = {"stack": table_schema(declaration.STACK), "steps": _steps()}
    return _by_name(declaration.BARS, _closed(parts, ("stack",), "a bar made first"), declaration.BARS_HELP)


def table_schema(spec: TableSpec) -> Schema:
    """A closed table: no key but its fields."""
    properties = {field.key: field_schema(field) for field in spec.fields}
    required = tuple(field.key for field in spec.fields if field.required)
    return {**_closed(properties, required, spec.help), **_either(spec.either)}


def field_schema(field: FieldSpec) -> Schema:
    """One field with its bounds, its default, and its unit in the description."""
    told = f"{field.help} [{field.unit}]" if field.unit else field.help
    found: Schema = {**_kind(field), "description": told}
    if field.reckoned:
        found["description"] = f"{told}; left out: {field.reckoned}"
    elif field.default not in (None, ()):
        found["default"] = field.default
    return found


def _kind(field: FieldSpec) -> Schema:
    low, high = field.bounds
    one: Schema = {"type": "number", "minimum": low, "maximum": high}
    several: Schema = {"type": "array", "minItems": low, "maxItems": high}
    match field.kind:
        case "number":
            return one
        case "whole":
            return {**one, "type": "integer"}
        case "flag":
            return {"type": "boolean"}
        case "text" | "day":
            return {"type": "string", "minLength": low, "maxLength": high}
        case "choice":
            return {"type": "string", "enum": list(field.words)}
        case "ends":
            return {"anyOf": [one, _pair(one)]}
        case "range":
            return _pair(one)
        case "steel":
            return _name("a name of [steels]")
        case "bar":
            return _name("a name of [bars]")
        case "steels" | "some" | "bars":
            return {**several, "items": _name(f"a name of [{'bars' if field.kind == 'bars' else 'steels'}]")}
        case "each":
            each = {**one, "description": f"{field.noun} of the plates of this steel [{field.unit}]"}
            return {"type": "object", "additionalProperties": each}
        case _:
            return _nested(field, several)


def _nested(field: FieldSpec, several: Schema) -> Schema:
    if field.kind == "keys":
        return {**several, "items": {"type": "string", "enum": list(field.words)}}
    assert field.inner is not None
    inner = table_schema(field.inner)
    if field.kind == "table":
        least = {"minProperties": 1} if field.inner is declaration.ANALYSIS else {}
        return {**inner, **least}
    words = [{"type": "string", "enum": ["piece", "turned"]}] if field.kind == "lay" else []
    bars = [table_schema(spec) for spec in (field.bar_inner, field.beside_inner) if spec is not None]
    items = [*words, inner, *bars]
    return {**several, "items": {"anyOf": items} if len(items) > 1 else inner}


def _pair(one: Schema) -> Schema:
    return {"type": "array", "items": one, "minItems": 2, "maxItems": 2}


def _either(either: Either | None) -> Schema:
    if either is None:
        return {}
    groups = [{"required": list(group)} for group in either.groups]
    if either.how == "most":
        return {"not": {"required": [group[0] for group in either.groups]}}
    return {"oneOf" if either.how == "exactly" else "anyOf": groups}


def _step(spec: TableSpec) -> Schema:
    found = table_schema(spec)
    do = {"do": {"const": spec.key, "type": "string"}}
    return {**found, "properties": {**do, **found["properties"]}, "required": ["do", *found["required"]]}


def _steels() -> Schema:
    """A designation, a grade with an analysis laid over it, or an analysis alone."""
    fields = {field.key: field_schema(field) for field in declaration.STEEL.fields}
    shared = {key: value for key, value in fields.items() if key not in ("like", "name")}
    laid_over = "a grade with an analysis of its own laid over it"
    like = _closed({"like": fields["like"], **shared}, ("like",), laid_over)
    own = _closed({"name": fields["name"], **shared}, ("name", "wt"), "a steel told by its analysis alone")
    told = "names of your own, each with the steel it stands for"
    return _by_name(declaration.STEELS, {"anyOf": [fields["like"], like, own]}, told)


def _by_name(count: tuple[int, int], each: Schema, text: str) -> Schema:
    """A table of so many names of one's own."""
    return {
        "type": "object",
        "minProperties": count[0],
        "maxProperties": count[1],
        "propertyNames": {"minLength": 1, "maxLength": NAME_LONGEST},
        "additionalProperties": each,
        "description": text,
    }


def _name(text: str) -> Schema:
    return {"type": "string", "minLength": 1, "maxLength": NAME_LONGEST, "description": text}


def _closed(properties: Schema, required: tuple[str, ...], text: str) -> Schema:
    return {
        "type": "object",
        "properties": properties,
        "required": list(required),
        "additionalProperties": False,
        "description": text,
    }
