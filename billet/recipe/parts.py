"""The small tables of a recipe: blade, control and sheet."""

import datetime
from typing import Any

from billet.recipe import limits
from billet.recipe.faults import nearest, quoted
from billet.recipe.model import Blade, Control, EdgeAt, Made, SheetInfo, Shop, ShopOil, Start
from billet.recipe.reader import TableReader
from billet.recipe.steps_reader import Names, steel_name
from billet.tables.control import control_methods

MADE: dict[str, Made] = {"ground": "ground", "forged": "forged"}
STARTS: dict[str, Start] = {"normalised": "normalised", "spheroidised": "spheroidised"}


EDGE_AT: dict[str, EdgeAt] = {"middle": "middle", "face": "face"}


def read_blade(part: TableReader, steels: Names) -> Blade:
    """[blade]; the edge cannot be thicker than the blade."""
    thickness_mm = part.number("thickness_mm", limits.BLADE_MM, "mm")
    edge_mm = part.number("edge_mm", limits.EDGE_MM, "mm", limits.DEFAULTS["edge_mm"])
    made = MADE[part.choice("made", limits.MADE, limits.DEFAULTS["made"])]
    start = STARTS[part.choice("start", limits.STARTS, limits.DEFAULTS["start"])]
    bevel = part.maybe_number("bevel_half_angle_deg", limits.BEVEL_DEG, "degrees")
    edge_at = EDGE_AT[part.choice("edge_at", limits.EDGE_AT, limits.DEFAULTS["edge_at"])]
    width_mm = part.maybe_number("width_mm", limits.BLADE_WIDTH_MM, "mm")
    length_mm = part.maybe_number("length_mm", limits.BLADE_LENGTH_MM, "mm")
    bevel_height_mm = part.maybe_number("bevel_height_mm", limits.BEVEL_HEIGHT_MM, "mm")
    temper_to_hrc = part.maybe_number("temper_to_hrc", limits.TEMPER_HRC, "HRC")
    cladding = _cladding(part, steels) if part.has("cladding") else ()
    part.read.add("cladding")
    part.end()
    if not part.ledger.faults and edge_mm > thickness_mm:
        rule = f"edge_mm must not be more than thickness_mm, {thickness_mm:g} mm"
        part.fault("edge_mm", f"{rule}, got {edge_mm:g}")
    return Blade(
        thickness_mm=thickness_mm,
        edge_mm=edge_mm,
        made=made,
        start=start,
        bevel_half_angle_deg=bevel,
        edge_at=edge_at,
        width_mm=width_mm,
        length_mm=length_mm,
        bevel_height_mm=bevel_height_mm,
        temper_to_hrc=temper_to_hrc,
        cladding=cladding,
    )


def _cladding(part: TableReader, steels: Names) -> tuple[str, ...]:
    listed = part.list_of("cladding", (0, limits.STEELS[1]), "names of steels")
    names = [steel_name(part, f"cladding[{i}]", name, steels) for i, name in enumerate(listed)]
    part.out["cladding"] = names
    return tuple(names)


def read_shop(part: TableReader) -> Shop:
    """[shop]: the fire, the hammer or press, the oils and the furnace of this smith."""
    fire = part.maybe_text("fire", limits.NAME_LONGEST)
    _check_method(part, "fire", fire)
    half_width_k = part.maybe_number("half_width_k", limits.HALF_WIDTH_K, "K")
    if part.has("fire") and part.has("half_width_k"):
        part.fault("half_width_k", "give fire or half_width_k, not both")
    shop = Shop(
        fire=fire,
        half_width_k=half_width_k,
        press=part.boolean("press", limits.DEFAULTS["press"]),
        hot_length_mm=part.maybe_number("hot_length_mm", limits.HOT_LENGTH_MM, "mm"),
        tallest_mm=part.maybe_number("tallest_mm", limits.TALLEST_MM, "mm"),
        oils=_oils(part) if part.has("oils") else (),
        controlled_cooling=part.boolean("controlled_cooling", limits.DEFAULTS["controlled_cooling"]),
        lowest_cooling_k_h=part.maybe_number("lowest_cooling_k_h", limits.COOLING_K_H, "K/h"),
    )
    part.read.add("oils")
    part.end()
    return shop


def _oils(part: TableReader) -> tuple[ShopOil, ...]:
    oils: list[ShopOil] = []
    given: list[dict[str, Any]] = []
    for index, table in enumerate(part.list_of("oils", limits.OILS, "oils")):
        row = TableReader(part.ledger, table, f"{part.where}.oils[{index}]", f"Shop: oil {index + 1}: ")
        given.append(row.out)
        if not row.whole:
            continue
        name = row.text("name", limits.NAME_LONGEST)
        medium = row.choice("class", limits.OIL_CLASSES) if row.has("class") else None
        seconds = row.maybe_number("nickel_ball_s", limits.NICKEL_BALL_S, "s")
        row.read.add("class")
        row.end()
        if medium is None and seconds is None:
            row.fault("", "give its class or its nickel_ball_s")
        if name in {oil.name for oil in oils}:
            row.fault("name", f"another oil is called {quoted(name)}")
        oils.append(ShopOil(name, medium, seconds))
    part.out["oils"] = given
    return tuple(oils)


def _check_method(part: TableReader, key: str, method: str | None) -> None:
    known = [entry.key for entry in control_methods()]
    if method and method not in known:
        part.fault(key, f"no method of control is called {quoted(method)}{nearest(method, known)}")


def read_control(part: TableReader) -> Control:
    """[control]: a method of the table, or a half-width of one's own."""
    method = part.maybe_text("method", limits.NAME_LONGEST)
    half_width_k = part.maybe_number("half_width_k", limits.HALF_WIDTH_K, "K")
    part.end()
    if part.has("method") and part.has("half_width_k"):
        part.fault("half_width_k", "give method or half_width_k, not both")
    elif part.whole and not part.has("method") and not part.has("half_width_k"):
        part.fault("", "give method or half_width_k")
    _check_method(part, "method", method)
    return Control(method, half_width_k)


def read_sheet(part: TableReader) -> SheetInfo:
    """[sheet]: what is printed in the title block; a TOML date serves as forged_on."""
    number = part.maybe_text("number", limits.NAME_LONGEST)
    maker = part.maybe_text("maker", limits.TITLE_LONGEST)
    forged_on: str | None = None
    written = part.take("forged_on", None)
    if isinstance(written, datetime.date):
        forged_on = part.out["forged_on"] = written.isoformat()
    elif part.has("forged_on"):
        forged_on = part.text("forged_on", limits.NAME_LONGEST)
    share = part.boolean("share_recipe", limits.DEFAULTS["share_recipe"])
    part.end()
    return SheetInfo(number, maker, forged_on, share)
