"""The furnace programme on paper, as CSV, on the command line and from the service."""

import csv
import io
from dataclasses import replace
from functools import cache

import pytest
from cycle_samples import alone, pair

from billet import build_sheet, kiln_csv, parse_recipe, plan, sheet_text
from billet.cli import main
from billet.contract.report import Report

REED_BED = "recipes/reed_bed_kitchen.toml"


@cache
def report_of(dark: str, bright: str | None = None) -> Report:
    return plan(parse_recipe(alone(dark) if bright is None else pair(dark, bright))).report


def test_every_held_segment_has_its_row_and_a_box() -> None:
    report = report_of("1084", "75Ni8")
    sheet = build_sheet(report, "kiln")
    tables = [s for s in sheet.sections if s.kind == "table"]
    assert [s.heading.split()[1].strip(",") for s in tables] == ["Normalise", "Anneal", "Harden", "Temper"]
    held = sum(s.hold_min > 0.0 for made in report.programmes for s in made.segments)
    assert sum(len(s.rows) for s in tables) == held
    assert sheet.statement.startswith("Harden at 815")


def test_a_falling_ramp_tells_its_rate_and_what_to_do_without_it() -> None:
    text = " ".join(sheet_text(build_sheet(report_of("AISI-D2"), "kiln")).split())
    assert "20 K (36 °F) an hour" in text
    assert "puts heat back" in text and "Without one" in text
    assert "Normalise" not in text.split("Anneal")[0]
    assert "insulated gloves" in text


def test_csv_holds_every_segment_in_numbers() -> None:
    report = report_of("AISI-D2")
    rows = list(csv.DictReader(io.StringIO(kiln_csv(report))))
    assert len(rows) == sum(len(made.segments) for made in report.programmes)
    falling = next(row for row in rows if row["rate_k_h"] == "20")
    assert falling["job"] == "anneal" and float(falling["to_c"]) == 540.0
    hardening = [row for row in rows if row["job"] == "harden"][-1]
    assert float(hardening["to_c"]) == report.hardening.set_point_c
    assert all(float(row["hold_min"]) >= 0.0 for row in rows)


def test_without_a_set_point_nothing_is_hardened_or_tempered() -> None:
    report = report_of("1084", "75Ni8")
    hardening = replace(report.hardening, set_point_c=None, soak_min=None)
    bare = replace(report, hardening=hardening)
    assert "No hardening heat" in build_sheet(bare, "kiln").statement
    jobs = {row["job"] for row in csv.DictReader(io.StringIO(kiln_csv(bare)))}
    assert jobs == {"normalise", "anneal"}


def test_the_command_prints_it_and_refuses_csv_of_another_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", REED_BED, "--kind", "kiln", "--csv"]) == 0
    assert capsys.readouterr().out.startswith("job,segment,rate_k_h,to_c,hold_min,note\n")
    assert main(["sheet", REED_BED, "--kind", "forge", "--csv"]) == 2
    assert "--kind kiln" in capsys.readouterr().err
