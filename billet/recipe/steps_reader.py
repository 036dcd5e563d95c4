"""Reads [[steps]]: each kind of step with its own keys, and what must hold between them."""

from collections.abc import Callable, Mapping
from typing import Any

from billet.recipe import limits
from billet.recipe.faults import nearest, quoted, shown
from billet.recipe.model import (
    Atmosphere,
    Crop,
    Draw,
    Grind,
    Layer,
    LayItem,
    Measured,
    Order,
    Other,
    Restack,
    Step,
    Turn,
    Upset,
    Weld,
)
from billet.recipe.reader import REQUIRED, FaultLog, TableReader

ATMOSPHERES: dict[str, Atmosphere] = {"air": "air", "reducing": "reducing", "sealed": "sealed"}
ORDERS: dict[str, Order] = {"same": "same", "turned": "turned", "folded": "folded"}
SIZE_KEYS = ("height_mm", "width_mm", "length_mm")
Common = dict[str, Any]
Names = Mapping[str, object]


def read_steps(root: TableReader, steels: Names) -> tuple[Step, ...]:
    """All steps in order; a step that cannot be read at all is left out (and is a fault)."""
    if not root.has("steps"):
        root.read.add("steps")
        return ()
    listed = root.list_of("steps", limits.STEPS_COUNT, "steps")
    given: list[dict[str, Any]] = []
    root.out["steps"] = given
    steps: list[Step] = []
    for index, table in enumerate(listed):
        step = _read_step(root.ledger, index, table, given, steels)
        if step is not None:
            steps.append(step)
    return tuple(steps)


def _read_step(
    ledger: FaultLog, index: int, table: Any, given: list[dict[str, Any]], steels: Names
) -> Step | None:
    number, where = index + 1, f"steps[{index}]"
    do = table.get("do") if isinstance(table, Mapping) else None
    known = isinstance(do, str) and do in limits.STEPS
    part = TableReader(ledger, table, where, f"Step {number} ({do}): " if known else f"Step {number}: ")
    given.append(part.out)
    if not part.whole:
        return None
    part.take("do")
    if not known or not isinstance(do, str):
        if part.has("do"):
            hint = nearest(do, limits.STEPS) if isinstance(do, str) else ""
            part.fault("do", f"no step is called {shown(do)}{hint}")
        return None
    part.out["do"] = do
    common: Common = {"number": number, "do": do, "note": part.maybe_text("note", limits.NOTE_LONGEST)}
    common["measured"] = _read_measured(part) if part.has("measured") else None
    part.read |= {"note", "measured"}
    step = READERS[do](part, common, steels)
    part.end()
    return step


def _read_measured(part: TableReader) -> Measured:
    inner = part.child("measured", part.words)
    sizes = [inner.maybe_number(key, limits.MEASURED_MM, "mm") for key in SIZE_KEYS]
    inner.end()
    return Measured(*sizes)


def _fire(part: TableReader, common: Common) -> Common:
    temperature_c = part.number("temperature_c", limits.FORGE_C, "C")
    minutes = part.number("minutes", limits.MINUTES, "minutes")
    heats = part.integer("heats", limits.HEATS, limits.DEFAULTS["heats"])
    seen = part.choice("atmosphere", limits.ATMOSPHERES, limits.DEFAULTS["atmosphere"])
    fire = {"temperature_c": temperature_c, "minutes": minutes, "heats": heats}
    return {**common, **fire, "atmosphere": ATMOSPHERES[seen]}


def _weld(part: TableReader, common: Common, _steels: Names) -> Weld:
    return Weld(
        **_fire(part, common),
        flux=part.boolean("flux", limits.DEFAULTS["flux"]),
        height_mm=part.maybe_number("height_mm", limits.HEIGHT_MM, "mm"),
        width_mm=part.maybe_number("width_mm", limits.WIDTH_MM, "mm"),
    )


def _draw(part: TableReader, common: Common, _steels: Names) -> Draw:
    return Draw(
        **_fire(part, common),
        height_mm=part.number("height_mm", limits.HEIGHT_MM, "mm"),
        width_mm=part.maybe_number("width_mm", limits.WIDTH_MM, "mm"),
    )


def _upset(part: TableReader, common: Common, _steels: Names) -> Upset:
    length_mm = part.number("length_mm", limits.LENGTH_AFTER_MM, "mm")
    return Upset(**_fire(part, common), length_mm=length_mm)


def _other(part: TableReader, common: Common, _steels: Names) -> Other:
    return Other(**_fire(part, common), what=part.text("what", limits.TITLE_LONGEST))


def _turn(_part: TableReader, common: Common, _steels: Names) -> Turn:
    return Turn(**common)


def _grind(part: TableReader, common: Common, _steels: Names) -> Grind:
    per_face_mm = part.number("per_face_mm", limits.GRIND_MM, "mm")
    side_mm = part.number("side_mm", limits.GRIND_MM, "mm", limits.DEFAULTS["side_mm"])
    return Grind(**common, per_face_mm=per_face_mm, side_mm=side_mm)


def _crop(part: TableReader, common: Common, _steels: Names) -> Crop:
    end_mm = part.pair("end_mm", limits.TRIM_MM, "mm") if part.has("end_mm") else None
    length_mm = part.maybe_number("length_mm", limits.LENGTH_AFTER_MM, "mm")
    part.read.add("end_mm")
    if part.has("end_mm") and part.has("length_mm"):
        part.fault("length_mm", "give end_mm or length_mm, not both")
    elif not part.has("end_mm") and not part.has("length_mm"):
        part.fault("", "give end_mm, what goes off each end, or length_mm, what stays")
    return Crop(**common, end_mm=end_mm, length_mm=length_mm)


def _restack(part: TableReader, common: Common, steels: Names) -> Restack:
    pieces = part.integer("pieces", limits.PIECES)
    trim_mm = part.pair("trim_mm", limits.TRIM_MM, "mm", limits.DEFAULTS["trim_mm"])
    order = ORDERS[part.choice("order", limits.ORDERS)] if part.has("order") else None
    folded = order == "folded"
    kerf_default = 0.0 if folded else limits.DEFAULTS["kerf_mm"]
    kerf_mm = part.number("kerf_mm", limits.KERF_MM, "mm", kerf_default)
    lay = _read_lay(part, steels, pieces) if part.has("lay") else None
    part.read |= {"order", "lay"}
    if part.has("order") == part.has("lay"):
        part.fault("order", "give order or lay, and not both")
    low, high = limits.FOLDED_PIECES
    if folded and part.has("pieces") and not low <= pieces <= high:
        part.fault("pieces", f"a bar is folded into {low} to {high} pieces, got {pieces}")
    if folded and kerf_mm > 0.0:
        part.fault("kerf_mm", f"a fold cuts nothing away, so kerf_mm must be 0, got {kerf_mm:g}")
    if order and not folded and part.has("pieces") and pieces == 1:
        part.fault("pieces", "one piece makes no stack; cut at least 2, or lay it between plates")
    return Restack(**common, pieces=pieces, trim_mm=trim_mm, kerf_mm=kerf_mm, order=order, lay=lay)


def _read_lay(part: TableReader, steels: Names, pieces: int) -> tuple[LayItem, ...]:
    listed = part.list_of("lay", (1, limits.PLATES[1]), "pieces and plates")
    given: list[Any] = []
    part.out["lay"] = given
    items: list[LayItem] = []
    for index, item in enumerate(listed):
        where = f"{part.where}.lay[{index}]"
        if item == "piece" or item == "turned":
            given.append(item)
            items.append("piece" if item == "piece" else "turned")
        elif isinstance(item, Mapping):
            plate = TableReader(part.ledger, item, where, part.words)
            given.append(plate.out)
            items.append(read_plate(plate, steels))
        else:
            rule = 'lay takes "piece", "turned" or a plate { steel = ..., thickness_mm = ... }'
            part.ledger.faults.add(where, f"{part.words}{rule}, got {shown(item)}")
    used = sum(isinstance(item, str) for item in items)
    if listed and not used:
        part.fault("lay", "lay at least one piece of the bar")
    if used > pieces:
        part.fault("lay", f"{used} pieces are laid, but the bar is cut into {pieces}")
    if listed and len(items) == 1:
        part.fault("lay", "one piece makes no stack; lay at least two things")
    return tuple(items)


def read_plate(plate: TableReader, steels: Names) -> Layer:
    """{ steel, thickness_mm }, the steel one of the recipe's own names."""
    steel = steel_name(plate, "steel", plate.take("steel"), steels)
    plate.out["steel"] = steel
    thickness_mm = plate.number("thickness_mm", limits.PLATE_MM, "mm")
    plate.end()
    return Layer(steel, thickness_mm)


def steel_name(part: TableReader, key: str, value: Any, steels: Names) -> str:
    """One of the recipe's own names of steels; anything else is a fault."""
    if isinstance(value, str) and value in steels:
        return value
    if isinstance(value, str):
        part.fault(key, f"[steels] has no {quoted(value)}{nearest(value, steels)}")
    elif value is not REQUIRED:
        part.fault(key, f"the name of a steel belongs here: put it in quotes, got {shown(value)}")
    return next(iter(steels), "")


READERS: dict[str, Callable[[TableReader, Common, Names], Step]] = {
    "weld": _weld,
    "draw": _draw,
    "upset": _upset,
    "other": _other,
    "turn": _turn,
    "grind": _grind,
    "crop": _crop,
    "restack": _restack,
}
