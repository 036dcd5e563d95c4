"""The heats of the cycle as segments that a furnace's controller takes."""

import math
from dataclasses import dataclass
from typing import Literal

from billet import written
from billet.contract.values import Fact, Medium, Reason
from billet.hardening.annealing import Anneal
from billet.hardening.cold_treatment import ColdTreatment
from billet.hardening.cycle_layer import ramp
from billet.hardening.decision import HardeningDecision
from billet.hardening.temper_types import TemperDecision
from billet.tables.heat_cycle import cycle_numbers

Job = Literal["anneal", "normalise", "harden", "temper"]
MORE_THAN_HALF = 0.5


@dataclass(frozen=True)
class Segment:
    """To `to_c` at `rate_k_h` (None: as fast as it goes), then held so many minutes."""

    rate_k_h: float | None
    to_c: float
    hold_min: float
    note: Reason


@dataclass(frozen=True)
class Programme:
    """One run of the furnace."""

    job: Job
    segments: tuple[Segment, ...]


def programmes(
    judged: HardeningDecision,
    softened: Anneal,
    cold: ColdTreatment | None,
    medium: Medium | None,
    temper: TemperDecision,
    through_min: float | None,
) -> tuple[Programme, ...]:
    """In the order of the work: normalise, anneal, harden, temper; what is not done has none."""
    jobs: tuple[tuple[Job, tuple[Segment, ...]], ...] = (
        ("normalise", _normalise(judged)),
        ("anneal", _anneal(softened)),
        ("harden", _harden(judged, medium, through_min)),
        ("temper", _temper(temper, cold) if judged.set_point_c is not None else ()),
    )
    return tuple(Programme(job, segments) for job, segments in jobs if segments)


def temper_temperature_c(temper: TemperDecision) -> float | None:
    """The wanted temperature where nothing speaks against it, else of the advised rows of the table the one
    nearest to the middle of what is advised, the cooler of two; None without any."""
    wanted = temper.wanted
    if wanted is not None and wanted.temperature_c is not None and wanted.reason is None:
        return wanted.temperature_c
    advised = [step.temperature_c for step in temper.table if step.why_not is None]
    if not advised or temper.advised_c is None:
        return None
    middle_c = 0.5 * sum(temper.advised_c)
    return min(sorted(advised), key=lambda c: abs(c - middle_c))


def _normalise(judged: HardeningDecision) -> tuple[Segment, ...]:
    rule = cycle_numbers("normalising")
    told = judged.normalising.temperatures_c
    black = Reason("kiln-out-to-black", {"black_c": float(rule["black_c"])})
    hand_warm = Reason("kiln-out-hand-warm", {"c": float(cycle_numbers("kiln")["hand_warm_c"])})
    last = hand_warm if judged.normalising.hard_from_air > MORE_THAN_HALF else black
    notes = [black] * (len(told) - 1) + [last]
    each_min = float(rule["minutes_each_min"])
    return tuple(Segment(None, c, each_min, note) for c, note in zip(told, notes, strict=False))


def _anneal(softened: Anneal) -> tuple[Segment, ...]:
    if softened.temperature_c is None or softened.hold_min is None:
        return ()
    held = Segment(None, softened.temperature_c, softened.hold_min, Reason("kiln-hold-through"))
    room_c = float(cycle_numbers("kiln")["room_c"])
    if softened.cool_k_h is None or softened.until_c is None:
        return held, Segment(None, room_c, 0.0, Reason("kiln-cool-anyhow"))
    falling = Segment(softened.cool_k_h, softened.until_c, 0.0, Reason("kiln-falling-ramp"))
    return held, falling, Segment(None, room_c, 0.0, Reason("kiln-furnace-off"))


def _harden(
    judged: HardeningDecision, medium: Medium | None, through_min: float | None
) -> tuple[Segment, ...]:
    if judged.set_point_c is None or judged.soak is None or through_min is None:
        return ()
    rule, set_c = cycle_numbers("kiln"), judged.set_point_c
    parts_min = {"soak_min": judged.soak.minutes, "through_min": through_min}
    written_min = sum(written.in_minutes(part) for part in parts_min.values())
    hold_min = float(math.ceil(written_min - 1e-6))
    out: dict[str, Fact] = {"medium": medium, **parts_min, "rounded_up": hold_min - written_min > 1e-6}
    hot = Segment(None, set_c, hold_min, Reason("kiln-out-to-quench", out))
    if ramp(set_c, rule["preheat_for_set_c"]) <= MORE_THAN_HALF:
        return (hot,)
    steps = zip(rule["preheat_c"], rule["preheat_hold_min"], strict=True)
    even = Reason("kiln-even-up")
    return (*(Segment(float(rule["preheat_k_h"]), c, minutes, even) for c, minutes in steps), hot)


def _temper(temper: TemperDecision, cold: ColdTreatment | None) -> tuple[Segment, ...]:
    at_c = temper_temperature_c(temper)
    if at_c is None:
        return ()
    room_c = float(cycle_numbers("kiln")["room_c"])
    first = Reason("kiln-to-room" if cold is None else "kiln-to-cold", {"to_c": cold.to_c if cold else None})
    found: list[Segment] = []
    for cycle in range(1, temper.cycles + 1):
        held = Reason("kiln-temper-cycle", {"cycle": cycle, "cycles": temper.cycles})
        found.append(Segment(None, at_c, temper.minutes, held))
        note = first if cycle == 1 else Reason("kiln-to-room", {"to_c": None})
        found.append(Segment(None, room_c, 0.0, note))
    return tuple(found)
