"""What a steel is made of, in wt%, and the same counted in atoms."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from billet.errors import OutOfDomain

# Standard atomic weights, abridged (IUPAC 2021), g/mol.
ATOMIC_WEIGHT: dict[str, float] = {
    "C": 12.011, "Si": 28.085, "Mn": 54.938, "P": 30.974, "S": 32.06, "Cr": 51.996, "Ni": 58.693,
    "Mo": 95.95, "V": 50.942, "W": 183.84, "Co": 58.933, "Cu": 63.546, "Al": 26.982, "N": 14.007,
    "Nb": 92.906, "Ti": 47.867, "B": 10.81, "As": 74.922, "Fe": 55.845,
}  # fmt: skip
ELEMENTS: tuple[str, ...] = tuple(name for name in ATOMIC_WEIGHT if name != "Fe")
INTERSTITIAL = frozenset({"C", "N", "B"})
ANALYSIS_RULE = 'a mapping of elements in wt%, such as {"C": 0.84, "Mn": 0.75}'


@dataclass(frozen=True)
class Composition:
    """Elements in wt%; iron is the rest. An element that is not listed is 0.

    Raises OutOfDomain for an unknown element, a value below 0 or not finite, or a sum over 100.
    """

    wt: Mapping[str, float]

    def __post_init__(self) -> None:
        if not isinstance(self.wt, Mapping):
            raise OutOfDomain("an analysis", repr(self.wt), ANALYSIS_RULE)
        for element, value in self.wt.items():
            if element not in ELEMENTS:
                raise OutOfDomain("element", element, f"one of {', '.join(ELEMENTS)}")
            if not _can_be(value):
                raise OutOfDomain(f"{element} in wt%", repr(value)[:40], "a number of 0 or more")
        if sum(self.wt.values()) > 100.0 + 1e-9:
            raise OutOfDomain("sum of the elements in wt%", sum(self.wt.values()), "100 or less")

    def __getitem__(self, element: str) -> float:
        return self.wt.get(element, 0.0)

    def __hash__(self) -> int:
        return hash(tuple(sorted(self.wt.items())))

    @cached_property
    def iron_wt(self) -> float:
        """Iron, as the rest to 100 wt%."""
        return 100.0 - sum(self.wt.values())

    @cached_property
    def metal_moles(self) -> float:
        """Moles of everything that is no interstitial in 100 g."""
        alloy = sum(v / ATOMIC_WEIGHT[e] for e, v in self.wt.items() if e not in INTERSTITIAL)
        return alloy + self.iron_wt / ATOMIC_WEIGHT["Fe"]

    @property
    def carbon_ratio(self) -> float:
        """y: carbon atoms for one metal atom."""
        return self["C"] / ATOMIC_WEIGHT["C"] / self.metal_moles

    @cached_property
    def metal_fractions(self) -> dict[str, float]:
        """u: atoms of each alloying metal for one metal atom (iron left out)."""
        return {
            e: v / ATOMIC_WEIGHT[e] / self.metal_moles
            for e, v in self.wt.items()
            if e not in INTERSTITIAL and v > 0.0
        }

    @cached_property
    def metal_weight(self) -> float:
        """Mean atomic weight of the metal atoms, g/mol."""
        metal_wt = 100.0 - sum(self[e] for e in INTERSTITIAL)
        return metal_wt / self.metal_moles

    def with_carbon(self, carbon_wt: float) -> "Composition":
        """The same metal with another carbon content: the metals keep their proportions."""
        factor = (100.0 - carbon_wt) / (100.0 - self["C"])
        wt = {e: v * factor for e, v in self.wt.items() if e != "C"}
        return Composition({"C": carbon_wt, **wt})

    def carbon_ratio_to_wt(self, ratio: float) -> float:
        """Carbon in wt% when there are `ratio` carbon atoms for one metal atom of this steel."""
        carbon = ratio * ATOMIC_WEIGHT["C"]
        return 100.0 * carbon / (carbon + self.metal_weight)


def _can_be(value: float) -> bool:
    try:
        return math.isfinite(value) and value >= 0.0
    except (TypeError, OverflowError):
        return False


class Columns(dict[str, Any]):
    """Columns of many analyses, one array in wt% an element; an element that is not listed is 0."""

    def __missing__(self, element: str) -> float:
        return 0.0


def blend(parts: Iterable[tuple[Composition, float]]) -> Composition:
    """Bulk analysis of parts given with their masses (any one unit).

    Raises OutOfDomain when the masses do not add up to more than 0.
    """
    listed = list(parts)
    total = sum(mass for _, mass in listed)
    if not total > 0.0:
        raise OutOfDomain("total mass", total, "above 0")
    elements = sorted({e for c, _ in listed for e in c.wt}, key=ELEMENTS.index)
    return Composition({e: sum(c[e] * m for c, m in listed) / total for e in elements})
