"""The title block of a sheet: what is needed to find this very plan again."""

from collections.abc import Mapping
from typing import Any

from billet.contract.report import Report
from billet.sheets.model import BLANK, SheetKind
from billet.wording import Units

NAMES: dict[SheetKind, str] = {
    "forge": "forge schedule",
    "harden": "hardening sheet",
    "kiln": "furnace programme",
    "buyer": "buyer's sheet",
    "label": "label",
}
ON_THE_LABEL = frozenset({"Number", "Forged on", "Lengths in"})
"""Told in the label's own rows."""
NO_ADDRESS = "none: the recipe is to be seen, but this service has no public address to print"
SHOP_SHEETS: tuple[SheetKind, ...] = ("forge", "harden", "kiln")
"""Their lengths carry the unit."""
FOR_OTHERS: tuple[SheetKind, ...] = ("buyer", "label")
UNIT_WORDS: dict[Units, str] = {"mm": "millimetres", "inch": "inches"}


def title_block(
    report: Report, kind: SheetKind, units: Units, link: str | None
) -> tuple[tuple[str, str], ...]:
    """Pairs of label and value. Nothing is dated by a clock: the recipe tells the day, or a blank stays."""
    told = sheet_info(report)
    rows = [
        ("Number", str(told.get("number") or BLANK)),
        ("Maker", str(told.get("maker") or BLANK)),
        ("Forged on", str(told.get("forged_on") or BLANK)),
        ("Bar id", report.bar_id),
        ("Program, data", f"{report.made_with.billet}, {report.made_with.data}"),
        ("Lengths in", UNIT_WORDS[units]),
    ]
    if kind in SHOP_SHEETS:
        rows = [row for row in rows if row[0] != "Lengths in"]
    if kind == "forge":
        rows.append(("Melts", BLANK))
    if kind == "label":
        rows = [row for row in rows if row[0] not in ON_THE_LABEL]
    if link is not None and may_carry_link(report, kind):
        rows.append(("Link", link))
    elif link is None and kind in FOR_OTHERS and may_carry_link(report, kind):
        rows.append(("Link", NO_ADDRESS))
    return tuple(rows)


def sheet_info(report: Report) -> Mapping[str, Any]:
    """What the recipe says for its sheets."""
    told = report.recipe.get("sheet")
    return told if isinstance(told, Mapping) else {}


def may_carry_link(report: Report, kind: SheetKind) -> bool:
    """What leaves the shop carries the link only where the recipe is shared."""
    return kind not in FOR_OTHERS or bool(sheet_info(report).get("share_recipe", False))
