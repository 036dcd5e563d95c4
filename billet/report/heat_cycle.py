"""The heat cycle as rows of the report, and what of it the reader is warned of."""

from billet.contract.heat_cycle_rows import (
    AnnealRow,
    ColdTreatmentRow,
    GrainRow,
    ProgrammeRow,
    SegmentRow,
    SkinRow,
)
from billet.contract.report import Notice
from billet.contract.values import Finding, Level, Reason
from billet.hardening.cold_treatment import ColdTreatment
from billet.hardening.furnace_programme import Programme
from billet.hardening.heat_cycle import HeatCycle
from billet.hardening.normalising import Normalising
from billet.report.words import noticed, said
from billet.tables.heat_cycle import cycle_numbers

TOLD_FROM_SHARE = 0.25


def anneal_row(cycle: HeatCycle) -> AnnealRow:
    """How the bar is softened after forging."""
    a = cycle.anneal
    return AnnealRow(
        a.kind, a.temperature_c, a.hold_min, a.cool_k_h, a.until_c, a.needs_controller, said(a.because)
    )


def grain_row(cycle: HeatCycle) -> GrainRow:
    """Grain before and after the cycles."""
    return GrainRow(cycle.grain.after_forging, cycle.grain.after_cycles, "memory")


def skin_row(cycle: HeatCycle) -> SkinRow:
    """What the faces lost."""
    s = cycle.skin
    return SkinRow(
        max(s.forging_mm),
        s.normalising_air_mm,
        s.hardening_air_mm,
        s.normalising_reducing_mm,
        s.hardening_reducing_mm,
    )


def cold_row(cold: ColdTreatment | None) -> ColdTreatmentRow | None:
    """Deep cold where it is offered."""
    if cold is None:
        return None
    return ColdTreatmentRow(said(cold.because), cold.to_c, cold.hold_min, cold.steel, cold.retained)


def programme_rows(made: tuple[Programme, ...]) -> tuple[ProgrammeRow, ...]:
    """Every run of the furnace."""
    return tuple(
        ProgrammeRow(
            one.job,
            tuple(SegmentRow(s.rate_k_h, s.to_c, s.hold_min, said(s.note)) for s in one.segments),
        )
        for one in made
    )


def cycle_notices(normalised: Normalising, cycle: HeatCycle) -> list[Notice]:
    """Where the cycle can hurt: steel hard out of the air, deep cold, a ramp that asks for a controller."""
    found: list[Finding] = []

    def tell(code: str, level: Level, **values: str | float | None) -> None:
        found.append(Finding(Reason(code, values), level, "hardening"))

    low_hrc, high_hrc = cycle_numbers("normalising")["hard_from_air_hrc"]
    if max(normalised.hard_from_air, normalised.withheld) > TOLD_FROM_SHARE:
        tell("hard-from-air", "caution", low_hrc=low_hrc, high_hrc=high_hrc)
    if cycle.cold is not None:
        tell("deep-cold", "caution", to_c=cycle.cold.to_c)
    if cycle.anneal.needs_controller:
        tell("falling-ramp", "note", rate_k_h=cycle.anneal.cool_k_h)
    return [noticed(finding) for finding in found]
