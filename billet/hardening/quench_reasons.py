"""Why a layer asks for a bath, in codes and values."""

import math
from collections.abc import Mapping

from billet.contract.values import Fact, Reason
from billet.hardening.critical_rate import CARRIED_ON, NO_FACTOR
from billet.hardening.quench_grades import GOOD, GRADES, BladeSection, LayerAsk
from billet.tables.practice import decision_numbers


def asks_because(ask: LayerAsk, grades: Mapping[str, str], medium: str) -> tuple[Reason, ...]:
    """The rate asked for, what it stands on, and where common practice is faster than the computed rates.

    `grades` of every bath by the layer alone.
    """
    rates = ask.rates
    asked, value = float(rates.asked[0]), float(rates.value[0])
    told: dict[str, Fact] = {
        "steel": ask.name,
        "rate_k_s": value,
        "asked_k_s": asked,
        "alloy_factor": float(rates.alloy_factor[0]),
    }
    reasons = [Reason("quench-rate-estimated" if rates.estimated else "quench-rate", told)]
    held = tuple(e for e in rates.outside if e not in CARRIED_ON and e not in NO_FACTOR)
    for code, elements in (
        ("quench-held", held),
        ("quench-carried", tuple(e for e in rates.outside if e in CARRIED_ON)),
        ("quench-no-factor", tuple(e for e in rates.outside if e in NO_FACTOR)),
    ):
        reasons += [Reason(code, {"elements": elements})] if elements else []
    slower = slower_by_rate(grades, medium)
    if slower is not None:
        reasons.append(Reason("quench-practice", {"steel": ask.name, "medium": medium, "slower": slower}))
    if rates.estimated and ask.published:
        reasons.append(Reason("quench-published", {"steel": ask.name, "media": ask.published}))
    return tuple(reasons)


def slower_by_rate(grades: Mapping[str, str], medium: str) -> str | None:
    """The slowest oil that the nominal film hardens a layer of these grades through in, where it is slower
    than asked."""
    for name in ("slow oil", "medium oil"):
        if name == medium or medium in ("air", "slow oil"):
            return None
        if grades[name] == GRADES[GOOD]:
            return name
    return None


def bevel_mm(through_mm: float, section: BladeSection) -> float | None:
    """How far behind the edge a bevel is as thick as this; None where no angle is told or it is thinner."""
    angle = section.bevel_half_angle_deg
    if angle is None or through_mm < section.thinnest_mm:
        return None
    return 0.5 * (through_mm - section.thinnest_mm) / math.tan(math.radians(angle))


def spine_reasons(medium: str, section: BladeSection) -> list[Reason]:
    """What is to be said of a bath without oil."""
    if medium not in ("plates", "air"):
        return []
    values = {
        "thickness_mm": section.thickness_mm,
        "plates_to_mm": decision_numbers("quench")["plates_to_mm"],
    }
    return [Reason("quench-plates" if medium == "plates" else "quench-air", values)]
