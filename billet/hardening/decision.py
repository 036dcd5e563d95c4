"""From the layers inside the blade to one temperature, and what surrounds it."""

from dataclasses import dataclass, replace

from billet.composition import Composition
from billet.contract.report import QuenchRow
from billet.contract.values import NoneBecause, Reason, Verdict
from billet.hardening.austenite_state import SteelState, states_of_layers
from billet.hardening.austenitising_window import AustenitisingWindow, SteelWindow, WindowEnd, steel_window
from billet.hardening.cycle_layer import cycle_layers
from billet.hardening.joint_decision import JointDecision
from billet.hardening.layer import LayerSteel
from billet.hardening.normalising import Normalising, normalising
from billet.hardening.quench import LayerQuench, layer_quench, quench_row
from billet.hardening.soak import Soak, soak
from billet.recipe.model import Recipe
from billet.tables.control import control_method
from billet.tables.practice import decision_numbers

NORMAL_THICKNESS_MM = 3.0


@dataclass(frozen=True)
class HardeningDecision:
    """The heat of hardening decided for layers of a given carbon: what a plan reads of a joint decision.

    `half_width_k` is that of the fire it was decided for, 0 where none is told.
    """

    joint: JointDecision
    layers: tuple[LayerSteel, ...]
    windows: tuple[SteelWindow, ...]
    half_width_k: float
    normalising: Normalising
    soak: Soak | None

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
    windows = tuple(steel_window(joint, place) for place in range(len(layers)))
    unheated = Normalising((), (), 0.0, 0.0, Reason("normalise-no-window"))
    decided = HardeningDecision(joint, layers, windows, half_width(recipe), unheated, None)
    cycled, window, point_c = cycle_layers(layers), decided.window, decided.set_point_c
    return replace(
        decided,
        normalising=normalising(cycled, None if window is None else window.high.c, forged_mm),
        soak=None if point_c is None else soak(cycled, point_c),
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


def states_at(decided: HardeningDecision) -> dict[str, SteelState]:
    """State of every layer that counts at the set point or the least bad temperature."""
    if decided.heat_c is None:
        return {}
    told = [
        own for layer, own in zip(decided.layers, decided.joint.layers, strict=True) if layer.role != "soft"
    ]
    states = states_of_layers(tuple(told), decided.heat_c)
    return {layer.name: state for layer, state in zip(told, states, strict=True)}


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
        {
            *decision_numbers("quench")["thicknesses_mm"],
            *((thickness,) if thickness is not None else ()),
        }
    )
    asked_at: dict[float, tuple[LayerQuench, ...]] = {
        t: tuple(
            layer_quench(layer, dissolved(states.get(layer.name), layer), t, cycled) for layer in hardening
        )
        for t in wanted
    }
    return quench_row(asked_at, thickness, judged.window is not None)
