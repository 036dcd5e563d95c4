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
    link. `here` is the path of the page itself below the service's root, `query` what else it was
    asked with. `own_shop` is the reader's own fire and oils, coded, which go along but are no part of
    the recipe. All addresses are relative to `here`, so that the service may stand under any prefix.
    """

    here: str
    units: Units
    address: str | None = None
    query: tuple[tuple[str, str], ...] = ()
    own_shop: str | None = None

    def path(self, path: str) -> str:
        """A path of the service as seen from this page."""
        up = "../" * max(self.here.count("/") - 1, 0)
        return f"{up}{path.lstrip('/')}" or "./"

    def static(self, name: str) -> str:
        """A file that every page shares."""
        return self.path(f"/static/{name}")

    def to(self, path: str, **query: str) -> str:
        """A page without a recipe; the units are kept."""
        return _joined(self.path(path), [*query.items(), *self._unit_pair()])

    def with_recipe(self, path: str) -> str:
        """A page with this recipe; without an address the page alone."""
        return _joined(self.path(path), [*self._recipe_pairs(), *self._unit_pair()])

    def below_root(self, path: str) -> str:
        """A page with this recipe and nothing of the reader's own, as seen from the root: for paper."""
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
        return _joined(self.path("/face.png"), [*([("r", self.address)] if self.address else []), *asked])

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
    def design_alone(self) -> str:
        """The design page without what is the reader's own."""
        return replace(self, own_shop=None).with_recipe("/design")

    @property
    def recipe_toml(self) -> str:
        return replace(self, own_shop=None).with_recipe("/recipe.toml")

    @property
    def other_units(self) -> str:
        """This very page in the other units."""
        other: Units = "inch" if self.units == "mm" else "mm"
        turned = replace(self, units=other)
        pairs = [*self._recipe_pairs(), *self.query, *turned._unit_pair()]
        return _joined(self.path(self.here), pairs)

    def _recipe_pairs(self) -> list[tuple[str, str]]:
        own = [("mine", self.own_shop)] if self.own_shop and self.address else []
        return [("r", self.address), *own] if self.address else []

    def _unit_pair(self) -> list[tuple[str, str]]:
        return [("units", "inch")] if self.units == "inch" else []


def _joined(path: str, pairs: list[tuple[str, str]]) -> str:
    return f"{path}?{urlencode(pairs)}" if pairs else path
