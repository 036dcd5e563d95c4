"""From the layers inside the blade to one temperature, one medium, one temper."""

from dataclasses import dataclass

from billet.composition import Composition
from billet.contract.report import LeastBad, QuenchRow
from billet.hardening.austenite_state import SteelState, austenitised_state
from billet.hardening.austenitising_window import AustenitisingWindow, SteelWindow, steel_window
from billet.hardening.cycle_layer import cycle_layers
from billet.hardening.layer import LayerSteel
from billet.hardening.normalising import Normalising, normalising
from billet.hardening.quench import LayerQuench, layer_quench, quench_row
from billet.hardening.set_point import SetPoint, least_bad, set_point
from billet.hardening.shared_window import SharedWindow, shared_window
from billet.hardening.soak import Soak, soak
from billet.recipe.model import Recipe
from billet.tables.practice import decision_numbers

NORMAL_THICKNESS_MM = 3.0


@dataclass(frozen=True)
class HardeningDecision:
    """The heat of hardening decided for layers of a given carbon."""

    layers: tuple[LayerSteel, ...]
    windows: tuple[SteelWindow, ...]
    agreement: SharedWindow
    set_point: SetPoint | None
    least_bad: LeastBad | None
    normalising: Normalising
    soak: Soak | None

    @property
    def heat_c(self) -> float | None:
        """The temperature at which the layers are told: the set point, or the least bad one."""
        if self.set_point is not None:
            return self.set_point.c
        return self.least_bad.c if self.least_bad is not None else None

    @property
    def window(self) -> AustenitisingWindow | None:
        return self.agreement.window


def judge(recipe: Recipe, layers: tuple[LayerSteel, ...], forged_mm: float) -> HardeningDecision:
    """Windows, their agreement, the set point in it, and the heats around it.

    `forged_mm` is the thickness of the bar as it comes from the fire, which is what is normalised.
    """
    windows = tuple(steel_window(layer) for layer in layers)
    agreement = shared_window(layers, windows)
    half_width_k = half_width(recipe)
    window = agreement.window
    point = None if window is None else set_point(window, half_width_k)
    fallback = least_bad(layers, windows, agreement, half_width_k)
    cycled = cycle_layers(layers)
    heats = normalising(cycled, None if window is None else window.high.c, forged_mm)
    held = None if point is None else soak(cycled, point.c)
    return HardeningDecision(layers, windows, agreement, point, fallback, heats, held)


def blade_thickness_mm(recipe: Recipe) -> float:
    """Thickness at the quench; 3 mm where the recipe tells no blade."""
    return recipe.blade.thickness_mm if recipe.blade is not None else NORMAL_THICKNESS_MM


def half_width(recipe: Recipe) -> float:
    """Half-width of the way the temperature is held; 0 where none is told. [K]"""
    from billet.tables.control import control_method

    control = recipe.control
    if control is None:
        return 0.0
    if control.method is not None:
        return control_method(control.method).half_width_k
    return float(control.half_width_k or 0.0)


def states_at(recipe: Recipe, judged: HardeningDecision) -> dict[str, SteelState]:
    """State of every hardening layer at the set point or the least bad temperature."""
    heat_c = judged.heat_c
    if heat_c is None:
        return {}
    start = recipe.blade.start if recipe.blade is not None else "normalised"
    return {
        layer.name: austenitised_state(layer.composition, heat_c, start)
        for layer in judged.layers
        if layer.role != "soft"
    }


def dissolved(state: SteelState | None, layer: LayerSteel) -> Composition | None:
    """What is dissolved in a layer's austenite after the soak; None where it is not computed."""
    if state is None or state.after_soak is None:
        return None
    return state.after_soak.austenite


def quench_of(recipe: Recipe, judged: HardeningDecision, states: dict[str, SteelState]) -> QuenchRow:
    """The medium for the bar, at the blade's thickness and at the usual ones."""
    hardening = [layer for layer in judged.layers if layer.role != "soft"]
    cycled = judged.normalising.cycled
    thickness = recipe.blade.thickness_mm if recipe.blade is not None else None
    wanted = sorted(
        {*decision_numbers("quench")["thicknesses_mm"], *((thickness,) if thickness is not None else ())}
    )
    asked_at: dict[float, tuple[LayerQuench, ...]] = {
        t: tuple(
            layer_quench(layer, dissolved(states.get(layer.name), layer), t, cycled) for layer in hardening
        )
        for t in wanted
    }
    return quench_row(asked_at, thickness, judged.window is not None)
