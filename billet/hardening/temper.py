"""Tempered hardness per layer from published curves, and which layer governs."""

from bisect import bisect_right

from billet import wording
from billet.contract.report import Estimate, TemperRow, TemperSteel, TemperStep
from billet.hardening.layer import LayerSteel
from billet.tables.practice import decision_numbers
from billet.tables.tempering import TemperCurve, curve_for

GOVERNING_C = 200.0


def temper_row(layers: tuple[LayerSteel, ...], quenched_hrc: dict[str, Estimate | None]) -> TemperRow:
    """Temper table of the layers that were hardened; a steel without any curve is left out and named.

    The published curve is moved by half of how far the layer's as-quenched hardness lies off the
    curve's own, fading to nothing at 400 C (common practice, no source), and told as +-2 HRC. No temper
    makes a layer harder than it came from the quench.
    """
    rules = decision_numbers("temper")
    curves = {
        layer.name: curve
        for layer in layers
        if layer.role != "soft"
        and layer.grade is not None
        and (curve := curve_for(layer.grade.id)) is not None
    }
    steps = tuple(_step(t, curves, quenched_hrc) for t in rules["shown_c"])
    steps = tuple(s for s in steps if s.per_steel)
    missing = [layer.name for layer in layers if layer.role != "soft" and layer.name not in curves]
    return TemperRow(
        steps, _governs(steps), int(rules["cycles"]), float(rules["minutes"]), _because(curves, missing)
    )


def _because(curves: dict[str, TemperCurve], missing: list[str]) -> str:
    if not curves and not missing:
        return "nothing is hardened, so there is nothing to temper"
    parts = ["begin below 60 \u00b0C and within the hour, two cycles of two hours"]
    borrowed = [f"{name} from {c.relative_of}" for name, c in curves.items() if c.relative_of is not None]
    if borrowed:
        parts.append(f"curves borrowed from the nearest relative: {', '.join(borrowed)}")
    if missing:
        parts.append(f"no published curve for {', '.join(missing)}: temper a test piece and measure")
    return "; ".join(parts)


def _step(
    temperature_c: float, curves: dict[str, TemperCurve], quenched_hrc: dict[str, Estimate | None]
) -> TemperStep:
    rules = decision_numbers("temper")
    rows = []
    for name, curve in curves.items():
        hrc = _tempered(temperature_c, curve, quenched_hrc.get(name))
        if hrc is not None:
            rows.append(TemperSteel(name, hrc - rules["band_hrc"], hrc + rules["band_hrc"]))
    advised = rules["advised_low_c"] <= temperature_c <= rules["advised_high_c"]
    low, high = rules["brittle_low_c"], rules["brittle_high_c"]
    why = None
    if not advised:
        why = f"from {wording.temperature_range(low, high)} tempered martensite turns brittle"
    return TemperStep(temperature_c, advised, why, tuple(rows))


def _tempered(temperature_c: float, curve: TemperCurve, quenched: Estimate | None) -> float | None:
    on_curve = _interpolated(temperature_c, curve)
    if on_curve is None or quenched is None:
        return on_curve
    if curve.as_quenched_hrc is None:
        return min(on_curve, quenched.value)
    rules = decision_numbers("temper")
    full_c, none_c = rules["full_shift_to_c"], rules["no_shift_from_c"]
    fade = min(1.0, max(0.0, (none_c - temperature_c) / (none_c - full_c)))
    shift = rules["half_of_difference"] * (quenched.value - curve.as_quenched_hrc) * fade
    return float(min(on_curve + shift, quenched.value))


def _interpolated(temperature_c: float, curve: TemperCurve) -> float | None:
    """Hardness on the printed curve; None outside its printed temperatures."""
    temperatures = [t for t, _ in curve.points]
    if not temperatures or not temperatures[0] <= temperature_c <= temperatures[-1]:
        return None
    i = min(bisect_right(temperatures, temperature_c), len(temperatures) - 1)
    if i == 0:
        return curve.points[0][1]
    (t0, h0), (t1, h1) = curve.points[i - 1], curve.points[i]
    return h0 + (temperature_c - t0) / (t1 - t0) * (h1 - h0)


def _governs(steps: tuple[TemperStep, ...]) -> str | None:
    """The softest hardening layer at the advised step nearest 200 C where every layer is told."""
    advised = [s for s in steps if s.advised]
    if not advised:
        return None
    most = max(len(s.per_steel) for s in advised)
    nearest = min(
        (s for s in advised if len(s.per_steel) == most), key=lambda s: abs(s.temperature_c - GOVERNING_C)
    )
    return min(nearest.per_steel, key=lambda row: row.low).steel
