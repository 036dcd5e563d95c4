"""JSON from strangers: read without surprises.

Python's reader is kept from its traps: recursion (depth is counted first), integers of thousands of
digits (they become floats, infinite ones where need be, which the recipe's own check then refuses with
their place), keys given twice (the last would win in silence), and halves of characters.
"""

import json
from collections.abc import Callable
from typing import Any

from billet.errors import BilletError
from billet.recipe.text_shape import json_depth_fault

LONGEST_INTEGER = 18


class JsonRefused(BilletError):
    """A text that is no acceptable JSON; `str()` may be shown."""


def integer_or_float(digits: str) -> int | float:
    """A whole number; one of more than 18 digits as a float, which may be infinite."""
    return int(digits) if len(digits) <= LONGEST_INTEGER else float(digits)


def read_json(data: bytes | str, integer: Callable[[str], int | float] = integer_or_float) -> Any:
    """The value. NaN and infinities pass, so that the check of the recipe can tell where they stand.

    Raises JsonRefused, and what `integer` raises for the digits of a whole number.
    """
    text = data if isinstance(data, str) else _decoded(data)
    fault = json_depth_fault(text)
    if fault is not None:
        raise JsonRefused(fault)
    try:
        value = json.loads(text, parse_int=integer, object_pairs_hook=_once)
        json.dumps(value, ensure_ascii=False).encode("utf-8")
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise JsonRefused(f"not JSON: {error.msg.lower()} at {place}") from None
    except UnicodeEncodeError:
        raise JsonRefused("a text holds half of a character (a lone surrogate)") from None
    return value


def _decoded(data: bytes) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise JsonRefused("the text is not UTF-8") from None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    table = dict(pairs)
    if len(table) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise JsonRefused(f"the key {json.dumps(twice[:40])} stands twice in one table")
    return table
