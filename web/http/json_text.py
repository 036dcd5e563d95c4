"""JSON from strangers: read without surprises.

Python's reader is kept from its three traps: recursion (depth is counted first), integers of
thousands of digits (they become floats, infinite ones where need be, which the recipe's own check
then refuses with their place), and keys given twice (the last would win in silence).
"""

import json
from typing import Any

DEEPEST = 32
LONGEST_INTEGER = 18


class JsonRefused(ValueError):
    """A text that is no acceptable JSON; `str()` may be shown."""


def read_json(data: bytes) -> Any:
    """The value. NaN and infinities pass, so that the check of the recipe can tell where they stand.

    Raises JsonRefused.
    """
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        raise JsonRefused("the text is not UTF-8") from None
    _check_depth(text)
    try:
        value = json.loads(text, parse_int=_integer, object_pairs_hook=_once)
        json.dumps(value, ensure_ascii=False).encode("utf-8")
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise JsonRefused(f"not JSON: {error.msg.lower()} at {place}") from None
    except UnicodeEncodeError:
        raise JsonRefused("a text holds half of a character (a lone surrogate)") from None
    return value


def _integer(digits: str) -> int | float:
    return int(digits) if len(digits) <= LONGEST_INTEGER else float(digits)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    table = dict(pairs)
    if len(table) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise JsonRefused(f"the key {twice[:40]!r} is given twice")
    return table


def _check_depth(text: str) -> None:
    depth = 0
    inside = escaped = False
    for character in text:
        if inside:
            if escaped:
                escaped = False
            elif character == "\\":
                escaped = True
            elif character == '"':
                inside = False
        elif character == '"':
            inside = True
        elif character in "[{":
            depth += 1
            if depth > DEEPEST:
                raise JsonRefused(f"nested deeper than {DEEPEST} levels")
        elif character in "]}":
            depth -= 1
