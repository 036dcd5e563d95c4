"""The only maker of addresses: every link keeps the recipe and the units."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from urllib.parse import quote, urlencode

from billet import wording

Units = wording.Units
SHEET_KINDS: tuple[str, ...] = ("forge", "harden", "kiln", "buyer", "label")


@dataclass(frozen=True)
class Links:
    """Addresses as seen from one page.

    `address` is the coded recipe, or None where the page has none or where it is too long for a
    link. `here` is the path of the page itself, `query` what else it was asked with.
    """

    here: str
    units: Units
    address: str | None = None
    query: tuple[tuple[str, str], ...] = ()

    def to(self, path: str, **query: str) -> str:
        """A page without a recipe; the units are kept."""
        return _joined(path, [*query.items(), *self._unit_pair()])

    def with_recipe(self, path: str) -> str:
        """A page with this recipe; without an address the page alone."""
        pairs = [("r", self.address)] if self.address else []
        return _joined(path, [*pairs, *self._unit_pair()])

    def steel(self, designation: str) -> str:
        """The page of one steel of the library."""
        return self.to(f"/steels/{quote(designation, safe='')}")

    def sheet(self, kind: str, text: bool = False) -> str:
        """A sheet for print, or the same as plain text."""
        return self.with_recipe(f"/sheet/{kind}{'.txt' if text else ''}")

    def face(self, asked: Sequence[tuple[str, str]]) -> str:
        """A picture of this bar; where the recipe is too long for a link it is asked for by POST."""
        return _joined("/face.png", [*([("r", self.address)] if self.address else []), *asked])

    @property
    def kiln_csv(self) -> str:
        """The furnace programme as comma-separated values."""
        return self.with_recipe("/sheet/kiln.csv")

    @property
    def plan(self) -> str:
        return self.with_recipe("/plan")

    @property
    def plan_json(self) -> str:
        return self.with_recipe("/plan.json")

    @property
    def uncertainty_json(self) -> str:
        return self.with_recipe("/uncertainty.json")

    @property
    def study(self) -> str:
        return self.with_recipe("/study")

    @property
    def study_json(self) -> str:
        return self.with_recipe("/study.json")

    @property
    def design(self) -> str:
        return self.with_recipe("/design")

    @property
    def recipe_toml(self) -> str:
        return self.with_recipe("/recipe.toml")

    @property
    def other_units(self) -> str:
        """This very page in the other units."""
        other: Units = "inch" if self.units == "mm" else "mm"
        turned = replace(self, units=other)
        pairs = [("r", self.address)] if self.address else []
        return _joined(self.here, [*pairs, *self.query, *turned._unit_pair()])

    def _unit_pair(self) -> list[tuple[str, str]]:
        return [("units", "inch")] if self.units == "inch" else []


def _joined(path: str, pairs: list[tuple[str, str]]) -> str:
    return f"{path}?{urlencode(pairs)}" if pairs else path
