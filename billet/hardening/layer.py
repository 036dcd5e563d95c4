"""What is known of one steel inside the blade once forging is done: the input of every decision."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet.composition import Composition
from billet.contract.report import CarbonSpread, Range, Role
from billet.contract.values import Fact, Reason
from billet.hardening.samples import LayerSamples
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start, Steel


@dataclass(frozen=True)
class LayerSteel:
    """One steel of the recipe inside the blade.

    `composition` has the alloy that is left in the layer after forging and its mean carbon there;
    `supplied` is the analysis before the fire. `carbon` is the spread of carbon inside the blade.
    """

    name: str
    grade: Steel | None
    harden_c: Range | None
    supplied: Composition
    composition: Composition
    carbon: CarbonSpread
    share: float
    role: Role
    role_because: Reason
    weight: float = 1.0
    edge_weight: float = 1.0
    start: Start = "normalised"

    @property
    def hardens(self) -> bool:
        return self.role == "hardens"


def is_austenitic(composition: Composition) -> bool:
    """Stays austenite at every temperature of the shop: 304 and its kin, nickel."""
    limits = decision_numbers("role")
    chromium, nickel = composition["Cr"], composition["Ni"]
    steel = chromium + nickel >= limits["austenitic_cr_ni_wt"] and nickel >= limits["austenitic_ni_wt"]
    return bool(steel or nickel >= limits["nickel_base_ni_wt"])


def is_high_alloy(composition: Composition) -> bool:
    """Outside every low-alloy formula: over 5 % Cr, or W + Mo + V over 2 %, or austenitic."""
    limits = decision_numbers("window")
    heavy = composition["W"] + composition["Mo"] + composition["V"]
    return (
        composition["Cr"] > limits["no_window_cr_wt"]
        or heavy > limits["no_window_w_mo_v_wt"]
        or is_austenitic(composition)
    )


def low_alloy_limits() -> dict[str, Fact]:
    """The most chromium, and tungsten, molybdenum and vanadium together, that the formulas hold to. [wt%]"""
    limits = decision_numbers("window")
    return {"most_cr_wt": limits["no_window_cr_wt"], "most_w_mo_v_wt": limits["no_window_w_mo_v_wt"]}


def forms_alloy_carbide(composition: Composition) -> bool:
    """Cr from 0.3 %, V, W or Mo enough that the steel keeps alloyed carbide in its range."""
    limits = decision_numbers("window")
    return bool(
        composition["Cr"] >= limits["cr_carbide_wt"]
        or composition["V"] >= limits["v_carbide_wt"]
        or composition["W"] + composition["Mo"] >= limits["w_mo_carbide_wt"]
    )


def role_of(layer: LayerSamples, greatest: float) -> tuple[Role, Reason]:
    """What a layer of a plan (a sample of one) does in the quench, and why. `greatest` is the most that
    any steel hardens: under a twentieth the whole blade stays soft."""
    numbers = decision_numbers("role")
    weight, composition = float(layer.weight[0]), layer.analysis()
    carbon = {"carbon_wt": composition["C"], "weight": weight}
    if layer.cladding:
        return "soft", Reason("role-cladding")
    if weight < numbers["soft_below"] or greatest < numbers["nothing_hardens_weight"]:
        if is_austenitic(composition):
            return "soft", Reason("role-austenite")
        low, high = numbers["carbon_wt"]
        return "soft", Reason("role-soft", {**carbon, "from_wt": low, "full_wt": high})
    if weight > numbers["hardens_from"]:
        return "hardens", Reason("role-hardens", carbon)
    return "partly", Reason("role-partly", carbon)


def largest(values: Mapping[str, float]) -> str:
    """The key with the largest value (first of equals)."""
    return max(values, key=lambda key: values[key])
