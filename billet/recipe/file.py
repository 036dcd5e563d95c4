"""Recipes as text: TOML or JSON in, TOML out."""

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from billet.errors import Fault, OutOfDomain, RecipeError

LONGEST_TEXT = 1_000_000
"""Characters; a recipe of the largest size that is computed has some 100 000."""

_PLACE = re.compile(r"\s*\(at (line \d+, column \d+|end of document)\)$")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}


def read_recipe_file(path: str | Path) -> str:
    """The text of a recipe file. Raises RecipeError where it cannot be read or is no UTF-8."""
    try:
        content = Path(path).read_bytes()
    except OSError as error:
        raise _refusal(f"{path} cannot be read: {error.strerror or 'it is no file'}") from error
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _refusal(f"{path} is no UTF-8 text (byte {error.start})") from error


def load_recipe_text(text: str) -> dict[str, Any]:
    """The mapping that a text says, unchecked: JSON where it begins with a brace, else TOML.

    Raises RecipeError with the line of what cannot be read.
    """
    if len(text) > LONGEST_TEXT:
        raise _refusal(f"a recipe must not be longer than {LONGEST_TEXT} characters, got {len(text)}")
    try:
        if text.lstrip().startswith("{"):
            mapping: dict[str, Any] = json.loads(text, object_pairs_hook=_unique)
            return mapping
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _refusal(_toml_words(str(error))) from error
    except json.JSONDecodeError as error:
        raise _refusal(f"line {error.lineno}, column {error.colno}: {error.msg}") from error
    except RecursionError as error:
        raise _refusal("the recipe is nested too deeply to be read") from error
    except RecipeError:
        raise
    except ValueError as error:
        raise _refusal("a number in the recipe has too many digits to be read") from error


def recipe_to_toml(mapping: Mapping[str, Any]) -> str:
    """A recipe as TOML. Raises OutOfDomain for a value that a recipe cannot hold."""
    lines = [f"{_key(k)} = {_value(v)}" for k, v in mapping.items() if not _is_section(k, v)]
    for key, value in mapping.items():
        if key == "steps" and not isinstance(value, str):
            lines += _steps("steps", value)
        elif key == "bars" and isinstance(value, Mapping):
            for name, bar in value.items():
                lines += _bar(f"bars.{_key(name)}", bar)
        elif isinstance(value, Mapping):
            lines += ["", f"[{_key(key)}]", *_lines(value)]
    return "\n".join(lines) + "\n"


def _bar(place: str, bar: Mapping[str, Any]) -> list[str]:
    """A bar that is made first: its stack, then its steps."""
    lines = ["", f"[{place}.stack]", *_lines(bar["stack"])]
    return lines + _steps(f"{place}.steps", bar.get("steps", ()))


def _steps(place: str, steps: Sequence[Mapping[str, Any]]) -> list[str]:
    return [line for step in steps for line in ("", f"[[{place}]]", *_lines(step))]


def _is_section(key: str, value: Any) -> bool:
    return isinstance(value, Mapping) or key == "steps"


def _lines(table: Mapping[str, Any]) -> list[str]:
    return [f"{_key(key)} = {_value(value)}" for key, value in table.items()]


def _key(key: str) -> str:
    return key if _BARE_KEY.fullmatch(key) else _text(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items()) + " }"
    if isinstance(value, Sequence):
        return _list(value)
    raise OutOfDomain("value in a recipe", type(value).__name__, "text, a number, a list or a table")


def _list(values: Sequence[Any]) -> str:
    if any(isinstance(v, Mapping) for v in values):
        return "[\n" + "".join(f"    {_value(v)},\n" for v in values) + "]"
    return "[" + ", ".join(_value(v) for v in values) + "]"


def _text(text: str) -> str:
    return '"' + "".join(_ESCAPES.get(c) or _escaped(c) for c in text) + '"'


def _escaped(character: str) -> str:
    code = ord(character)
    return f"\\u{code:04X}" if code < 0x20 or code == 0x7F else character


def _unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    table = dict(pairs)
    if len(table) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise _refusal(f"the key {json.dumps(twice[:40])} stands twice in one table")
    return table


def _toml_words(message: str) -> str:
    found = _PLACE.search(message)
    return f"{found[1]}: {message[: found.start()]}" if found else message


def _refusal(message: str) -> RecipeError:
    return RecipeError([Fault("", f"Recipe: {message}")])
