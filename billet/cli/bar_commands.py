"""The commands that plan a bar: plan, sheet, study."""

import argparse
from typing import TYPE_CHECKING, Any

from billet.cli.reading import read_recipe, read_shop, refusal
from billet.cli.writing import Answer, as_csv, as_json, page_width

if TYPE_CHECKING:
    from billet.contract.study import Study

ROW_KEYS_LEFT_OUT = ("each_heat", "layers", "arithmetic", "layer_sum")


def _recipe(chosen: argparse.Namespace) -> dict[str, Any]:
    """The recipe, answered for the fire and oils of --shop where it is given."""
    recipe = read_recipe(chosen.recipe)
    if chosen.shop is None:
        return recipe
    from billet.own_shop import with_own_shop

    return with_own_shop(recipe, read_shop(chosen.shop))


def plan(chosen: argparse.Namespace) -> Answer:
    """The report: text, JSON, or its schedule as CSV; or the count of bars."""
    _check_units(chosen)
    if chosen.bars is not None:
        return _bars(chosen)
    from billet import plan as planned_from

    planned = planned_from(_recipe(chosen))
    if chosen.json:
        return as_json(planned.to_dict())
    if chosen.csv:
        return as_csv([_schedule_row(row) for row in planned.to_dict()["schedule"]])
    from billet.sheets.layout import page
    from billet.text.report import report_text

    with page(page_width()):
        return Answer(report_text(planned.report, chosen.units or "mm"))


def _schedule_row(row: dict[str, Any]) -> dict[str, Any]:
    """What fits a line: sizes of each heat and the list of layers stay with the JSON."""
    return {key: value for key, value in row.items() if key not in ROW_KEYS_LEFT_OUT}


def _bars(chosen: argparse.Namespace) -> Answer:
    if chosen.csv:
        raise refusal("--bars gives one sentence or JSON, no table; leave out --csv")
    from billet import uncertainty

    found = uncertainty(_recipe(chosen), chosen.bars)
    return as_json(found.to_dict()) if chosen.json else Answer(found.sentence)


def sheet(chosen: argparse.Namespace) -> Answer:
    """One of the sheets as text."""
    from billet import build_sheet, kiln_csv, sheet_text
    from billet import plan as planned_from
    from billet.sheets.layout import page

    if chosen.csv and chosen.kind != "kiln":
        raise refusal("--csv goes with --kind kiln only")
    report = planned_from(_recipe(chosen)).report
    if chosen.csv:
        return Answer(kiln_csv(report))
    with page(page_width()):
        return Answer(sheet_text(build_sheet(report, chosen.kind, chosen.units or "mm")))


def study(chosen: argparse.Namespace) -> Answer:
    """The study: text, JSON, or the curves over the hardening heat as CSV."""
    _check_units(chosen)
    from billet import study as study_from

    found = study_from(_recipe(chosen))
    if chosen.json:
        return as_json(found.to_dict())
    if chosen.csv:
        return as_csv(_heat_rows(found))
    from billet.sheets.layout import page
    from billet.text.study import study_text

    with page(page_width()):
        return Answer(study_text(found, chosen.units or "mm"))


def _heat_rows(found: "Study") -> list[dict[str, Any]]:
    from billet.contract.report import to_plain

    return [{"steel": c.steel, **to_plain(point)} for c in found.hardness for point in c.points]


def _check_units(chosen: argparse.Namespace) -> None:
    """--units is for text alone: what a program reads has the units in the names of its keys."""
    if chosen.units is None:
        return
    for option, given in (("--json", chosen.json), ("--csv", chosen.csv)):
        if given:
            raise refusal(f"{option} is always in mm and C, as its keys say; leave out --units")
    if getattr(chosen, "bars", None) is not None:
        raise refusal("--bars tells no length; leave out --units")
