"""What the hand does in a step, in the line that a card bears: words, one field amid them, words."""

from collections.abc import Callable, Mapping
from typing import Any

from billet import wording
from web.form.fields import step_words, table
from web.form.view import Headline
from web.http.links import Units

Step = Mapping[str, Any]


def headline(step: Step, units: Units) -> Headline:
    """The line of any step; a step that has no line of its own is told by its label and its fire."""
    do = str(step.get("do", ""))
    if do in LINES:
        return LINES[do](step, units)
    if do not in step_words():
        return Headline("An unknown step")
    label = step_words()[do]
    needed = next((s for s in table(f"steps.{do}") if s.required and s.key not in FIRE), None)
    fire = _fire(step, units)
    words = f"{label}{fire}"
    if needed is None:
        return Headline(words)
    return Headline(f"{words}: {needed.label[:1].lower()}{needed.label[1:]}", needed.key)


FIRE = ("temperature_c", "minutes", "heats")


def _listed(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list | tuple) else []


def _number(value: Any) -> float | None:
    ok = isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e9
    return float(value) if ok else None


def _fire(step: Step, units: Units, heats: bool = True) -> str:
    parts = []
    if (c := _number(step.get("temperature_c"))) is not None:
        parts.append(f" at {wording.temperature(c, units)}")
    if heats and (n := _number(step.get("heats"))) is not None:
        parts.append(f"in {wording.count(int(n), 'heat')}")
    elif (minutes := _number(step.get("minutes"))) is not None:
        parts.append(wording.minutes(minutes))
    return ", ".join(parts)


def _weld(step: Step, units: Units) -> Headline:
    return Headline(f"Weld{_fire(step, units, heats=False)}, press to", "height_mm")


def _draw(step: Step, units: Units) -> Headline:
    wide = _number(step.get("width_mm"))
    tail = "" if wide is None else f"high, {wording.length(wide, units)} wide"
    return Headline(f"Draw{_fire(step, units)}, to", "height_mm", tail)


def _upset(step: Step, units: Units) -> Headline:
    return Headline(f"Upset{_fire(step, units)}, to", "length_mm", "long")


def _grind(step: Step, units: Units) -> Headline:
    return Headline("Grind off", "per_face_mm", "top and bottom, each")


ORDERS = {
    "same": "and stack them all alike",
    "turned": "and stack them, every second one turned over",
    "folded": "as a zigzag",
}


def _restack(step: Step, units: Units) -> Headline:
    if "lay" in step:
        return Headline("Cut in", "pieces", f"and lay {_laid(_listed(step['lay']), units)}")
    order = str(step.get("order", ""))
    return Headline("Fold in" if order == "folded" else "Cut in", "pieces", ORDERS.get(order, "and stack"))


LAID = {"piece": "a piece", "turned": "a piece turned over"}
MOST_LAID = 5


def _laid(items: list[Any], units: Units) -> str:
    """What is laid, from the bottom up; a long list by its number."""
    if len(items) > MOST_LAID:
        return f"{len(items)} one on another"
    words = []
    for item in items:
        if isinstance(item, Mapping):
            thick = _number(item.get("thickness_mm"))
            size = f"{wording.length(thick, units)} " if thick is not None else ""
            words.append(f"{size}{item.get('steel', 'a plate')}")
        else:
            words.append(LAID.get(str(item), "a piece"))
    return wording.listed(words)


def _crop(step: Step, units: Units) -> Headline:
    if (stays := _number(step.get("length_mm"))) is not None:
        return Headline(f"Cut to length, {wording.length(stays, units)} stays")
    ends = [n for n in map(_number, _listed(step.get("end_mm")) or [step.get("end_mm")]) if n is not None]
    return Headline(f"Cut off {wording.lengths(ends, units, ' and ')} at the ends" if ends else "Cut off")


def _other(step: Step, units: Units) -> Headline:
    what = step.get("what")
    words = what if isinstance(what, str) and what else "Something else in the fire"
    return Headline(f"{wording.capital(words)}{_fire(step, units)}")


def _twist(step: Step, units: Units) -> Headline:
    return Headline(f"Twist{_fire(step, units)},", "turns", "turns from end to end")


LINES: dict[str, Callable[[Step, Units], Headline]] = {
    "weld": _weld,
    "draw": _draw,
    "upset": _upset,
    "grind": _grind,
    "restack": _restack,
    "crop": _crop,
    "other": _other,
    "twist": _twist,
}
