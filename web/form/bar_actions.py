"""What the buttons do with bars that are made first: one more, one less, laid in a stack or a restack."""

from collections.abc import Callable
from typing import Any

from web.form.proposing import new_step
from web.form.texts import list_of, named, named_rows

Draft = dict[str, Any]


def add_bar(draft: Draft, _: str) -> str:
    """Another bar to be made first: of the first steels, as long as the stack."""
    rows = named_rows(draft.get("bars"))
    taken = {name for name, _ in rows}
    name = next(n for n in (f"bar {i}" for i in range(1, len(rows) + 2)) if n not in taken)
    steels = [steel for steel, _ in named_rows(draft.get("steels"))][:2]
    sizes = {key: draft["stack"][key] for key in ("width_mm", "length_mm") if key in draft["stack"]}
    order = {"pattern": steels, "count": 7, "thickness_mm": dict.fromkeys(steels, 3)}
    rows.append((name, {"stack": {**sizes, **order}, "steps": [new_step("weld"), new_step("draw")]}))
    draft["bars"] = named(rows)
    return f"bar-{len(rows)}"


def remove_bar(draft: Draft, at: str) -> str:
    """One of the bars made first is taken out."""
    rows = named_rows(draft["bars"])
    rows.pop(int(at))
    draft["bars"] = named(rows)
    if not rows:
        draft.pop("bars")
    return "stack"


def _bar_laid(draft: Draft, course: bool) -> Draft:
    """The bar made first that comes first, or a course of the first two."""
    names = [name for name, _ in named_rows(draft.get("bars"))] or [""]
    return {"beside": names[:2]} if course else {"bar": names[0]}


def lay_bar(course: bool) -> Callable[[Draft, str], str]:
    """A bar made first is laid on top of the stack, or a course of two side by side."""

    def lay(draft: Draft, _: str) -> str:
        plates = list_of(draft["stack"].get("plates"))
        draft["stack"]["plates"] = [*plates, _bar_laid(draft, course)]
        return f"plate-{len(plates) + 1}"

    return lay


def lay_bar_piece(course: bool) -> Callable[[Draft, str], str]:
    """The same on what a restack lays."""

    def lay(draft: Draft, at: str) -> str:
        step = draft["steps"][int(at)]
        step["lay"] = [*list_of(step.get("lay")), _bar_laid(draft, course)]
        return f"step-{int(at) + 1}"

    return lay
