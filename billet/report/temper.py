"""The temper as a row of the report: facts as decided, reasons in words, the sources of the figures."""

from billet.contract.report import TemperRow, TemperSteel, TemperStep, TemperWanted
from billet.contract.values import Reason
from billet.hardening.temper_types import TemperDecision, TemperedSteel, WantedTemper
from billet.report.citations import SourceUse
from billet.report.words import said


def temper_row(decided: TemperDecision) -> TemperRow:
    """Table, wanted hardness, what governs and why."""
    steps = tuple(
        TemperStep(
            step.temperature_c,
            step.minutes,
            step.why_not is None,
            None if step.why_not is None else said(step.why_not),
            _per_steel(step.per_steel),
        )
        for step in decided.table
    )
    begin = [reason for reason in decided.reasons if reason.code == "temper-begin"]
    notes = tuple(said(reason) for reason in decided.reasons if reason.code != "temper-begin")
    return TemperRow(
        wanted=None if decided.wanted is None else _wanted(decided.wanted),
        table=steps,
        governs=decided.governs,
        not_told=decided.not_told,
        advised_c=decided.advised_c,
        brittle_c=decided.brittle_c,
        cycles=decided.cycles,
        minutes=decided.minutes,
        begin=said(begin[0]) if begin else None,
        notes=notes,
        because="; ".join([*(said(reason) for reason in begin), *notes]),
    )


def temper_sources(decided: TemperDecision) -> tuple[SourceUse, ...]:
    """The model and every printed curve behind the figures, each with what it was used for."""
    if not decided.table:
        return ()
    found = [
        SourceUse("grange-hribal-porter-1977", "tempered martensite by carbon and alloy, charts", True),
        SourceUse("hollomon-jaffe-1945", "time against temperature in tempering"),
    ]
    for steel, curves in decided.curves.items():
        for curve in curves:
            purpose = f"curve of {curve.name} for the temper of {steel}"
            found.append(SourceUse(curve.source, purpose, curve.seen == "memory"))
    return tuple(found)


def _wanted(wanted: WantedTemper) -> TemperWanted:
    reason: Reason | None = wanted.reason
    return TemperWanted(
        wanted.hrc,
        wanted.temperature_c,
        wanted.minutes,
        wanted.temperature_c is not None and reason is None,
        None if reason is None else said(reason),
        _per_steel(wanted.per_steel),
    )


def _per_steel(rows: tuple[TemperedSteel, ...]) -> tuple[TemperSteel, ...]:
    return tuple(TemperSteel(row.steel, row.low, row.value, row.high) for row in rows)
