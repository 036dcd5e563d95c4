"""Falling cycles before hardening, and how long to soak at the set point."""

from dataclasses import dataclass

from billet import wording
from billet.formulas.equilibrium import equilibrium_state
from billet.hardening.austenitising_window import AustenitisingWindow, SteelWindow
from billet.hardening.layer import LayerSteel, forms_alloy_carbide, is_high_alloy
from billet.tables.practice import decision_numbers

CARBIDE_SOAK_FROM_WT = 0.9
ROUND_TO_C = 5.0


@dataclass(frozen=True)
class Normalising:
    """Temperatures of the cycles in order; empty where they would do harm, with the reason."""

    temperatures_c: tuple[float, ...]
    because: str


def normalising(
    layers: tuple[LayerSteel, ...],
    windows: tuple[SteelWindow, ...],
    window: AustenitisingWindow | None,
    air_hardening: tuple[str, ...],
) -> Normalising:
    """Three falling heats in still air, or none and the reason. Common practice, no source."""
    limits = decision_numbers("normalise")
    reason = _against(layers, air_hardening)
    low_c, high_c = limits["subcritical_c"]
    if reason is not None:
        cycle = wording.temperature_range(low_c, high_c)
        return Normalising(
            (), f"{reason}: soften below the critical temperature instead, {cycle}, slow in the furnace"
        )
    if window is None:
        return Normalising((), "no shared window to normalise for")
    hardening = [w for layer, w in zip(layers, windows, strict=True) if layer.role != "soft"]
    acm = [w.lines.acm_c for w in hardening if w.lines is not None and w.lines.acm_c is not None]
    ae1 = [w.lines.ae1_c for w in hardening if w.lines is not None and w.lines.ae1_c is not None]
    above_top_c = window.high.c + limits["first_above_top_k"]
    dissolving_c = max((c + limits["above_acm_k"] for c in acm), default=above_top_c)
    first_c = min(max(above_top_c, dissolving_c), limits["at_most_c"])
    last_c = max(ae1, default=window.low.c - limits["last_above_ae1_k"]) + limits["last_above_ae1_k"]
    heats = {ROUND_TO_C * round(c / ROUND_TO_C) for c in (first_c, above_top_c, last_c)}
    temperatures = tuple(sorted(heats, reverse=True))
    if len(temperatures) == 2:
        temperatures = (temperatures[0], temperatures[0], temperatures[1])
    why = "falling heats, each cooled in still air to black, undo the coarse grain of the welding heats"
    if any(layer.start == "spheroidised" for layer in layers):
        why += "; soften (spheroidise) it again after them, since this plan is made for that start"
    return Normalising(tuple(float(t) for t in temperatures), why)


def _against(layers: tuple[LayerSteel, ...], air_hardening: tuple[str, ...]) -> str | None:
    most = decision_numbers("window")["no_window_cr_wt"]
    stainless = [layer.name for layer in layers if layer.role != "soft" and layer.composition["Cr"] > most]
    if stainless:
        return f"{', '.join(stainless)} is air-hardening or martensitic stainless and is not normalised"
    if air_hardening:
        names = ", ".join(air_hardening)
        return (
            f"{names} may harden in still air, at least in part, at this thickness; its grain stays as it is"
        )
    return None


def soak_minutes(layers: tuple[LayerSteel, ...], set_point_c: float) -> tuple[float, str]:
    """Minutes at heat: the longest that any hardening layer asks. Common practice, no source."""
    times = decision_numbers("soak")
    asked: list[tuple[float, str]] = []
    for layer in layers:
        if layer.role == "soft":
            continue
        if is_high_alloy(layer.composition):
            asked.append((times["stainless_min"], f"{layer.name} is rich in carbide that dissolves slowly"))
        elif forms_alloy_carbide(layer.composition) and layer.supplied["C"] >= CARBIDE_SOAK_FROM_WT:
            asked.append((times["alloyed_min"], f"{layer.name} has alloyed carbide to dissolve"))
        else:
            asked.append((times["plain_min"], f"{layer.name} needs no more than to be hot through"))
    minutes, why = max(asked)
    pinned = [
        layer.name for layer in layers if layer.role != "soft" and _pinning_nearly_gone(layer, set_point_c)
    ]
    if pinned and minutes > times["pinned_max_min"]:
        return times[
            "pinned_max_min"
        ], f"short: the carbide that holds the grain of {pinned[0]} is nearly gone"
    return minutes, why


def _pinning_nearly_gone(layer: LayerSteel, set_point_c: float) -> bool:
    """A steel bought with excess carbide that has less than 1 % of it left at this temperature."""
    if is_high_alloy(layer.composition) or layer.supplied["C"] < CARBIDE_SOAK_FROM_WT:
        return False
    least = float(decision_numbers("window")["carbide_left_frac"])
    return equilibrium_state(layer.composition, set_point_c).carbide < least
