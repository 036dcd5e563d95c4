"""One steel of the blade as the heat cycle sees it, and the ramps its rules are made of."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from billet.composition import Composition
from billet.formulas.equilibrium import CriticalLines, critical_lines, states_many
from billet.hardening.critical_lines import Lines
from billet.hardening.critical_rate import critical_rates
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


def carbide_formers_wt(metal: Composition) -> float:
    """Chromium, and the other carbide formers in terms of it. Own construction. [wt%]"""
    return metal["Cr"] + metal["Mo"] + 0.5 * metal["W"] + 2.0 * metal["V"]


def alloyed(metal: Composition) -> float:
    """0 to 1: how far the carbide of a metal is alloyed and dissolves slowly."""
    limits = cycle_numbers("slow_carbide")
    manganese = 0.5 * max(metal["Mn"] - limits["mn_from_wt"], 0.0)
    return ramp(carbide_formers_wt(metal) + manganese, limits["alloy_wt"])


@dataclass(frozen=True)
class CycleLayer:
    """A steel inside the blade: its metal with the carbon it has there, and how much it counts.

    `weight` runs from 0, a layer that stays soft, to 1. `share` is its part of the blade's mass. `lines` are
    its equilibrium lines and `carbide_above_ae1` the mass fraction of carbide a little over the pearlite's
    end; both None for what no equilibrium is computed of, the carbide also where none of it is alloyed.
    """

    name: str
    grade: Steel | None
    composition: Composition
    weight: float
    share: float
    start: Start
    lines: CriticalLines | None
    carbide_above_ae1: float | None

    @property
    def ae1_c(self) -> float | None:
        """Where pearlite turns on heating at equilibrium."""
        return None if self.lines is None else self.lines.ae1_c

    @property
    def carbide_formers_wt(self) -> float:
        """Chromium, and the other carbide formers in terms of it. Own construction. [wt%]"""
        return carbide_formers_wt(self.composition)

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
        limits = cycle_numbers("slow_carbide")
        return self.alloyed * ramp(self.carbide_above_ae1 or 0.0, limits["carbide_frac"])

    @property
    def alloyed(self) -> float:
        """0 to 1: how far the carbide is alloyed and dissolves slowly."""
        return alloyed(self.composition)

    @property
    def whole_wt(self) -> dict[str, float]:
        """The analysis with the residuals that no nominal one tells, as the quench has them."""
        known = self.grade.nominal if self.grade is not None else self.composition
        return with_usual_residuals(self.composition.wt, printed_residuals(known, self.grade))


def air_over_critical(layers: Sequence[CycleLayer], thickness_mm: float) -> dict[str, float]:
    """By name, still-air cooling at this thickness as a multiple of the critical rate, coarse grain."""
    if not layers:
        return {}
    whole = [layer.whole_wt for layer in layers]
    wt = {e: np.array([one.get(e, 0.0) for one in whole]) for e in sorted({e for one in whole for e in one})}
    critical = critical_rates(wt, np.ones(len(layers)), cycled=False).value
    air_k_s = centre_rate_k_s("air", thickness_mm).value
    return {layer.name: air_k_s / float(rate) for layer, rate in zip(layers, critical, strict=True)}


def martensite_from_air(air_over_critical: float) -> float:
    """Share of martensite that still air makes, 0 to 1, between the rates of all pearlite and all
    martensite, which lie as far apart as those published for the eutectoid steel."""
    limits = decision_numbers("quench")
    apart = math.log(limits["eutectoid_all_martensite_k_s"] / limits["eutectoid_all_pearlite_k_s"])
    share = float(limits["martensite_frac"]) + math.log(air_over_critical) / apart
    return min(max(share, 0.0), 1.0)


def cycle_layers(
    layers: Sequence[LayerSteel], decided: Sequence[Lines], heat_c: float | None
) -> tuple[tuple[CycleLayer, ...], tuple[float | None, ...]]:
    """The layers of a blade with the weights that hardening gives them, and their lines as decided; and the
    carbide of each at `heat_c` as `carbides_at` has it, None where it dissolves fast whatever there is."""
    lines = [
        None if is_high_alloy(one.composition) else own.first()
        for one, own in zip(layers, decided, strict=True)
    ]
    metals, count = [one.composition for one in layers], len(layers)
    slow = [alloyed(metal) > 0.0 for metal in metals]
    above = [c if held else None for c, held in zip(_above_ae1_c(lines), slow, strict=True)]
    at_heat = [
        heat_c if held or one.start == "spheroidised" else None
        for one, held in zip(layers, slow, strict=True)
    ]
    carbides = carbides_at([*metals, *metals], [*above, *at_heat])
    found = tuple(
        CycleLayer(one.name, one.grade, one.composition, one.weight, one.share, one.start, own, carbide)
        for one, own, carbide in zip(layers, lines, carbides[:count], strict=True)
    )
    return found, tuple(carbides[count:])


def cycle_layer(
    name: str, grade: Steel | None, composition: Composition, weight: float, share: float, start: Start
) -> CycleLayer:
    """One such layer by itself."""
    lines = None if is_high_alloy(composition) else critical_lines(composition)
    (carbide,) = carbides_at([composition], _above_ae1_c([lines]))
    return CycleLayer(name, grade, composition, weight, share, start, lines, carbide)


def carbides_at(
    compositions: Sequence[Composition], temperatures_c: Sequence[float | None]
) -> list[float | None]:
    """Mass fraction of carbide at equilibrium of every metal at its temperature, in one batch; None where
    no temperature is told, and for what no equilibrium is computed of."""
    asked = [
        (place, metal, c)
        for place, (metal, c) in enumerate(zip(compositions, temperatures_c, strict=True))
        if c is not None and not is_high_alloy(metal)
    ]
    found: list[float | None] = [None] * len(compositions)
    if asked:
        elements = {e for _, metal, _ in asked for e in metal.wt}
        wt = {e: np.array([metal[e] for _, metal, _ in asked]) for e in sorted(elements)}
        carbide = states_many(wt, np.array([c for _, _, c in asked]))["carbide"]
        for (place, _, _), value in zip(asked, carbide, strict=True):
            found[place] = float(value)
    return found


def _above_ae1_c(lines: Sequence[CriticalLines | None]) -> list[float | None]:
    """A little over the pearlite's end of each. [C]"""
    above_k = float(cycle_numbers("slow_carbide")["above_ae1_k"])
    return [None if own is None or own.ae1_c is None else own.ae1_c + above_k for own in lines]


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
