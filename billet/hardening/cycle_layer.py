"""One steel of the blade as the heat cycle sees it, and the ramps its rules are made of."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from billet.composition import Composition
from billet.formulas.equilibrium import CriticalLines, critical_lines, equilibrium_state
from billet.hardening.critical_rate import hardenability
from billet.hardening.layer import LayerSteel, is_high_alloy
from billet.hardening.residuals import printed_residuals, with_usual_residuals
from billet.tables.heat_cycle import cycle_numbers
from billet.tables.plate_cooling import centre_rate_k_s
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start, Steel


def ramp(value: float, ends: Sequence[float]) -> float:
    """0 at the first end, 1 at the second, straight between and level beyond; ends may fall."""
    start, end = ends
    return min(max((value - start) / (end - start), 0.0), 1.0)


@dataclass(frozen=True)
class CycleLayer:
    """A steel inside the blade: its metal with the carbon it has there, and how much it counts.

    `weight` runs from 0, a layer that stays soft, to 1. `share` is its part of the blade's mass.
    """

    name: str
    grade: Steel | None
    composition: Composition
    weight: float
    share: float
    start: Start

    @property
    def lines(self) -> CriticalLines | None:
        """Equilibrium lines; None for what no equilibrium is computed of."""
        return None if is_high_alloy(self.composition) else critical_lines(self.composition)

    @property
    def ae1_c(self) -> float | None:
        """Where pearlite turns on heating at equilibrium."""
        return None if self.lines is None else self.lines.ae1_c

    def carbide_at(self, temperature_c: float) -> float | None:
        """Mass fraction of carbide at equilibrium; None where none is computed."""
        if is_high_alloy(self.composition):
            return None
        return equilibrium_state(self.composition, temperature_c).carbide

    @property
    def carbide_formers_wt(self) -> float:
        """Chromium, and the other carbide formers in terms of it. Own construction. [wt%]"""
        wt = self.composition
        return wt["Cr"] + wt["Mo"] + 0.5 * wt["W"] + 2.0 * wt["V"]

    @property
    def high_alloy(self) -> float:
        """0 to 1: rich in chromium, or in tungsten, molybdenum and vanadium."""
        limits, wt = cycle_numbers("still_air"), self.composition
        heavy = ramp(wt["W"] + wt["Mo"] + wt["V"], limits["w_mo_v_wt"])
        return 1.0 - (1.0 - self.rich_in_chromium) * (1.0 - heavy)

    @property
    def rich_in_chromium(self) -> float:
        """0 to 1: of the kinds that harden from the air and retain austenite."""
        return ramp(self.composition["Cr"], cycle_numbers("still_air")["cr_wt"])

    @property
    def never_normalised(self) -> float:
        """0 to 1: kinds that practice never normalises; tungsten without chromium hardens no deeper and
        is normalised like a plain steel."""
        limits, wt = cycle_numbers("still_air"), self.composition
        heavy = ramp(wt["W"] + wt["Mo"] + wt["V"], limits["w_mo_v_wt"])
        heavy *= ramp(wt["Cr"], limits["w_mo_v_beside_cr_wt"])
        return 1.0 - (1.0 - self.rich_in_chromium) * (1.0 - heavy)

    @property
    def slow_carbide(self) -> float:
        """0 to 1: how much alloyed carbide is left to dissolve once the pearlite has turned."""
        limits, ae1_c = cycle_numbers("slow_carbide"), self.ae1_c
        if ae1_c is None:
            return 0.0
        carbide = self.carbide_at(ae1_c + limits["above_ae1_k"]) or 0.0
        return self.alloyed * ramp(carbide, limits["carbide_frac"])

    @property
    def alloyed(self) -> float:
        """0 to 1: how far the carbide is alloyed and dissolves slowly."""
        limits = cycle_numbers("slow_carbide")
        manganese = 0.5 * max(self.composition["Mn"] - limits["mn_from_wt"], 0.0)
        return ramp(self.carbide_formers_wt + manganese, limits["alloy_wt"])

    def air_over_critical(self, thickness_mm: float) -> float:
        """Still-air cooling at this thickness as a multiple of the critical rate, coarse grain.

        With the residuals that no nominal analysis tells, as the quench has them.
        """
        known = self.grade.nominal if self.grade is not None else self.composition
        whole = with_usual_residuals(self.composition.wt, printed_residuals(known, self.grade))
        found = hardenability(Composition(whole), cycled=False)
        return centre_rate_k_s("air", thickness_mm).value / found.critical_rate_k_s.value

    def hardens_in_air(self, thickness_mm: float) -> float:
        """Share of martensite that still air makes, 0 to 1, between the rates of all pearlite and all
        martensite, which lie as far apart as those published for the eutectoid steel."""
        limits = decision_numbers("quench")
        apart = math.log(limits["eutectoid_all_martensite_k_s"] / limits["eutectoid_all_pearlite_k_s"])
        share = float(limits["martensite_frac"]) + math.log(self.air_over_critical(thickness_mm)) / apart
        return min(max(share, 0.0), 1.0)


def cycle_layers(layers: Sequence[LayerSteel]) -> tuple[CycleLayer, ...]:
    """The layers of a blade with the weights that hardening gives them."""
    return tuple(
        CycleLayer(one.name, one.grade, one.composition, one.weight, one.share, one.start) for one in layers
    )


Measure = Callable[[CycleLayer], float | None]


def most(layers: Sequence[CycleLayer], measure: Measure, fade: float) -> tuple[float, CycleLayer] | None:
    """The greatest of a measure over the layers that harden, each less by `fade` where it does not count.

    None where no hardening layer has one.
    """
    told = [
        (value - fade * (1.0 - layer.weight), layer)
        for layer in layers
        if layer.weight > 0.0 and (value := measure(layer)) is not None
    ]
    return max(told, key=lambda item: item[0], default=None)


def weighted(layers: Sequence[CycleLayer], measure: Callable[[CycleLayer], float]) -> tuple[float, str]:
    """The greatest share of 0 to 1 over the layers, each times its weight, and whose it is."""
    told = [(layer.weight * measure(layer), layer.name) for layer in layers if layer.weight > 0.0]
    return max(told, default=(0.0, ""))
