"""Reads [stack]: a pattern that repeats, or the plates one by one, from the bottom up."""

from collections.abc import Mapping
from typing import Any

from billet.recipe import limits
from billet.recipe.faults import shown
from billet.recipe.model import Layer, StackPlan
from billet.recipe.reader import TableReader
from billet.recipe.steps_reader import Names, read_plate, steel_name

PATTERN_KEYS = ("pattern", "count", "thickness_mm")


def read_stack(root: TableReader, steels: Names) -> StackPlan:
    """The plates from the bottom up, all of one width and length."""
    part = root.child("stack", "Stack: ")
    width_mm = part.number("width_mm", limits.WIDTH_MM, "mm")
    length_mm = part.number("length_mm", limits.LENGTH_MM, "mm")
    if part.has("plates"):
        plates = _read_plates(part, steels)
        for key in PATTERN_KEYS:
            if part.has(key):
                part.read.add(key)
                part.fault(key, f"give plates, or pattern, count and thickness_mm; not {key} as well")
    else:
        plates = _read_pattern(part, steels)
    part.end(also=("plates", *PATTERN_KEYS))
    height_mm = sum(plate.thickness_mm for plate in plates)
    if not part.ledger.faults and height_mm > limits.STACK_HEIGHT_MM:
        rule = f"the plates must not lie higher than {limits.STACK_HEIGHT_MM:g} mm"
        part.fault("", f"{rule}, got {height_mm:g}")
    return StackPlan(width_mm, length_mm, plates)


def _read_plates(part: TableReader, steels: Names) -> tuple[Layer, ...]:
    listed = part.list_of("plates", limits.PLATES, "plates")
    given: list[Any] = []
    part.out["plates"] = given
    plates: list[Layer] = []
    for index, table in enumerate(listed):
        where = f"{part.where}.plates[{index}]"
        plate = TableReader(part.ledger, table, where, f"{part.words}plate {index + 1}: ")
        given.append(plate.out)
        if plate.whole:
            plates.append(read_plate(plate, steels))
    return tuple(plates)


def _read_pattern(part: TableReader, steels: Names) -> tuple[Layer, ...]:
    if part.whole and not part.has("pattern"):
        part.read |= set(PATTERN_KEYS)
        part.fault("pattern", "give pattern, count and thickness_mm, or plates")
        return ()
    listed = part.list_of("pattern", limits.PLATES, "names of steels")
    for index, value in enumerate(listed):
        if not (isinstance(value, str) and value in steels):
            steel_name(part, f"pattern[{index}]", value, steels)
    pattern = [value for value in listed if isinstance(value, str) and value in steels]
    part.out["pattern"] = pattern
    count = part.integer("count", limits.PLATES)
    thickness = _read_thickness(part, pattern)
    if not pattern:
        return ()
    names = (pattern[index % len(pattern)] for index in range(count))
    return tuple(Layer(name, thickness[name]) for name in names)


def _read_thickness(part: TableReader, pattern: list[str]) -> dict[str, float]:
    if part.has("thickness_mm") and not isinstance(part.table["thickness_mm"], Mapping):
        value = part.take("thickness_mm")
        rule = "thickness_mm must be a table with a thickness for each steel of the pattern"
        part.fault("thickness_mm", f"{rule}, got {shown(value)}")
        return dict.fromkeys(pattern, limits.PLATE_MM[0])
    inner = part.child("thickness_mm", part.words)
    thickness = {name: inner.number(name, limits.PLATE_MM, "mm") for name in dict.fromkeys(pattern)}
    if pattern:
        inner.end()
    return thickness
