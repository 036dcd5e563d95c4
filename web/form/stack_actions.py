"""What the buttons do with the stack: an order that repeats, or plate by plate."""

from collections.abc import Callable
from typing import Any

from web.form.fields import most
from web.form.texts import list_of, named_rows

Draft = dict[str, Any]


def add_pattern(draft: Draft, _: str) -> str:
    """One more steel in the order that repeats, the next in turn."""
    names = [name for name, _ in named_rows(draft.get("steels"))]
    pattern = list_of(draft["stack"].get("pattern"))
    draft["stack"]["pattern"] = [*pattern, names[len(pattern) % len(names)] if names else ""]
    return "pattern"


def remove_pattern(draft: Draft, _: str) -> str:
    """One steel less in the order."""
    draft["stack"]["pattern"] = list_of(draft["stack"].get("pattern"))[:-1]
    return "pattern"


def use_plates(draft: Draft, _: str) -> str:
    """The order written out, plate by plate."""
    stack = draft["stack"]
    pattern = list_of(stack.pop("pattern", None))
    count, thickness = stack.pop("count", len(pattern)), stack.pop("thickness_mm", {})
    laid = min(count, most("stack", "plates")) if isinstance(count, int) and count > 0 else len(pattern)
    names = [pattern[i % len(pattern)] for i in range(laid)] if pattern else []
    sizes = thickness if isinstance(thickness, dict) else {}
    stack["plates"] = [{"steel": n, "thickness_mm": sizes[n]} if n in sizes else {"steel": n} for n in names]
    return "stack"


def use_pattern(draft: Draft, _: str) -> str:
    """The plates back to an order: the steels as they come, the count as it is."""
    stack = draft["stack"]
    plates = [plate for plate in list_of(stack.pop("plates", None)) if isinstance(plate, dict)]
    sizes = {p["steel"]: p["thickness_mm"] for p in reversed(plates) if "steel" in p and "thickness_mm" in p}
    order = list(dict.fromkeys(p["steel"] for p in plates if "steel" in p))
    stack.update({"pattern": order, "count": len(plates), "thickness_mm": sizes})
    return "stack"


def add_plate(draft: Draft, _: str) -> str:
    """A plate on top, like the one below it."""
    plates = list_of(draft["stack"].get("plates"))
    draft["stack"]["plates"] = [*plates, dict(plates[-1]) if plates else {}]
    return f"plate-{len(plates) + 1}"


def remove_plate(draft: Draft, at: str) -> str:
    """One of the plates is taken out."""
    draft["stack"]["plates"].pop(int(at))
    return "stack"


def shift(items: list[Any], at: int, by: int) -> int:
    """Move one item; at the ends it stays. Its new place."""
    to = at + by
    if not 0 <= to < len(items):
        return at
    items[at], items[to] = items[to], items[at]
    return to


def move_plate(by: int) -> Callable[[Draft, str], str]:
    """A plate changes places with the one above or below it."""
    return lambda draft, at: f"plate-{shift(draft['stack']['plates'], int(at), by) + 1}"
