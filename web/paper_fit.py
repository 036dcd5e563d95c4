"""The type of a side of paper: as large as its content allows on A4 and on Letter alike."""

from billet import SheetPage

LEAST, MOST = 24, 34


def fitting_setting(kind: str, page: SheetPage, block: tuple[tuple[str, str], ...], with_code: bool) -> int:
    """Half points, 24 (12 pt) and up."""
    return LEAST
