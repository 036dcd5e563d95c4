"""The list of plates from the bottom up, grouped so that it can be read at the bench."""

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any

from billet import wording
from billet.contract.report import Report
from billet.sheets.forge_operations import pile_figure
from billet.sheets.forge_steps import lay_words
from billet.sheets.model import Section, drawn
from billet.sheets.steels import called, steel_row
from billet.wording import Units

MOST_NAMED = 12
Plate = tuple[str, float]


def stack_section(report: Report, units: Units) -> Section:
    """What to cut for the stack: plates of each kind, and the order they lie in; drawn at its end."""
    row = report.schedule[0]
    items = report.recipe["stack"].get("plates") or ()
    if any("steel" not in item for item in items):
        return _with_bars(report, items, units)
    size = wording.bench_face(row.width_mm, row.length_mm, units)
    plates = wording.count(row.layers_laid, "plate")
    heading = f"Stack {plates} of {size}, {wording.mass(row.mass_kg, units)}"
    return drawn(heading, pile_figure(report, 0), _plates(report, row.layers, units))


def _with_bars(report: Report, items: Sequence[Mapping[str, Any]], units: Units) -> Section:
    """A stack in which bars lie that are made first."""
    row = report.schedule[0]
    size = wording.bench_face(row.width_mm, row.length_mm, units)
    heading = f"Lay {wording.count(len(items), 'course')} on {size}, {wording.mass(row.mass_kg, units)}"
    return drawn(heading, pile_figure(report, 0), [f"From the bottom up: {lay_words(items, units)}."])


def _plates(report: Report, layers: tuple[Plate, ...], units: Units) -> list[str]:
    kinds = _kinds(layers)
    if len(kinds) > MOST_NAMED:
        told = "Plates of many thicknesses, cut and laid as the recipe lists them"
        return [f"{told}; {_outside([name for name, _ in layers])}."]
    cut = [_kind(report, plate, number, units) for plate, number in kinds.items()]
    order = lying_order(layers)
    return [*cut, order] if order else cut


def pile_words(report: Report, place: int, units: Units) -> list[str]:
    """The pile that a restack has laid: so many pieces of what length, how they lie."""
    row = report.schedule[place]
    size = wording.bench_size(row.height_mm, row.width_mm, row.length_mm, units)
    pieces = wording.count(row.pieces, "piece")
    return [f"{pieces}, {size} together", f"{row.layers_visible} layers of {row.layers_laid} laid"]


def _kinds(layers: tuple[Plate, ...]) -> dict[Plate, int]:
    found: dict[Plate, int] = {}
    for plate in layers:
        found[plate] = found.get(plate, 0) + 1
    return found


def _kind(report: Report, plate: Plate, number: int, units: Units) -> str:
    name, thickness_mm = plate
    known = steel_row(report, name)
    melt = f", melt {known.melt}" if known is not None and known.melt else ""
    return f"{number} × {wording.stock(thickness_mm, units)} {called(report, name)}{melt}"


def lying_order(layers: tuple[Plate, ...]) -> str:
    """From the bottom up, in the shortest words that are exact."""
    names = [name for name, _ in layers]
    if len(set(names)) == 1:
        return f"All of {names[0]}." if len(names) > 1 else ""
    period = _period(layers)
    if period <= MOST_NAMED // 2 and len(layers) > period:
        return f"From the bottom up: {', '.join(names[:period])}, and so on; {_outside(names)}."
    if len(layers) <= MOST_NAMED:
        return f"From the bottom up: {', '.join(names)}."
    runs = [(name, len(list(group))) for name, group in groupby(names)]
    if len(runs) <= MOST_NAMED:
        return f"From the bottom up: {', '.join(f'{n} {name}' for name, n in runs)}."
    return f"From the bottom up as the recipe lists them; {_outside(names)}."


def _period(layers: tuple[Plate, ...]) -> int:
    """Length of the shortest pattern which, repeated, gives the stack."""
    for length in range(1, len(layers)):
        if all(plate == layers[i % length] for i, plate in enumerate(layers)):
            return length
    return len(layers)


def _outside(names: list[str]) -> str:
    if names[0] == names[-1]:
        return f"{names[0]} outside on both faces"
    return f"{names[0]} at the bottom, {names[-1]} at the top"
