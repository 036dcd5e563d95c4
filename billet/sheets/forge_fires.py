"""How the fires of a step are told: heats, minutes at heat, the kind of fire."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.contract.report import Report, ScheduleRow
from billet.sheets.forge_proposed import mark

FIRES: dict[str | None, str] = {"air": "open fire", "reducing": "reducing fire", "sealed": "sealed can"}


def stop_order(report: Report) -> str:
    """Where to stop forging; empty where nothing is forged."""
    if all(row.temperature_c is None for row in report.schedule):
        return ""
    stops = [row.stop_c for row in report.schedule if row.stop_c is not None]
    if stops:
        return f"Stop forging at {wording.temperature(max(stops))}"
    return "Stop as soon as the bar moves stiffly: no shared forging range is published"


def fires_line(report: Report) -> str:
    """What holds for every fire: the kind of fire where it is one, how minutes count."""
    one = common_fire(report)
    fire = f"{wording.capital(FIRES[one])} throughout. " if one else ""
    return f"{fire}Minutes count from an even glow right through."


def common_fire(report: Report) -> str | None:
    """The atmosphere of all fires, None where they differ or there are none."""
    kinds = {row.atmosphere for row in report.schedule if row.atmosphere is not None}
    return kinds.pop() if len(kinds) == 1 else None


def fire_words(report: Report, row: ScheduleRow, step: Mapping[str, Any]) -> str:
    """Heats and minutes at heat of one step: "4 heats of 4 min", "12 min, flux", marked where
    nobody decided it."""
    heats, minutes = row.heats or 1, row.minutes or 0.0
    each = wording.minutes(minutes / heats) + mark(report, row.step, "minutes")
    many = mark(report, row.step, "heats")
    words = each if heats == 1 else f"{heats} heats{many} of {each}"
    if common_fire(report) is None and row.atmosphere is not None:
        words = f"{words}, {FIRES[row.atmosphere]}"
    if row.do == "weld":
        words = f"{words}, {'flux' if step.get('flux') else 'no flux'}"
    return words
