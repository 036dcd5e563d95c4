"""The command `billet`: plan, sheet, steels, state. Exit 0 with an answer, 2 for what is refused."""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NoReturn

from billet.errors import BilletError, Fault, RecipeError

LARGEST_FILE = 1_000_000
MOST_CARBON_WT = 2.5
UNITS = ("mm", "inch")
KINDS = ("forge", "harden", "kiln", "buyer", "label")
STARTS = ("normalised", "spheroidised")


class _Parser(argparse.ArgumentParser):
    """Says what is wrong in one line and exits with 2."""

    def error(self, message: str) -> NoReturn:
        raise RecipeError([Fault("", message)])


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit code: 0, or 2 with one readable message on standard error."""
    try:
        chosen = _parser().parse_args(arguments)
        text = str(chosen.run(chosen))
    except BilletError as error:
        sys.stderr.write(f"billet: {error}\n")
        return 2
    except OSError as error:
        sys.stderr.write(f"billet: cannot read {error.filename}: {error.strerror}\n")
        return 2
    try:
        sys.stdout.write(text if text.endswith("\n") else text + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        sys.stderr.close()
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="billet", description="Plan a forge-welded bar of two or more steels.")
    commands = parser.add_subparsers(dest="command", required=True, parser_class=_Parser)
    plan = commands.add_parser("plan", help="hardening temperature, oil, carbon and schedule of a recipe")
    plan.add_argument("recipe", metavar="RECIPE.toml", help="a recipe file, or - for standard input")
    plan.add_argument("--json", action="store_true", help="the whole report as JSON and nothing else")
    plan.add_argument("--units", choices=UNITS, default="mm", help="lengths in mm or in inches")
    plan.add_argument("--bars", type=int, metavar="N", help="only: how many of 100 bars come out, from N")
    plan.set_defaults(run=_plan)
    sheet = commands.add_parser("sheet", help="one of the sheets as text")
    sheet.add_argument("recipe", metavar="RECIPE.toml", help="a recipe file, or - for standard input")
    sheet.add_argument("--kind", choices=KINDS, required=True)
    sheet.add_argument("--units", choices=UNITS, default="mm")
    sheet.add_argument("--csv", action="store_true", help="with --kind kiln: the programme as CSV")
    sheet.set_defaults(run=_sheet)
    steels = commands.add_parser("steels", help="the steel library, or one grade by any of its names")
    steels.add_argument("name", nargs="?", help="1084, G10840, 1.3505, 100Cr6, 75Ni8 ...")
    steels.add_argument("--json", action="store_true")
    steels.set_defaults(run=_steels)
    state = commands.add_parser("state", help="what a steel is at a temperature")
    state.add_argument("name", nargs="?", help="a grade of the library")
    state.add_argument("--wt", help="an analysis instead: C=0.95,Mn=0.4,Si=0.2")
    state.add_argument("--at", type=float, required=True, metavar="C", help="temperature in C")
    state.add_argument("--start", choices=STARTS, default="normalised")
    state.add_argument("--json", action="store_true")
    state.set_defaults(run=_state)
    return parser


def _report(path: str) -> Any:
    from billet import load_recipe_text, parse_recipe, plan

    return plan(parse_recipe(load_recipe_text(_read(path))))


def _read(path: str) -> str:
    raw = sys.stdin.buffer.read(LARGEST_FILE + 1) if path == "-" else _file(path)
    if len(raw) > LARGEST_FILE:
        raise RecipeError([Fault("", f"a recipe has at most {LARGEST_FILE} bytes")])
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise RecipeError([Fault("", "a recipe is text in UTF-8; this is not")]) from None


def _file(path: str) -> bytes:
    with Path(path).open("rb") as stream:
        return stream.read(LARGEST_FILE + 1)


def _plan(chosen: argparse.Namespace) -> str:
    if chosen.bars is not None:
        return _bars(chosen)
    report = _report(chosen.recipe)
    if chosen.json:
        return _as_json(report.to_dict())
    from billet.text.report import report_text

    return report_text(report, chosen.units)


def _bars(chosen: argparse.Namespace) -> str:
    from billet import load_recipe_text, parse_recipe, uncertainty

    found = uncertainty(parse_recipe(load_recipe_text(_read(chosen.recipe))), chosen.bars)
    return _as_json(found.to_dict()) if chosen.json else found.sentence


def _sheet(chosen: argparse.Namespace) -> str:
    from billet.sheets import build_sheet, kiln_csv, sheet_text

    if chosen.csv and chosen.kind != "kiln":
        raise RecipeError([Fault("", "--csv goes with --kind kiln only")])
    if chosen.csv:
        return kiln_csv(_report(chosen.recipe))
    return sheet_text(build_sheet(_report(chosen.recipe), chosen.kind, chosen.units))


def _steels(chosen: argparse.Namespace) -> str:
    from billet.tables.steels import find_steel, steels
    from billet.text.steel import steel_dict, steel_text, steels_text

    if chosen.name is None:
        listed = steels()
        return _as_json([steel_dict(s) for s in listed]) if chosen.json else steels_text(listed)
    steel = find_steel(chosen.name)
    return _as_json(steel_dict(steel)) if chosen.json else steel_text(steel)


def _state(chosen: argparse.Namespace) -> str:
    from billet.hardening.austenite_state import austenitised_state
    from billet.tables.steels import find_steel
    from billet.text.state import state_dict, state_text

    if (chosen.name is None) == (chosen.wt is None):
        raise RecipeError([Fault("", "give a steel or --wt, and not both")])
    composition = _analysis(chosen.wt) if chosen.name is None else find_steel(chosen.name).nominal
    state = austenitised_state(composition, chosen.at, chosen.start)
    return _as_json(state_dict(state)) if chosen.json else state_text(state)


def _analysis(text: str) -> Any:
    from billet.composition import Composition

    found: dict[str, float] = {}
    for part in text.split(","):
        element, _, value = part.partition("=")
        try:
            found[element.strip()] = float(value)
        except ValueError:
            raise RecipeError([Fault("", f"--wt wants C=0.95,Mn=0.4: cannot read {part[:40]!r}")]) from None
    if found.get("C", 0.0) > MOST_CARBON_WT:
        raise RecipeError([Fault("", f"--wt: over {MOST_CARBON_WT} wt% carbon it is cast iron")])
    return Composition(found)


def _as_json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, indent=1)


if __name__ == "__main__":
    sys.exit(main())
