"""What the pages for the shop are given: the plan at the anvil, and where a telephone finds the service."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from billet import Report
from web.anvil import AnvilHeat, TreatmentHeat
from web.pages import Page


@dataclass(frozen=True, kw_only=True)
class Anvil(Page):
    """GET /anvil : the plan locked, one heat a screen; a recipe too long for a link comes by POST."""

    template: ClassVar[str] = "anvil.html"
    report: Report
    forging: Sequence[AnvilHeat]
    treatment: Sequence[TreatmentHeat]
    recipe_text: str

    @property
    def screens(self) -> int:
        """How many there are."""
        return len(self.forging) + len(self.treatment)


@dataclass(frozen=True, kw_only=True)
class Lan(Page):
    """GET /lan : where a telephone in the shop finds the service; `home` is None without --lan.

    `link` is what the code says: the bar at the anvil (`of_bar`) or the first page.
    """

    template: ClassVar[str] = "lan.html"
    home: str | None = None
    link: str = ""
    qr_svg: str = ""
    of_bar: bool = False
