"""How deep a text goes, seen before it is parsed: the readers of TOML and JSON take any depth at any cost."""

import re
from collections.abc import Iterator

DEEPEST = 32
"""Levels of brackets; a recipe has five."""
MOST_KEY_PARTS = 16
"""Parts of one dotted key; the reader of TOML takes the square of them in time and memory."""

# A quote that closes nowhere is a token too: there the parser stops, and so does the look ahead.
_TOML = re.compile(
    r'''"""(?:\\.|[^\\])*?"{3,5}|'''
    r"""'''.*?'{3,5}|"""
    r""""(?:\\.|[^"\\\n])*"(?!")|"""
    r"""'[^'\n]*'(?!')|"""
    r"""#[^\n]*|["'\[\]{}.\n=,]""",
    re.DOTALL,
)
_JSON = re.compile(r'"(?:\\.|[^"\\])*"|["\[\]{}]', re.DOTALL)


def toml_depth_fault(text: str) -> str | None:
    """A sentence where a TOML text is nested deeper than a recipe can be, or a key has too many parts."""
    parts = 1

    def counted(tokens: Iterator[str]) -> Iterator[str]:
        nonlocal parts
        for token in tokens:
            parts = parts + 1 if token == "." else parts if token[0] in "\"'" and len(token) > 1 else 1
            if parts > MOST_KEY_PARTS:
                return
            yield token

    fault = _nested(counted(_tokens(_TOML, text)))
    return f"a key of more than {MOST_KEY_PARTS} parts is not read" if parts > MOST_KEY_PARTS else fault


def json_depth_fault(text: str) -> str | None:
    """A sentence where a JSON text is nested deeper than a recipe can be."""
    return _nested(_tokens(_JSON, text))


def _tokens(pattern: re.Pattern[str], text: str) -> Iterator[str]:
    for found in pattern.finditer(text):
        token = found[0]
        if token in ('"', "'"):
            return
        yield token


def _nested(tokens: Iterator[str]) -> str | None:
    depth = 0
    for token in tokens:
        if token in "[{":
            depth += 1
            if depth > DEEPEST:
                return f"nested too deeply: deeper than {DEEPEST} levels"
        elif token in "]}":
            depth -= 1
    return None
