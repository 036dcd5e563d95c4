"""Fills in names that the library does not offer yet, so that the service can be tried without them."""

from typing import Any

import billet
from billet.workflow import report


def offer(name: str, value: Any) -> None:
    try:
        getattr(billet, name)
    except (AttributeError, ImportError):
        setattr(billet, name, value)


def plan(checked: Any) -> report.Report:
    """A report in the right shape with figures of no meaning."""
    lost = report.Lost(0.0, 0.0, 0.0, 0.0, 0.0)
    names = list(checked.steels)
    share = {name: 1.0 / len(names) for name in names}
    row = report.ScheduleRow(
        step=0, do="stack", note=None, temperature_c=None, minutes=None, heats=None, fire_min=None,
        atmosphere=None, height_mm=30.0, width_mm=40.0, length_mm=150.0, each_heat=(), loose=True, pieces=15,
        piece_mm=None, cut_marks_mm=(), mass_kg=1.4, lost_kg=lost, added_kg=0.0, yield_=1.0, layers_laid=15,
        layers_visible=15, layer_um=report.LayerSize(2000.0, 1500.0, 3000.0), skin_um=(3000.0, 3000.0),
        mass_share=share, carbon_wt=dict.fromkeys(names, 0.8), stop_c=None, reduction=None,
        arithmetic="15 plates", layers=tuple((names[i % len(names)], 2.0) for i in range(15)),
    )  # fmt: skip
    spread = report.CarbonSpread(0.8, 0.8, 0.8, 0.8, 0.8, 0.8)
    steel_rows = tuple(
        report.SteelRow(n, "1084", None, (), "nominal", share[n], spread, {"C": 0.8}, None, None, None)
        for n in names
    )
    none = report.HardeningRow(
        verdict="none", none_because="unknown", window_c=None, set_point_c=None, gap_k=None, low_set_by=None,
        high_set_by=None, because="nothing was computed", least_bad=None, could_change=(), normalise_c=(),
        normalise_because="", soak_min=None, soak_because=None, per_steel=(), control=None, methods=(),
    )  # fmt: skip
    return report.Report(
        format=1, title=checked.title, recipe=checked.given, recipe_id=checked.recipe_id,
        defaults_used=checked.defaults_used, made_with=report.MadeWith("0", "0"), schedule=(row,),
        steels=steel_rows,
        carbon=report.CarbonRow(0.8, report.CarbonLost(0.0, 0.0), report.Difference(0.0, 0.0), (), ""),
        pattern=report.PatternRow({}, False, None, ""), blend={"C": 0.8}, blade=None, hardening=none,
        quench=report.QuenchRow("none", None, None, (), (), (), ()),
        temper=report.TemperRow((), None, 2, 120.0, ""), notices=(), sources=(),
    )  # fmt: skip


def build_sheet(planned: Any, kind: str, units: str) -> Any:
    from billet.sheets.model import BOX, Section, Sheet

    part = Section("A heading", "checks", (), ((BOX, f"in {units}"),))
    return Sheet(
        planned.title, kind, "Harden at 805 °C / 1481 °F", (("Recipe", planned.recipe_id),), (part,)
    )


def offer_all() -> None:
    offer("plan", plan)
    offer("state_of_steel", lambda analysis, temperature_c, start: {"temperature_c": temperature_c})
    offer("build_sheet", build_sheet)
    offer("sheet_text", str)
