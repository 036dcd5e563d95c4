"""Names and texts of a form as a tree of tables: `steps[3].note`, `bars[0].steps[1].lay[2].steel`."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

Tree = dict[str, Any]
PART = re.compile(r"\.?([A-Za-z_]+)|\[(\d{1,3})\]", re.ASCII)
DEEPEST_NAME = 8


def tree_of(pairs: Iterable[tuple[str, str]]) -> Tree:
    """`steps[3].note` = "12" becomes {"steps": {3: {"note": "12"}}}; lists are keyed by number."""
    root: Tree = {}
    for name, text in pairs:
        parts = [word or int(number) for word, number in PART.findall(name)]
        if not parts or len(parts) > DEEPEST_NAME or PART.sub("", name):
            continue
        node: Any = root
        for part in parts[:-1]:
            node = node.setdefault(part, {}) if isinstance(node, dict) else None
        if isinstance(node, dict) and not isinstance(node.get(parts[-1]), dict):
            node[parts[-1]] = text.strip()
    return root


def table_at(tree: Tree, key: str) -> Tree:
    """The table under a key; an empty one where something else stands."""
    inner = tree.get(key)
    return inner if isinstance(inner, dict) else {}


def text_at(tree: Mapping[Any, Any], key: str) -> str:
    """The text under a key; an empty one where something else stands."""
    value = tree.get(key)
    return value if isinstance(value, str) else ""


def indexed(tree: Any) -> list[tuple[int, str]]:
    """Texts of a numbered list, in order."""
    if not isinstance(tree, dict):
        return []
    return sorted((k, v) for k, v in tree.items() if isinstance(k, int) and isinstance(v, str))


def listed(tree: Any) -> list[str]:
    """The same without their numbers."""
    return [text for _, text in indexed(tree)]


def texts_at(tree: Any) -> list[str]:
    """The texts of a pair, an empty list where both are empty."""
    found = listed(tree)
    return found if any(found) else []


def rows_at(tree: Any) -> list[tuple[int, Tree]]:
    """Tables of a numbered list, in order, with their numbers."""
    if not isinstance(tree, dict):
        return []
    return sorted(
        ((k, v) for k, v in tree.items() if isinstance(k, int) and isinstance(v, dict)),
        key=lambda row: row[0],
    )
