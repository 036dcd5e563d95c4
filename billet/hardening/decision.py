"""From the layers inside the blade to one temperature, and what surrounds it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np

from billet.composition import Composition
from billet.contract.values import Estimate, Grade, NoneBecause, Reason, Verdict
from billet.hardening.austenite_state import SteelState, Varied, varied_states
from billet.hardening.austenitising_window import AustenitisingWindow, SteelWindow, WindowEnd, steel_window
from billet.hardening.cycle_layer import CycleLayer, cycle_layers
from billet.hardening.joint_decision import JointDecision
from billet.hardening.layer import LayerSteel, is_high_alloy
from billet.hardening.normalising import Normalising, normalising
from billet.hardening.quench import BarQuench, quench_plan
from billet.hardening.quench_grades import BladeSection, LayerInput
from billet.hardening.residuals import printed_residuals, with_usual_residuals
from billet.hardening.samples import Array, LayerSamples
from billet.hardening.set_point import grades_of_fires
from billet.hardening.shop_oils import OwnOil
from billet.hardening.soak import Soak, soak
from billet.recipe.model import Recipe
from billet.tables.control import ControlMethod, control_method, control_methods
from billet.tables.practice import decision_numbers

NORMAL_THICKNESS_MM = 3.0


@dataclass(frozen=True)
class HardeningDecision:
    """The heat of hardening decided for layers of a given carbon: what a plan reads of a joint decision.

    `half_width_k` is that of the fire it was decided for, 0 where none is told; `cycled` are the layers as
    the heats around hardening see them.
    """

    joint: JointDecision
    layers: tuple[LayerSteel, ...]
    cycled: tuple[CycleLayer, ...]
    half_width_k: float
    normalising: Normalising
    soak: Soak | None

    @cached_property
    def windows(self) -> tuple[SteelWindow, ...]:
        """What is known of where each steel hardens."""
        return tuple(steel_window(self.joint, place) for place in range(len(self.layers)))

    @property
    def verdict(self) -> Verdict:
        return self.joint.verdict()

    @property
    def none_because(self) -> NoneBecause | None:
        return self.joint.none_because()

    @property
    def set_point_c(self) -> float | None:
        """The temperature to set; None where there is no window."""
        return float(self.joint.point.c[0]) if self.none_because is None else None

    @property
    def least_bad_c(self) -> float | None:
        """What harms least where the ranges miss each other; None in every other case."""
        return float(self.joint.heat_c[0]) if self.none_because == "gap" else None

    @property
    def heat_c(self) -> float | None:
        """The temperature at which the layers are told: the set point, or the least bad one."""
        return self.set_point_c if self.set_point_c is not None else self.least_bad_c

    @property
    def window(self) -> AustenitisingWindow | None:
        """Every temperature good for all, or as near to it as there is."""
        if self.none_because is not None:
            return None
        found = self.joint.window
        return AustenitisingWindow(
            WindowEnd(float(found.low_c[0]), self._end("low")),
            WindowEnd(float(found.high_c[0]), self._end("high")),
        )

    @cached_property
    def methods(self) -> tuple[tuple[ControlMethod, Grade], ...]:
        """Every way of holding a temperature with what it makes of these steels, at its own set point."""
        known = control_methods()
        grades = grades_of_fires(self.joint.worst, [method.half_width_k for method in known])
        return tuple(zip(known, grades, strict=True))

    @property
    def low_set_by(self) -> str:
        return self.layers[int(self.joint.window.low_set_by[0])].name

    @property
    def high_set_by(self) -> str:
        return self.layers[int(self.joint.window.high_set_by[0])].name

    def _end(self, which: str) -> Reason:
        place = int(getattr(self.joint.window, f"{which}_set_by")[0])
        own = self.windows[place].preferred
        if own is None:
            return Reason("end-unknown", {"steel": self.layers[place].name})
        end: WindowEnd = getattr(own, which)
        return end.because


def decide_hardening(
    recipe: Recipe, joint: JointDecision, layers: tuple[LayerSteel, ...], forged_mm: float
) -> HardeningDecision:
    """What a plan says of its joint decision, and the heats around it.

    `forged_mm` is the thickness of the bar as it comes from the fire, which is what is normalised.
    """
    point_c = top_c = None
    if joint.none_because() is None:
        point_c, top_c = float(joint.point.c[0]), float(joint.window.high_c[0])
    cycled, carbides = cycle_layers(layers, joint.lines, point_c)
    return HardeningDecision(
        joint,
        layers,
        cycled,
        half_width(recipe),
        normalising(cycled, top_c, forged_mm),
        None if point_c is None else soak(cycled, point_c, carbides),
    )


def blade_thickness_mm(recipe: Recipe) -> float:
    """Thickness at the quench; 3 mm where the recipe tells no blade."""
    return recipe.blade.thickness_mm if recipe.blade is not None else NORMAL_THICKNESS_MM


def half_width(recipe: Recipe) -> float:
    """Half-width of the way the temperature is held; 0 where none is told. [K]"""
    control = recipe.temperature_control
    if control is None:
        return 0.0
    if control.method is not None:
        return control_method(control.method).half_width_k
    return float(control.half_width_k or 0.0)


@dataclass(frozen=True)
class Swing:
    """A layer where the fire swings it out of its good range, beyond the end at `end_c`.

    Either swing can lie beyond either end: where no temperature is good for all, the set point itself may.
    """

    steel: str
    heat_c: float
    end_c: float
    state: SteelState

    @property
    def side(self) -> Literal["cold", "hot"]:
        """Beyond which end of its range the heat lies."""
        return "cold" if self.heat_c < self.end_c else "hot"


@dataclass(frozen=True)
class LayerStates:
    """By name: every layer that counts at the set point or the least bad temperature, and the samples its
    bands were drawn from, where they are computed; and where the fire swings them to."""

    at_heat: dict[str, SteelState]
    varied: dict[str, Varied]
    swings: tuple[Swing, ...]


def states_at(decided: HardeningDecision) -> LayerStates:
    """States of the layers at the heat and at both ends of its swing, in one solution."""
    if decided.heat_c is None:
        return LayerStates({}, {}, ())
    counted = [(place, decided.heat_c) for place, layer in enumerate(decided.layers) if layer.role != "soft"]
    outside = _swung_out(decided)
    asked = [*counted, *((place, heat_c) for place, heat_c, _ in outside)]
    found = varied_states(
        [(decided.joint.layers[place], heat_c) for place, heat_c in asked],
        [decided.joint.lines[place] for place, _ in asked],
    )
    named = [(decided.layers[place].name, *both) for (place, _), both in zip(counted, found, strict=False)]
    swings = [
        Swing(decided.layers[place].name, heat_c, end_c, state)
        for (place, heat_c, end_c), (state, _) in zip(outside, found[len(counted) :], strict=True)
    ]
    return LayerStates(
        {name: state for name, state, _ in named},
        {name: varied for name, _, varied in named if varied is not None},
        tuple(swings),
    )


def _swung_out(decided: HardeningDecision) -> list[tuple[int, float, float]]:
    """Place of a layer, where the fire swings it out of its good range, and the end it lies beyond. [C]"""
    if decided.set_point_c is None or decided.half_width_k <= 0.0:
        return []
    found = []
    for sign in (-1.0, 1.0):
        heat_c = decided.set_point_c + sign * decided.half_width_k
        for place, (layer, window) in enumerate(zip(decided.layers, decided.windows, strict=True)):
            good = window.preferred
            if layer.role != "soft" and good is not None and not good.low.c <= heat_c <= good.high.c:
                found.append((place, heat_c, min(max(heat_c, good.low.c), good.high.c)))
    return found


def dissolved(state: SteelState | None, layer: LayerSteel) -> Composition | None:
    """What is dissolved in a layer's austenite after the soak, with the residuals that its analysis does
    not tell; None where it is not computed."""
    if state is None or state.after_soak is None:
        return None
    return _with_residuals(state.after_soak.austenite, layer)


def untold_residuals(layer: LayerSteel) -> dict[str, float]:
    """What the whole analysis of a layer's steel has more than the told one, wt% by element."""
    told = layer.supplied
    whole = with_usual_residuals(told.wt, printed_residuals(told, layer.grade))
    return {e: whole[e] - told[e] for e in decision_numbers("residuals")["usual_wt"]}


def with_untold(
    wt: Mapping[str, Array], layer: LayerSteel, drawn_wt: Mapping[str, Array] | None = None
) -> dict[str, Array]:
    """Samples of a metal of this layer, each (samples,), with the residuals not told by its analysis: the
    usual ones, or what was drawn of them for every sample."""
    more: dict[str, float | Array] = {**untold_residuals(layer)}
    more |= {e: v - layer.supplied[e] for e, v in (drawn_wt or {}).items()}
    return {**wt, **{e: np.maximum(wt.get(e, 0.0 * wt["C"]) + v, 0.0) for e, v in more.items()}}


def _with_residuals(metal: Composition, layer: LayerSteel) -> Composition:
    more = {e: max(metal[e] + v, 0.0) for e, v in untold_residuals(layer).items()}
    return Composition({**metal.wt, **more})


def assumed_residuals(layer: LayerSteel) -> frozenset[str]:
    """The residual elements whose content the layer's analysis does not tell."""
    usual: Mapping[str, float] = decision_numbers("residuals")["usual_wt"]
    return frozenset(usual) - printed_residuals(layer.supplied, layer.grade)


def blade_section(recipe: Recipe, judged: HardeningDecision) -> BladeSection:
    """What is quenched; the usual section where the recipe tells no blade."""
    blade = recipe.blade
    edge_mm = blade.edge_mm if blade is not None else float(decision_numbers("edge")["least_mm"])
    angle = blade.bevel_half_angle_deg if blade is not None else None
    cycled = judged.normalising.cycled
    return BladeSection(blade_thickness_mm(recipe), edge_mm, angle, cycled)


def quench_input(
    layer: LayerSteel,
    own: LayerSamples,
    state: SteelState | None,
    varied: Varied | None,
    hrc: Estimate | None,
) -> LayerInput:
    """A layer of a plan as the rules of the quench take it."""
    found = None if is_high_alloy(layer.composition) else dissolved(state, layer)
    wt = None if found is None else {e: np.array([v]) for e, v in found.wt.items()}
    assumed = assumed_residuals(layer)
    moved = None
    if wt is not None and varied is not None:
        moved = {e: 0.0 * v + v[0] if e in assumed else v for e, v in varied.dissolved_wt.items()}
        moved = with_untold(moved, layer)
    return LayerInput(replace(own, wt=with_untold(own.wt, layer)), wt, assumed, hrc, moved)


def quench_of(
    recipe: Recipe,
    judged: HardeningDecision,
    states: Mapping[str, SteelState],
    varied: Mapping[str, Varied],
    hrc: Mapping[str, Estimate | None],
) -> BarQuench:
    """The quench of the bar, at the blade's section and at the usual ones, and in the smith's own oils.

    `hrc` holds the hardness of each layer where it is hardened through.
    """
    inputs = [
        quench_input(layer, own, states.get(layer.name), varied.get(layer.name), hrc.get(layer.name))
        for layer, own in zip(judged.layers, judged.joint.layers, strict=True)
        if layer.role != "soft"
    ]
    oils: Sequence[OwnOil] = ()
    if recipe.shop is not None:
        oils = [OwnOil(o.name, o.medium, o.nickel_ball_s) for o in recipe.shop.oils]
    section = blade_section(recipe, judged)
    return quench_plan(inputs, section, recipe.blade is not None, judged.window is not None, oils)
