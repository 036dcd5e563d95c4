"""Report -> Sheet: paper for the anvil, the furnace, the buyer and the bar itself.

A sheet holds worded cells alone; `sheet_text` lays them out in letters of one width, the pages of the
service lay out the same cells as HTML.
"""

from billet.sheets.building import build_sheet
from billet.sheets.kiln import kiln_csv
from billet.sheets.model import BLANK, BOX, EMPTY, SHEET_KINDS, Page, Section, Sheet, SheetKind
from billet.sheets.text import sheet_text

__all__ = [
    "BLANK", "BOX", "EMPTY", "SHEET_KINDS", "Page", "Section", "Sheet", "SheetKind", "build_sheet",
    "kiln_csv", "sheet_text",
]  # fmt: skip
