"""The recipe explained: every table and field of the declaration, as plain text."""

from billet.recipe.declaration import BARS, BARS_HELP, recipe_tables
from billet.recipe.spec import FieldSpec, TableSpec

_WAYS = {"exactly": "one of", "most": "at most one of", "least": "at least one of"}


def recipe_help() -> str:
    """What may stand in a recipe: each table with its fields, bounds, units and defaults."""
    low, high = BARS
    bars = f"[bars.NAME.stack] and [[bars.NAME.steps]]: {BARS_HELP}; {low} to {high} bars"
    return "\n\n".join([*(_table(name, spec) for name, spec in recipe_tables().items()), bars]) + "\n"


def _table(name: str, spec: TableSpec) -> str:
    lines = [f"{_heading(name)}: {spec.help}"]
    if name.startswith("steps."):
        lines.append(f'  do = "{spec.key}"')
    lines += [f"  {field.key}: {described(field)}" for field in spec.fields]
    if spec.either is not None:
        groups = [" with ".join(group) for group in spec.either.groups]
        lines.append(f"  give {_WAYS[spec.either.how]}: {'; '.join(groups)}")
    return "\n".join(lines)


def _heading(name: str) -> str:
    if name.startswith("steps."):
        return "[[steps]]"
    return {"": "At the top", "steels": "[steels], each name", "wt": "wt", "plates": "A plate",
            "bar": "A laid bar", "beside": "A course of bars",
            "measured": "measured", "oils": "An oil"}.get(name, f"[{name}]")  # fmt: skip


def described(field: FieldSpec) -> str:
    """One field in a line: what it is, what it takes, and what holds where it is left out."""
    parts = [field.help, _takes(field)]
    if field.required:
        parts.append("must be given")
    elif field.reckoned:
        parts.append(f"left out: {field.reckoned}")
    elif field.default not in (None, ()):
        usual = f"{field.default:g}" if isinstance(field.default, float) else str(field.default).lower()
        other = field.default_if
        also = f" ({other.default:g} where {other.key} is {other.value})" if other else ""
        parts.append(f"usually {usual}{also}")
    return "; ".join(part for part in parts if part)


def _takes(field: FieldSpec) -> str:
    low, high = field.bounds
    match field.kind:
        case "number" | "ends" | "range" | "each":
            return f"{low:g} to {high:g} {field.unit}".rstrip()
        case "whole":
            return f"a whole number of {low:g} to {high:g}"
        case "flag":
            return "true or false"
        case "choice":
            return " or ".join(f'"{word}"' for word in field.words)
        case "text" | "day":
            return f"text in quotes, at most {high:g} characters"
        case "steels" | "some":
            return "names of [steels]"
        case "keys":
            return "keys of this step"
        case "bars":
            return f"{low:g} to {high:g} names of [bars]"
        case _:
            return ""
