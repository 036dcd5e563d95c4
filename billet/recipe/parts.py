"""The small tables of a recipe: blade, control and sheet."""

import datetime

from billet.recipe import limits
from billet.recipe.faults import nearest, quoted
from billet.recipe.model import Blade, Control, Made, SheetInfo, Start
from billet.recipe.reader import TableReader
from billet.tables.control import control_methods

MADE: dict[str, Made] = {"ground": "ground", "forged": "forged"}
STARTS: dict[str, Start] = {"normalised": "normalised", "spheroidised": "spheroidised"}


def read_blade(part: TableReader) -> Blade:
    """[blade]; the edge cannot be thicker than the blade."""
    thickness_mm = part.number("thickness_mm", limits.BLADE_MM, "mm")
    edge_mm = part.number("edge_mm", limits.EDGE_MM, "mm", limits.DEFAULTS["edge_mm"])
    made = MADE[part.choice("made", limits.MADE, limits.DEFAULTS["made"])]
    start = STARTS[part.choice("start", limits.STARTS, limits.DEFAULTS["start"])]
    bevel = part.maybe_number("bevel_half_angle_deg", limits.BEVEL_DEG, "degrees")
    part.end()
    if not part.ledger.faults and edge_mm > thickness_mm:
        rule = f"edge_mm must not be more than thickness_mm, {thickness_mm:g} mm"
        part.fault("edge_mm", f"{rule}, got {edge_mm:g}")
    return Blade(thickness_mm, edge_mm, made, start, bevel)


def read_control(part: TableReader) -> Control:
    """[control]: a method of the table, or a half-width of one's own."""
    method = part.maybe_text("method", limits.NAME_LONGEST)
    half_width_k = part.maybe_number("half_width_k", limits.HALF_WIDTH_K, "K")
    part.end()
    if part.has("method") and part.has("half_width_k"):
        part.fault("half_width_k", "give method or half_width_k, not both")
    elif part.whole and not part.has("method") and not part.has("half_width_k"):
        part.fault("", "give method or half_width_k")
    known = [entry.key for entry in control_methods()]
    if method and method not in known:
        part.fault("method", f"no method of control is called {quoted(method)}{nearest(method, known)}")
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
