"""What the command takes. The parser refuses in one sentence, as everything else does."""

import argparse
from collections.abc import Sequence
from typing import Any, NoReturn

from billet.cli import bar_commands, face_command, many_bars_commands, other_commands
from billet.cli.reading import refusal
from billet.cli.writing import Answer
from billet.tables.steels import STARTS
from billet.version import VERSION

UNITS = ("mm", "inch")
KINDS = ("forge", "harden", "kiln", "buyer", "label")
SHELLS = ("bash", "zsh")
VIEWS = ("face", "edge", "end", "bevel")
RECIPE = "a recipe file (TOML or JSON), or - for standard input"


class _Told(Exception):
    """What --help and --version answer: written like every other answer."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise refusal(message)

    def print_help(self, file: Any = None) -> NoReturn:
        raise _Told(self.format_help())


class _Version(argparse.Action):
    def __call__(self, *_: Any) -> NoReturn:
        raise _Told(f"billet {VERSION}")


def parse(arguments: Sequence[str] | None) -> argparse.Namespace:
    """The arguments with `run`, a function of them that gives the answer. Raises RecipeError."""
    parser = build_parser()
    try:
        chosen = parser.parse_args(arguments)
        if not hasattr(chosen, "run"):
            parser.print_help()
    except _Told as told:
        text = str(told)
        return argparse.Namespace(run=lambda _: Answer(text))
    return chosen


def build_parser() -> argparse.ArgumentParser:
    """The whole command."""
    parser = _Parser(prog="billet", description="Plan a forge-welded bar of two or more steels.")
    parser.add_argument("--version", action=_Version, nargs=0, help="tell the version and stop")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", parser_class=_Parser)
    _plan(commands)
    _sheet(commands)
    _study(commands)
    _face(commands)
    _sweep(commands)
    _partners(commands)
    _wish(commands)
    _steels(commands)
    _state(commands)
    _examples(commands)
    completion = commands.add_parser("completion", help="a script by which a shell completes this command")
    completion.add_argument("shell", choices=SHELLS)
    completion.set_defaults(run=lambda chosen: other_commands.completion(chosen, build_parser()))
    return parser


def _plan(commands: Any) -> None:
    plan = commands.add_parser("plan", help="hardening temperature, oil, carbon and schedule of a recipe")
    plan.add_argument("recipe", metavar="RECIPE", help=RECIPE)
    form = plan.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="the whole report as JSON and nothing else")
    form.add_argument("--csv", action="store_true", help="the schedule as CSV, a line a step")
    plan.add_argument("--units", choices=UNITS, help="lengths of the text in mm or in inches (mm)")
    plan.add_argument("--bars", type=int, metavar="N", help="only: how many of 100 bars come out, from N")
    _shop(plan)
    plan.set_defaults(run=bar_commands.plan)


def _sheet(commands: Any) -> None:
    sheet = commands.add_parser("sheet", help="one of the sheets as text")
    sheet.add_argument("recipe", metavar="RECIPE", help=RECIPE)
    sheet.add_argument("--kind", choices=KINDS, required=True, help="which sheet")
    sheet.add_argument("--units", choices=UNITS, help="lengths in mm or in inches (mm)")
    sheet.add_argument("--csv", action="store_true", help="with --kind kiln: the programme as CSV")
    _shop(sheet)
    sheet.set_defaults(run=bar_commands.sheet)


def _study(commands: Any) -> None:
    study = commands.add_parser("study", help="why a plan is as it is: ends of the window, fires, cooling")
    study.add_argument("recipe", metavar="RECIPE", help=RECIPE)
    form = study.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="the whole study as JSON and nothing else")
    form.add_argument("--csv", action="store_true", help="each steel over the hardening heat as CSV")
    study.add_argument("--units", choices=UNITS, help="lengths of the text in mm or in inches (mm)")
    _shop(study)
    study.set_defaults(run=bar_commands.study)


def _shop(parser: Any) -> None:
    parser.add_argument("--shop", metavar="FILE", help="your own fire and oils: a file with a table [shop]")


def _face(commands: Any) -> None:
    face = commands.add_parser("face", help="a picture of the etched bar, as a PNG file")
    face.add_argument("recipe", metavar="RECIPE", help=RECIPE)
    face.add_argument("--view", choices=VIEWS, default="face", help="what is looked at (face)")
    face.add_argument("--out", metavar="FILE", required=True, help="the file to write; - is standard output")
    face.add_argument("--width", type=int, metavar="PIXELS", default=1200, help="pixels across (1200)")
    face.add_argument("--ground", type=float, metavar="MM", help="how much is ground off (0.3)")
    face.add_argument(
        "--from", dest="from_mm", type=float, metavar="MM", help="left side, from the handle end"
    )
    face.add_argument("--length", type=float, metavar="MM", help="how much of the length is shown")
    face.add_argument("--angle", type=float, metavar="DEG", help="half angle of the bevel")
    face.add_argument("--blade", type=float, metavar="MM", help="width of the blade with --view bevel")
    face.add_argument("--no-hand", action="store_true", help="layers perfectly even")
    face.set_defaults(run=face_command.face)


def _sweep(commands: Any) -> None:
    sweep = commands.add_parser("sweep", help="the answer against one number of a recipe")
    sweep.add_argument("recipe", metavar="RECIPE", help=RECIPE)
    told = "PLACE=LOW:HIGH:STEP, such as steps[1].minutes=2:30:2"
    sweep.add_argument("--vary", required=True, metavar="WHAT", help=told)
    _forms(sweep)
    sweep.set_defaults(run=many_bars_commands.sweep)


def _partners(commands: Any) -> None:
    partners = commands.add_parser("partners", help="which steel goes with one, each verdict by itself")
    partners.add_argument("name", nargs="?", help="a grade of the library; without any the whole table")
    partners.add_argument("--wt", metavar="ANALYSIS", help="an analysis instead: C=1.25,Mn=0.3,Si=0.2")
    partners.add_argument("--share", type=float, metavar="X", help="its part of the mass, 0 to 1 (0.5)")
    partners.add_argument("--fire", metavar="METHOD", help="how the heat is held, as [control] names it")
    partners.add_argument(
        "--half-width", type=float, metavar="K", help="or how far off the heat may be, in K"
    )
    partners.add_argument("--section", type=float, metavar="MM", help="thickest section quenched (3 mm)")
    told = "an own oil: its class or nickel-ball seconds; may be given again"
    partners.add_argument("--oil", action="append", default=[], metavar="OIL", help=told)
    _shop(partners)
    partners.add_argument("--sort", choices=many_bars_commands.SORTS, default="hardens", help="(hardens)")
    _forms(partners)
    partners.set_defaults(run=many_bars_commands.partners)


def _wish(commands: Any) -> None:
    wish = commands.add_parser("wish", help="from the bar wanted back to the stack")
    told = "a wish file (TOML or JSON), or - for standard input; without it a wish to begin with"
    wish.add_argument("recipe", metavar="WISH", nargs="?", help=told)
    _forms(wish)
    wish.add_argument("--units", choices=UNITS, help="lengths of the text in mm or in inches (mm)")
    wish.set_defaults(run=many_bars_commands.wish)


def _forms(command: Any) -> None:
    form = command.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as JSON and nothing else")
    form.add_argument("--csv", action="store_true", help="as CSV, a line a row")


def _steels(commands: Any) -> None:
    steels = commands.add_parser("steels", help="the steel library, or one grade by any of its names")
    steels.add_argument("name", nargs="?", help="1084, G10840, 1.3505, 100Cr6, 75Ni8 ...")
    form = steels.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="as JSON and nothing else")
    form.add_argument("--csv", action="store_true", help="as CSV, a line a grade")
    steels.set_defaults(run=other_commands.steels)


def _state(commands: Any) -> None:
    state = commands.add_parser("state", help="what a steel is at a temperature")
    state.add_argument("name", nargs="?", help="a grade of the library")
    state.add_argument("--wt", metavar="ANALYSIS", help="an analysis instead: C=0.95,Mn=0.4,Si=0.2")
    state.add_argument("--at", required=True, metavar="T", help="temperature: 815, 815C or 1500F")
    state.add_argument("--start", choices=STARTS, default="normalised", help="structure before (normalised)")
    state.add_argument("--json", action="store_true", help="as JSON and nothing else")
    state.set_defaults(run=other_commands.state)


def _examples(commands: Any) -> None:
    examples = commands.add_parser("examples", help="the recipes that ship with the program, or one as TOML")
    examples.add_argument("name", nargs="?", help="reed_bed_kitchen ...; without it all are listed")
    examples.set_defaults(run=other_commands.examples)
