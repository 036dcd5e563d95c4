"""The commands without a bar: steels, state, examples, completion."""

import argparse
import re
from typing import TYPE_CHECKING

from billet.cli.completion import completion_script
from billet.cli.reading import LARGEST_FILE_BYTES, refusal
from billet.cli.writing import Answer, as_csv, as_json, page_width

if TYPE_CHECKING:
    from billet.composition import Composition

MOST_CARBON_WT = 2.5
NEXT_ELEMENT = re.compile(r",(?!\d)")
"""A comma between two elements; one before a digit is a decimal comma."""
SHOWN = 40
STEEL_COLUMNS = ("designation", "number", "aliases", "family", "density_g_cm3", "seen")


def steels(chosen: argparse.Namespace) -> Answer:
    """The library or one grade."""
    from billet import find_steel, steel_dict
    from billet import steels as library
    from billet.sheets.layout import page
    from billet.text.steel import steel_text, steels_text

    listed = library() if chosen.name is None else (find_steel(chosen.name),)
    if chosen.csv:
        rows = [steel_dict(steel) for steel in listed]
        return as_csv([{**{key: row[key] for key in STEEL_COLUMNS}, "wt": row["nominal"]} for row in rows])
    if chosen.json:
        plain = [steel_dict(steel) for steel in listed]
        return as_json(plain if chosen.name is None else plain[0])
    with page(page_width()):
        return Answer(steels_text(listed) if chosen.name is None else steel_text(listed[0]))


def state(chosen: argparse.Namespace) -> Answer:
    """A steel at a temperature."""
    from billet import austenitised_state, state_dict
    from billet.quantities import read_temperature_c
    from billet.sheets.layout import page
    from billet.text.state import state_text

    if (chosen.name is None) == (chosen.wt is None):
        raise refusal("give a steel or --wt, and not both")
    temperature_c = read_temperature_c(chosen.at)
    steel = chosen.name if chosen.wt is None else analysis(chosen.wt)
    found = austenitised_state(steel, temperature_c, chosen.start)
    if chosen.json:
        return as_json(state_dict(found))
    with page(page_width()):
        return Answer(state_text(found))


def analysis(text: str) -> "Composition":
    from billet import Composition
    from billet.quantities import NotAQuantity, read_number

    found: dict[str, float] = {}
    for part in NEXT_ELEMENT.split(text):
        element, _, value = (piece.strip() for piece in part.partition("="))
        if element in found:
            raise refusal(f"--wt: {element[:SHOWN]} is given twice")
        try:
            found[element] = read_number(value, "%")
        except NotAQuantity:
            raise refusal(f"--wt wants C=0.95,Mn=0.4: cannot read {part[:SHOWN]!r}") from None
    if found.get("C", 0.0) > MOST_CARBON_WT:
        raise refusal(f"--wt: over {MOST_CARBON_WT} wt% carbon it is cast iron")
    return Composition(found)


def examples(chosen: argparse.Namespace) -> Answer:
    """The names of the example recipes with their files, or the text of one."""
    from billet import example_recipes

    known = example_recipes()
    if chosen.name is None:
        widest = max((len(name) for name in known), default=0)
        return Answer("\n".join(f"{name:<{widest}}  {path}" for name, path in known.items()))
    if chosen.name not in known:
        raise refusal(f"no example is called {chosen.name[:SHOWN]!r}; there are {', '.join(known)}")
    with known[chosen.name].open(encoding="utf-8") as stream:
        return Answer(stream.read(LARGEST_FILE_BYTES))


def completion(chosen: argparse.Namespace, parser: argparse.ArgumentParser) -> Answer:
    """The script for a shell."""
    return Answer(completion_script(parser, chosen.shell), "script")
