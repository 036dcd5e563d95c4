"""What the buttons of the form do to a draft. Every action takes the draft and gives a new one."""

import copy
import re
from collections.abc import Callable
from typing import Any

from web.form.bar_actions import add_bar, lay_bar, lay_bar_piece, remove_bar
from web.form.fields import most
from web.form.proposing import THEIRS, new_step, new_steps
from web.form.starts import DEFAULT, start
from web.form.texts import list_of, named, named_rows

Draft = dict[str, Any]
USUAL = ("1095", "15N20", "1084", "80CrV2", "1075", "O1", "52100")
"""Grades that a further steel begins with."""
ACTION = re.compile(r"(?:b([0-9]{1,2})/)?([a-z_]+)(?::([a-z0-9.]+))?", re.ASCII)
"""What a button does, to what; `b0/` before it where that is in the first of the bars made first."""


class UnknownAction(ValueError):
    """A button that the form does not have; `str()` may be shown."""


def new_draft() -> Draft:
    """A good bar of two steels, to be changed; its fires and heights are proposed."""
    return start(DEFAULT)


def act(draft: Draft, action: str) -> tuple[Draft, str]:
    """The changed draft and the id of the group to look at next. Raises UnknownAction."""
    found = ACTION.fullmatch(action)
    bar, name, argument = (found[1], found[2], found[3] or "") if found else (None, "", "")
    if name not in ACTIONS:
        raise UnknownAction("the form has no such button")
    changed = copy.deepcopy(draft)
    try:
        if bar is not None:
            return changed, _in_bar(changed, int(bar), ACTIONS[name], argument)
        return changed, ACTIONS[name](changed, argument)
    except (ValueError, IndexError, KeyError, TypeError, AttributeError):
        raise UnknownAction("the button belongs to something that is no longer in the form") from None


def _in_bar(draft: Draft, index: int, action: Callable[[Draft, str], str], argument: str) -> str:
    """What a button does to the stack and steps of a bar made first."""
    rows = named_rows(draft["bars"])
    name, told = rows[index]
    part = {"steels": draft["steels"], "bars": draft["bars"], **told}
    anchor = action(part, argument)
    rows[index] = (name, {key: part[key] for key in ("stack", "steps") if key in part})
    draft["bars"] = named(rows)
    return f"bar-{index + 1}-{anchor}"


def _put_steels(draft: Draft, rows: list[tuple[str, Any]]) -> None:
    draft["steels"] = named(rows)


def _add_steel(draft: Draft, _: str) -> str:
    rows = named_rows(draft.get("steels"))
    names = {name for name, _ in rows}
    grade = next((g for g in USUAL if g not in names), "")
    number = next(n for n in range(len(rows) + 1, 2 * len(rows) + 3) if f"steel {n}" not in names)
    _put_steels(draft, [*rows, (grade or f"steel {number}", grade)])
    return f"steel-{len(rows) + 1}"


def _remove_steel(draft: Draft, at: str) -> str:
    rows = named_rows(draft.get("steels"))
    name, _ = rows.pop(int(at))
    _put_steels(draft, rows)
    thickness = draft.get("stack", {}).get("thickness_mm")
    if isinstance(thickness, dict) and name not in {other for other, _ in rows}:
        thickness.pop(name, None)
    return "steel-1"


def _steel_as(form: str) -> Callable[[Draft, str], str]:
    def change(draft: Draft, at: str) -> str:
        rows = named_rows(draft.get("steels"))
        name, entry = rows[int(at)]
        told = dict(entry) if isinstance(entry, dict) else {"like": entry}
        word = str(told.pop("like", "") or told.pop("name", ""))
        told.pop("name", None)
        new = word if form == "library" else {"like" if form == "like" else "name": word, **told}
        rows[int(at)] = (name, new)
        _put_steels(draft, rows)
        return f"steel-{int(at) + 1}"

    return change


def _add_pattern(draft: Draft, _: str) -> str:
    names = [name for name, _ in named_rows(draft.get("steels"))]
    pattern = list_of(draft["stack"].get("pattern"))
    draft["stack"]["pattern"] = [*pattern, names[len(pattern) % len(names)] if names else ""]
    return "pattern"


def _remove_pattern(draft: Draft, _: str) -> str:
    draft["stack"]["pattern"] = list_of(draft["stack"].get("pattern"))[:-1]
    return "pattern"


def _use_plates(draft: Draft, _: str) -> str:
    """The order written out, plate by plate."""
    stack = draft["stack"]
    pattern = list_of(stack.pop("pattern", None))
    count, thickness = stack.pop("count", len(pattern)), stack.pop("thickness_mm", {})
    laid = min(count, most("stack", "plates")) if isinstance(count, int) and count > 0 else len(pattern)
    names = [pattern[i % len(pattern)] for i in range(laid)] if pattern else []
    sizes = thickness if isinstance(thickness, dict) else {}
    stack["plates"] = [{"steel": n, "thickness_mm": sizes[n]} if n in sizes else {"steel": n} for n in names]
    return "stack"


def _use_pattern(draft: Draft, _: str) -> str:
    """The plates back to an order: the steels as they come, the count as it is."""
    stack = draft["stack"]
    plates = [plate for plate in list_of(stack.pop("plates", None)) if isinstance(plate, dict)]
    sizes = {p["steel"]: p["thickness_mm"] for p in reversed(plates) if "steel" in p and "thickness_mm" in p}
    order = list(dict.fromkeys(p["steel"] for p in plates if "steel" in p))
    stack.update({"pattern": order, "count": len(plates), "thickness_mm": sizes})
    return "stack"


def _add_plate(draft: Draft, _: str) -> str:
    plates = list_of(draft["stack"].get("plates"))
    draft["stack"]["plates"] = [*plates, dict(plates[-1]) if plates else {}]
    return f"plate-{len(plates) + 1}"


def _remove_plate(draft: Draft, at: str) -> str:
    draft["stack"]["plates"].pop(int(at))
    return "stack"


def _shift(items: list[Any], at: int, by: int) -> int:
    """Move one item; at the ends it stays. Its new place."""
    to = at + by
    if not 0 <= to < len(items):
        return at
    items[at], items[to] = items[to], items[at]
    return to


def _move_plate(by: int) -> Callable[[Draft, str], str]:
    return lambda draft, at: f"plate-{_shift(draft['stack']['plates'], int(at), by) + 1}"


def _move_step(by: int) -> Callable[[Draft, str], str]:
    return lambda draft, at: f"step-{_shift(draft['steps'], int(at), by) + 1}"


def _add_step(draft: Draft, told: str) -> str:
    """A step at the end, or before the step whose number follows its name: weld, weld.2."""
    do, _, at = told.partition(".")
    steps = list_of(draft.get("steps"))
    place = min(int(at), len(steps)) if at else len(steps)
    begun = new_steps(do)
    draft["steps"] = [*steps[:place], *begun, *steps[place:]]
    return f"step-{place + 1 + [step['do'] for step in begun].index(do)}"


def _again(draft: Draft, at: str) -> str:
    """Cut, weld and draw once more: as the last time before this place, else as proposed."""
    steps = list_of(draft.get("steps"))
    place = min(int(at), len(steps))
    before = [step for step in steps[:place] if isinstance(step, dict)]
    cycle = [_last_like(before, do) for do in CYCLE]
    draft["steps"] = [*steps[:place], *cycle, *steps[place:]]
    return f"step-{place + 1}"


CYCLE = ("grind", "restack", "weld", "draw")


def _last_like(before: list[Draft], do: str) -> Draft:
    """A new step that keeps what was told of the last of its kind, save its heat and its sizes."""
    step = new_step(do)
    last = next((s for s in reversed(before) if s.get("do") == do), {})
    kept = {k: copy.deepcopy(last[k]) for k in REPEATED if k in last}
    if "lay" in kept:
        step.pop("order", None)
    return {**step, **kept}


REPEATED = ("pieces", "order", "lay", "trim_mm", "kerf_mm", "per_face_mm", "side_mm", "atmosphere", "flux")


def _copy_step(draft: Draft, at: str) -> str:
    place = int(at)
    draft["steps"].insert(place + 1, copy.deepcopy(draft["steps"][place]))
    return f"step-{place + 2}"


def _accept(draft: Draft, at: str) -> str:
    """What is proposed in a step counts as told."""
    told = draft["steps"][int(at)]["told"]
    told.pop("proposed", None)
    return f"step-{int(at) + 1}"


def _remove_step(draft: Draft, at: str) -> str:
    draft["steps"].pop(int(at))
    return f"step-{max(1, int(at))}"


def _use_lay(draft: Draft, at: str) -> str:
    step = draft["steps"][int(at)]
    order, pieces = step.pop("order", "same"), step.get("pieces")
    laid = min(pieces, most("steps.restack", "lay")) if isinstance(pieces, int) and pieces > 0 else 2
    step["lay"] = ["turned" if order != "same" and i % 2 else "piece" for i in range(laid)]
    return f"step-{int(at) + 1}"


def _use_order(draft: Draft, at: str) -> str:
    draft["steps"][int(at)].pop("lay", None)
    return f"step-{int(at) + 1}"


def _lay(item: Any) -> Callable[[Draft, str], str]:
    def add(draft: Draft, at: str) -> str:
        step = draft["steps"][int(at)]
        step["lay"] = [*list_of(step.get("lay")), copy.deepcopy(item)]
        return f"step-{int(at) + 1}"

    return add


def _remove_lay(draft: Draft, at: str) -> str:
    step, place = at.split(".")
    draft["steps"][int(step)]["lay"].pop(int(place))
    return f"step-{int(step) + 1}"


def _add_table(key: str) -> Callable[[Draft, str], str]:
    def add(draft: Draft, _: str) -> str:
        draft.setdefault(key, {})
        return key

    return add


def _remove_table(key: str) -> Callable[[Draft, str], str]:
    def remove(draft: Draft, _: str) -> str:
        draft.pop(key, None)
        return key

    return remove


def _add_oil(draft: Draft, _: str) -> str:
    shop = draft.setdefault("shop", {})
    shop["oils"] = [*list_of(shop.get("oils")), {}]
    return f"oil-{len(shop['oils'])}"


def _remove_oil(draft: Draft, at: str) -> str:
    draft["shop"]["oils"].pop(int(at))
    return "shop"


def _use_theirs(draft: Draft, _: str) -> str:
    """The fire and oils that the recipe tells count, for this bar."""
    draft[THEIRS] = True
    return THEIRS


def _nothing(_draft: Draft, _: str) -> str:
    return ""


ACTIONS: dict[str, Callable[[Draft, str], str]] = {
    "plan": _nothing,
    "check": _nothing,
    "add_steel": _add_steel,
    "remove_steel": _remove_steel,
    "steel_library": _steel_as("library"),
    "steel_like": _steel_as("like"),
    "steel_own": _steel_as("own"),
    "add_pattern": _add_pattern,
    "remove_pattern": _remove_pattern,
    "use_plates": _use_plates,
    "use_pattern": _use_pattern,
    "add_plate": _add_plate,
    "remove_plate": _remove_plate,
    "plate_up": _move_plate(1),
    "plate_down": _move_plate(-1),
    "add_step": _add_step,
    "remove_step": _remove_step,
    "copy_step": _copy_step,
    "again": _again,
    "accept": _accept,
    "move_up": _move_step(-1),
    "move_down": _move_step(1),
    "use_lay": _use_lay,
    "use_order": _use_order,
    "add_piece": _lay("piece"),
    "add_turned": _lay("turned"),
    "add_lay_plate": _lay({}),
    "remove_lay": _remove_lay,
    "use_theirs": _use_theirs,
    "use_mine": _remove_table(THEIRS),
    "add_bar": add_bar,
    "remove_bar": remove_bar,
    "lay_bar": lay_bar(course=False),
    "lay_course": lay_bar(course=True),
    "lay_bar_piece": lay_bar_piece(course=False),
    "lay_course_piece": lay_bar_piece(course=True),
    "add_blade": _add_table("blade"),
    "remove_blade": _remove_table("blade"),
    "add_shop": _add_table("shop"),
    "remove_shop": _remove_table("shop"),
    "add_oil": _add_oil,
    "remove_oil": _remove_oil,
}
