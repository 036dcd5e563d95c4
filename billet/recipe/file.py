"""Recipes as text: TOML or JSON in, TOML out."""

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from billet.errors import Fault, OutOfDomain, RecipeError
from billet.recipe.json_text import JsonRefused, read_json
from billet.recipe.text_shape import toml_depth_fault

LONGEST_TEXT = 1_000_000
"""Characters; a recipe of the largest size that is computed has some 100 000."""

LARGEST_INTEGER = 10**18
TOO_MANY_DIGITS = "a number in the recipe has too many digits to be read"

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
        mapping = _from_json(text) if text.lstrip().startswith("{") else _from_toml(text)
    except RecipeError:
        raise
    except JsonRefused as error:
        raise _refusal(str(error)) from error
    except tomllib.TOMLDecodeError as error:
        raise _refusal(_toml_words(str(error))) from error
    except ValueError as error:
        raise _refusal(TOO_MANY_DIGITS) from error
    if any(isinstance(n, int) and abs(n) > LARGEST_INTEGER for n in _leaves(mapping)):
        raise _refusal(TOO_MANY_DIGITS)
    return mapping


def _from_json(text: str) -> dict[str, Any]:
    mapping: dict[str, Any] = read_json(text, int)
    return mapping


def _from_toml(text: str) -> dict[str, Any]:
    fault = toml_depth_fault(text)
    if fault is not None:
        raise _refusal(fault)
    return tomllib.loads(text)


def _leaves(value: Any) -> Iterator[Any]:
    """Every value that is no table and no list; a text is never deep, as was seen before it was read."""
    if isinstance(value, dict | list):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from _leaves(inner)
    else:
        yield value


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


def _toml_words(message: str) -> str:
    found = _PLACE.search(message)
    return f"{found[1]}: {message[: found.start()]}" if found else message


def _refusal(message: str) -> RecipeError:
    return RecipeError([Fault("", f"Recipe: {message}")])
