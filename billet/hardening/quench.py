"""The class of quench medium that hardens every layer, and what each layer would pay for it."""

from dataclasses import dataclass, replace

from billet import wording
from billet.composition import Composition
from billet.contract.report import Compromise, Medium, QuenchRow, QuenchSteel, QuenchVerdict, ThicknessRow
from billet.hardening.critical_rate import Hardenability, hardenability
from billet.hardening.layer import LayerSteel, is_high_alloy, is_plain
from billet.tables.media import medium
from billet.tables.plate_cooling import centre_rate_k_s, hardens_to_mm
from billet.tables.practice import decision_numbers

MEDIA_BY_COOLING: tuple[Medium, ...] = (
    "air",
    "plates",
    "slow oil",
    "medium oil",
    "fast oil",
    "water",
    "brine",
)
OILS_AND_MORE: tuple[Medium, ...] = (*MEDIA_BY_COOLING, "hot oil")
STILL_AIR_RATE_FACTOR = 2.0
DEEPEST_TOLD_MM = 30.0


@dataclass(frozen=True)
class LayerQuench:
    """What one hardening layer asks at one thickness."""

    layer: LayerSteel
    hardenability: Hardenability | None
    slowest: Medium
    fastest: Medium
    through_hardens_to_mm: float | None
    because: str
    by_rate: Medium | None = None


def severity(name: Medium) -> int:
    """Place on the ladder from still air to brine."""
    return MEDIA_BY_COOLING.index(name)


def layer_quench(
    layer: LayerSteel, dissolved: Composition | None, thickness_mm: float, cycled: bool
) -> LayerQuench:
    """Slowest medium that hardens this layer at this thickness, and the fastest it stands."""
    if is_high_alloy(layer.composition):
        fastest = _fastest(layer, dissolved, thickness_mm)
        slowest = _slowest_by_publication(layer)
        why = "outside the low-alloy formulas: the published medium of the grade, no rate is computed"
        return LayerQuench(layer, None, slowest, fastest, None, why)
    if dissolved is None:
        why = "common practice for this kind of steel: without a temperature no rate is computed"
        fastest = _fastest(layer, None, thickness_mm)
        slowest = class_by_practice(layer, thickness_mm) or fastest
        return LayerQuench(layer, None, slowest, fastest, None, why)
    found = hardenability(dissolved, cycled)
    fastest = _fastest(layer, dissolved, thickness_mm)
    if hardens_in_still_air(found, thickness_mm) and severity(fastest) > severity("medium oil"):
        fastest = "medium oil"
    rate = found.critical_rate_k_s.value
    by_rate = next((m for m in MEDIA_BY_COOLING if centre_rate_k_s(m, thickness_mm).value >= rate), None)
    practice = class_by_practice(layer, thickness_mm)
    slowest, short = _choose(by_rate, practice, dissolved, rate)
    why = f"critical rate about {wording.rate(rate)} on what is dissolved"
    if found.outside:
        held = " and ".join(found.outside)
        why = f"{why} ({held} beyond the factors of ASTM A255, held at their end)"
    if practice is not None and (by_rate is None or severity(practice) > severity(by_rate)):
        why = f"{why}; common practice takes {practice} for this kind of steel"
    return LayerQuench(layer, found, slowest, fastest, short, why, by_rate)


def _choose(
    by_rate: Medium | None, practice: Medium | None, dissolved: Composition, rate_k_s: float
) -> tuple[Medium, float | None]:
    needed: Medium = by_rate or "brine"
    if practice is not None and severity(practice) > severity(needed):
        needed = practice
    if (
        severity(needed) > severity("fast oil")
        and dissolved["C"] >= decision_numbers("quench")["no_water_from_c_wt"]
    ):
        return "fast oil", hardens_to_mm("fast oil", rate_k_s)
    return needed, None


def class_by_practice(layer: LayerSteel, thickness_mm: float) -> Medium | None:
    """The class that the trade takes for a kind of steel, whatever the rate says. No source."""
    alloy = layer.composition
    if is_plain(alloy):
        return (
            "fast oil" if thickness_mm > decision_numbers("quench")["plain_fast_above_mm"] else "medium oil"
        )
    if _deep_hardening(alloy):
        return "slow oil"
    return "medium oil"


def _deep_hardening(alloy: Composition) -> bool:
    """The manganese and nickel-chromium tool steels (O1, 90MnCrV8, L6 kinds)."""
    limits = decision_numbers("quench")
    manganese = alloy["Mn"] >= 1.0 and alloy["C"] >= limits["fastest_medium_from_c_wt"]
    nickel = (
        alloy["Ni"] >= limits["fastest_medium_ni_wt"] and alloy["Cr"] >= limits["fastest_medium_ni_cr_wt"]
    )
    return bool(manganese or nickel)


def _fastest(layer: LayerSteel, dissolved: Composition | None, thickness_mm: float) -> Medium:
    """The fastest medium that a layer stands without likely cracking. Common practice, no source."""
    limits = decision_numbers("quench")
    alloy = layer.composition
    if is_high_alloy(alloy):
        return "medium oil"
    carbon = dissolved["C"] if dissolved is not None else alloy["C"]
    if _deep_hardening(alloy) and thickness_mm > limits["thick_mm"]:
        return "slow oil"
    rich = (
        alloy["Mn"] >= limits["fastest_medium_mn_wt"]
        or alloy["Cr"] >= limits["fastest_medium_cr_wt"]
        or _deep_hardening(alloy)
    )
    if carbon >= limits["fastest_medium_from_c_wt"] and rich:
        return "medium oil"
    return "fast oil" if carbon >= limits["no_water_from_c_wt"] else "water"


def _slowest_by_publication(layer: LayerSteel) -> Medium:
    row = layer.grade.working if layer.grade is not None else None
    text = row.medium.lower() if row is not None else ""
    first = text.split(";")[0].strip()
    return "air" if first.startswith("air") else "slow oil"


def _cracks(fastest: Medium, needed: Medium) -> str:
    """How sure the harm is: two classes too fast is no compromise to hope on."""
    return "is likely to" if severity(needed) - severity(fastest) > 1 else "may"


def choose_medium(asked: tuple[LayerQuench, ...]) -> tuple[QuenchVerdict, Medium, tuple[Compromise, ...]]:
    """The slowest medium that hardens every layer; who pays where one stands less than that."""
    needed = max((a.slowest for a in asked), key=severity)
    pays = [
        Compromise(
            a.layer.name,
            f"{needed} is faster than it likes ({a.fastest} at most by common practice): "
            f"it {_cracks(a.fastest, needed)} crack or warp; straighten warm and temper at once",
        )
        for a in asked
        if severity(a.fastest) < severity(needed)
    ]
    pays += [
        Compromise(
            a.layer.name,
            f"hardens through only to {wording.length_both(a.through_hardens_to_mm)} with {needed}: "
            "the middle of a thicker section may hold fine pearlite",
        )
        for a in asked
        if a.through_hardens_to_mm is not None
    ]
    return ("compromise" if pays else "shared"), needed, tuple(pays)


def quench_row(
    asked_at: dict[float, tuple[LayerQuench, ...]], thickness_mm: float | None, has_window: bool
) -> QuenchRow:
    """The quench of the bar. `asked_at` holds what the hardening layers ask at each thickness in mm."""
    thicknesses = sorted(asked_at)
    main = thickness_mm if thickness_mm is not None else thicknesses[len(thicknesses) // 2 - 1]
    asked = asked_at[main]
    per_steel = tuple(_steel_row(a) for a in asked)
    if not has_window or not asked:
        why = (
            "no shared temperature, so no shared medium: each steel's own is told instead"
            if asked
            else "nothing hardens, so there is nothing to quench"
        )
        by_none = tuple(ThicknessRow(t, "none", None) for t in thicknesses)
        return QuenchRow("none", None, None, by_none, per_steel, (), (why,))
    verdict, name, pays = choose_medium(asked)
    by_thickness = []
    for t in thicknesses:
        t_verdict, t_name, _ = choose_medium(asked_at[t])
        by_thickness.append(ThicknessRow(t, t_verdict, t_name))
    if thickness_mm is None:
        pays = tuple(replace(p, how=f"at {wording.length_both(main)}: {p.how}") for p in pays)
    return QuenchRow(
        verdict, name, medium(name).bath_c, tuple(by_thickness), per_steel, pays, _reasons(asked, name)
    )


def _reasons(asked: tuple[LayerQuench, ...], name: Medium) -> tuple[str, ...]:
    hardest = max(asked, key=lambda a: severity(a.slowest))
    reasons = [f"{hardest.layer.name} asks for {hardest.slowest}: {hardest.because}"]
    reasons += _way_out(asked, name)
    if severity(name) <= severity("fast oil"):
        reasons.append("water and brine are too severe for a blade of this carbon")
    reasons.append(
        "the classes of oil and their cooling stand on remembered bands (\u00b140 %): "
        "prove it with a test piece in your own oil"
    )
    return tuple(reasons)


def _way_out(asked: tuple[LayerQuench, ...], name: Medium) -> list[str]:
    """A slower medium that the computed rates allow and that spares the layer which pays."""
    if not any(severity(a.fastest) < severity(name) for a in asked):
        return []
    if any(a.by_rate is None for a in asked):
        return []
    enough = max((a.by_rate for a in asked if a.by_rate is not None), key=severity)
    spared = [a.layer.name for a in asked if severity(enough) <= severity(a.fastest) < severity(name)]
    if severity(enough) >= severity(name) or not spared:
        return []
    return [
        f"by the computed rates {enough} would harden every layer at this thickness and spare "
        f"{', '.join(spared)}; common practice does not trust it for plain steel: try it on a coupon first"
    ]


def _steel_row(asked: LayerQuench) -> QuenchSteel:
    found = asked.hardenability
    if found is None:
        return QuenchSteel(asked.layer.name, asked.slowest, asked.fastest, {}, None, None, asked.because)
    rate = found.critical_rate_k_s.value
    depths = {name: min(hardens_to_mm(name, rate), DEEPEST_TOLD_MM) for name in OILS_AND_MORE}
    return QuenchSteel(
        asked.layer.name,
        asked.slowest,
        asked.fastest,
        {k: v for k, v in depths.items() if v > 0.0},
        found.critical_rate_k_s,
        found.ideal_diameter_mm,
        asked.because,
    )


def hardens_in_still_air(found: Hardenability | None, thickness_mm: float) -> bool:
    """Critical rate under twice the still-air rate: normalising would harden it."""
    if found is None:
        return True
    return found.critical_rate_k_s.value < STILL_AIR_RATE_FACTOR * centre_rate_k_s("air", thickness_mm).value
