"""What is read at the anvil: the plan as one heat after another, and what is done cold between them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from billet import Report, proposed_keys, proposed_of_step

NEW_WIDTH_FRAC = 0.05
"""A width that changes by less than this share is not worth a word."""
TO_A_SIZE = frozenset({"weld", "draw", "upset"})
Measure = Literal["height", "length"]
Treatment = Literal["normalise", "harden", "temper"]


@dataclass(frozen=True)
class AnvilHeat:
    """One heat of a step, or a step that is done cold (`temperature_c` is None).

    `key` names it within its bar, whatever the units. `heat` of `heats` in this step; `stop` is what is
    measured at its end and the cold size to stop at, None where nothing is forged to a size; `hot_mm` what a
    caliper shows of it in that fire, where told. `came` is the place in the recipe where its real size
    belongs, None where the step goes on after this heat, `came_mm` that size where it was told. `width_mm`
    is told where the forging is to change it. `row` is the bar after the step, `step` what the recipe writes.
    """

    key: str
    bar: str | None
    row: Any
    step: Mapping[str, Any]
    temperature_c: float | None
    heat: int
    heats: int
    minutes: float | None
    stop: tuple[Measure, float] | None
    hot_mm: float | None
    came: str | None
    came_mm: float | None
    width_mm: float | None

    @property
    def proposed(self) -> tuple[str, ...]:
        """Keys of the step that a program proposed and nobody changed or accepted."""
        return proposed_keys(self.step)

    @property
    def proposed_told(self) -> str:
        """The line that tells what of the step was proposed; empty where nothing was."""
        return proposed_of_step(self.step)


@dataclass(frozen=True)
class TreatmentHeat:
    """One heat of the treatment after forging. `minutes` at heat, None where none are told."""

    key: str
    job: Treatment
    temperature_c: float
    heat: int
    heats: int
    minutes: float | None


def forging_heats(report: Report) -> tuple[AnvilHeat, ...]:
    """Every heat and every cold step in the order of the work; bars made first come first."""
    found: list[AnvilHeat] = []
    for made in report.bars:
        steps = report.recipe["bars"][made.name].get("steps", ())
        found += _heats_of_bar(made.name, made.schedule, steps)
    return (*found, *_heats_of_bar(None, report.schedule, report.recipe.get("steps", ())))


def treatment_heats(report: Report) -> tuple[TreatmentHeat, ...]:
    """Normalising, hardening and tempering, one heat at a time; empty without a set point."""
    hardening, temper = report.hardening, report.temper
    if hardening.set_point_c is None:
        return ()
    cycles = [
        TreatmentHeat(f"normalise.{i}", "normalise", c, i, len(hardening.normalise_c), None)
        for i, c in enumerate(hardening.normalise_c, 1)
    ]
    hard = TreatmentHeat("harden.1", "harden", hardening.set_point_c, 1, 1, hardening.soak_min)
    temper_c = _temper_c(report)
    tempered = [
        TreatmentHeat(f"temper.{i}", "temper", temper_c, i, temper.cycles, temper.minutes)
        for i in range(1, temper.cycles + 1)
        if temper_c is not None
    ]
    return (*cycles, hard, *tempered)


def _temper_c(report: Report) -> float | None:
    """The temperature that the furnace programme tempers at; None where it tempers nothing. [C]"""
    runs = (made for made in report.programmes if made.job == "temper")
    return next((made.segments[0].to_c for made in runs), None)


def _heats_of_bar(
    bar: str | None, schedule: Sequence[Any], steps: Sequence[Mapping[str, Any]]
) -> Iterator[AnvilHeat]:
    for before, row, step in zip(schedule, schedule[1:], steps, strict=False):
        heats = (row.heats or 1) if row.temperature_c is not None else 1
        changed = abs(row.width_mm - before.width_mm) > NEW_WIDTH_FRAC * before.width_mm
        for heat in range(1, heats + 1):
            stop = _stop(row, heat, heats)
            done = bar is None and heat == heats and stop is not None
            yield AnvilHeat(
                key=f"{bar or ''}.{row.step}.{heat}",
                bar=bar,
                row=row,
                step=step,
                temperature_c=row.temperature_c,
                heat=heat,
                heats=heats,
                minutes=None if row.minutes is None else row.minutes / heats,
                stop=None if stop is None else stop[:2],
                hot_mm=None if stop is None or stop[2] is None else stop[1] * stop[2],
                came=f"steps[{row.step - 1}].measured.{stop[0]}_mm" if done and stop is not None else None,
                came_mm=step.get("measured", {}).get(f"{stop[0]}_mm") if done and stop is not None else None,
                width_mm=row.width_mm if row.do == "draw" and changed and heat == heats else None,
            )


def _stop(row: Any, heat: int, heats: int) -> tuple[Measure, float, float | None] | None:
    """A size only where the heat forges to one, and how many times as large it is hot: a twist, a die or a
    wedge stops at none."""
    if row.do not in TO_A_SIZE or (row.do == "weld" and not row.reduction):
        return None
    measure: Measure = "length" if row.do == "upset" else "height"
    if len(row.each_heat) == heats:
        size = row.each_heat[heat - 1]
    elif heat == heats:
        size = row
    else:
        return None
    hot = row.each_heat[heat - 1].hot if len(row.each_heat) == heats else None
    return measure, size.length_mm if measure == "length" else size.height_mm, hot
