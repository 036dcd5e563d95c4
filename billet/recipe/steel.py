"""One name of [steels]: what the recipe says of it, and what follows from that."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from billet.composition import Composition
from billet.formulas.density import density_class
from billet.tables.reading import read_toml
from billet.tables.steels import Steel, find_steel

SteelRole = Literal["cladding"]


@dataclass(frozen=True)
class RecipeSteel:
    """A grade of the library (`like` alone), one with an analysis laid over it, or an own analysis.

    Exactly one of `like` and `own_name` is set; all else follows from the fields.
    """

    name: str
    """The recipe's own name of the steel."""
    like: str | None = None
    """Designation, number or name of the grade, as it was written."""
    own_name: str | None = None
    melt: str | None = None
    wt: Mapping[str, float] | None = None
    """What was given of the analysis, in wt%."""
    harden_c: tuple[float, float] | None = None
    role: SteelRole | None = None
    clad_by_blade: bool = field(default=False, compare=False)
    """Whether the blade names it as cladding; the recipe keeps this in step with its blade."""

    @cached_property
    def grade(self) -> Steel | None:
        """The grade of the library it is, or is like. Raises SteelError where there is none."""
        return None if self.like is None else find_steel(self.like)

    @cached_property
    def designation(self) -> str:
        return self.grade.designation if self.grade else self.own_name or ""

    @cached_property
    def composition(self) -> Composition:
        """The analysis that counts: what was given, laid over the nominal one of the grade.

        Raises OutOfDomain where the elements add up to more than 100 wt%.
        """
        nominal = self.grade.nominal if self.grade else Composition({})
        return nominal if self.wt is None else Composition({**nominal.wt, **self.wt})

    @property
    def analysis(self) -> Literal["nominal", "given"]:
        return "nominal" if self.wt is None else "given"

    @cached_property
    def density_g_cm3(self) -> float:
        """Density of the grade, else of the class that the analysis belongs to. [g/cm3]"""
        if self.grade:
            return self.grade.density_g_cm3
        return usual_density_g_cm3(self.composition)

    @property
    def cladding(self) -> bool:
        """Whether the steel may stay soft, told by its own entry or by the blade."""
        return self.role == "cladding" or self.clad_by_blade

    @property
    def named_only(self) -> bool:
        """Whether the designation is all that the recipe says of it."""
        return self.like is not None and (self.melt, self.wt, self.harden_c, self.role) == (None,) * 4


def usual_density_g_cm3(composition: Composition) -> float:
    """Density of an analysis without a grade, by its class."""
    return float(read_toml("densities.toml")[density_class(composition)]["g_cm3"])
