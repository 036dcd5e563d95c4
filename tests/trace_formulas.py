"""Which formulas are called: by a plan or the count of bars, by what is shown beside it, or by nothing.

    python tests/trace_formulas.py            writes billet/data/formula_roles.toml anew
    python tests/trace_formulas.py --show     prints it

A formula that a plan or the count of bars calls decides; one that only a study or a calculator calls is
shown for comparison; the others are a library for whoever wants them. Found by watching calls over the
example recipes and some bars that no example holds, not by hand.
"""

import sys
import threading
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT))
ROLES = ROOT / "billet" / "data" / "formula_roles.toml"
HEADING = """\
# What each formula is for: `decides` where a plan or the count of bars calls it, `shown` where only a study
# or a calculator does. The others are a library. Written by `python tests/trace_formulas.py`.
"""
A255 = ("carbon_factor_in", "manganese_factor", "silicon_factor", "nickel_factor", "chromium_factor",
        "molybdenum_factor", "copper_factor", "vanadium_factor")  # fmt: skip
OF_ARRAYS = {
    ("billet.formulas.equilibrium.lines", "lines_many"): ("equilibrium.lines.critical_lines",),
    ("billet.formulas.equilibrium.states", "states_many"): ("equilibrium.states.equilibrium_state",),
    ("billet.formulas.hardenability", "factors_of"): tuple(f"hardenability.{name}" for name in A255),
    ("billet.formulas.hardenability", "ideal_diameters_in"): ("hardenability.ideal_diameter_in",),
    ("billet.formulas.martensite", "ms_van_bohemen_of"): ("martensite.ms_van_bohemen_c",),
    ("billet.formulas.martensite", "retained_austenite_of"): (
        "martensite.alpha_van_bohemen_per_k",
        "martensite.retained_austenite_van_bohemen",
    ),
    ("billet.formulas.hardness", "quenched_hardness_of"): (
        "hardness.hardness_with_retained_austenite",
        "hardness.martensite_hardness_hrc",
        "hardness.hrc_to_hv",
        "hardness.hv_to_hrc",
    ),
}
"""The same formulas for arrays of samples, by the names under which they are registered for one."""
RARE_BARS = (("1095", "440C"), ("1084", "Ni 99.2"), ("52100", "1018"), ("O1", "75Ni8"), ("D2", "X46Cr13"))


def recipes() -> list[Any]:
    """The example recipes, and bars of rare pairs."""
    from billet import find_steel, load_recipe_text, parse_recipe

    found = []
    for path in sorted((ROOT / "recipes").glob("*.toml")):
        found.append(parse_recipe(load_recipe_text(path.read_text(encoding="utf-8"))))
    for pair in RARE_BARS:
        steels = {f"steel{i}": find_steel(name).designation for i, name in enumerate(pair)}
        found.append(
            parse_recipe(
                {
                    "format": 1,
                    "title": "traced",
                    "steels": steels,
                    "stack": {
                        "width_mm": 40,
                        "length_mm": 150,
                        "pattern": list(steels),
                        "count": 9,
                        "thickness_mm": dict.fromkeys(steels, 3.0),
                    },
                    "steps": [
                        {"do": "weld", "temperature_c": 1100, "minutes": 12, "height_mm": 22},
                        {"do": "draw", "temperature_c": 1050, "minutes": 16, "heats": 4, "height_mm": 6},
                    ],
                    "blade": {"thickness_mm": 3.0},
                }
            )
        )
    return found


def plans() -> None:
    """Everything that decides, over all recipes."""
    from write_plate_cooling import films

    from billet import plan, uncertainty
    from billet.formulas.plate_table import rate_rows

    rate_rows(dict(list(films().items())[:1]), (3.0,))
    for recipe in recipes():
        plan(recipe).to_dict()
        uncertainty(recipe)


def pages() -> None:
    """Everything that is shown beside a plan, and the small calculators."""
    from fastapi.testclient import TestClient

    from billet import study
    from web.app import create_app
    from web.settings import Settings

    for recipe in recipes():
        study(recipe)
    client = TestClient(create_app(Settings(recipes=ROOT / "recipes")))
    for address in (
        "/state?steel=1095&at=800",
        "/state?steel=52100&at=840&start=spheroidised",
        "/pyrometer?reading=800&set=0.95&true=0.85&band=8-14+um&walls=900",
        "/pyrometer?reading=800&set=0.95&true=0.85&band=0.9+um",
        "/methods",
        "/steels/1095",
    ):
        client.get(address)


def called(work: Callable[[], None]) -> set[str]:
    """The registered formulas that run while `work` does, in whatever thread, at import included."""
    places: set[tuple[str, str]] = set()

    def watch(frame: FrameType, event: str, _argument: object) -> None:
        if event == "call":
            module = frame.f_globals.get("__name__", "")
            if module.startswith("billet.formulas."):
                places.add((module, frame.f_code.co_name))

    threading.setprofile(watch)
    sys.setprofile(watch)
    try:
        work()
    finally:
        sys.setprofile(None)
        threading.setprofile(None)
    from billet.methods import methods
    from billet.published import REGISTRY

    methods()
    keys = {(f"billet.formulas.{entry.module}", entry.name): key for key, entry in REGISTRY.items()}
    alike = {key for place in places for key in OF_ARRAYS.get(place, ())}
    return {keys[place] for place in places if place in keys} | alike


def roles() -> dict[str, str]:
    """Role by formula, for those that something calls."""
    deciding = called(plans)
    shown = called(pages) - deciding
    return {**dict.fromkeys(deciding, "decides"), **dict.fromkeys(shown, "shown")}


def as_toml(found: dict[str, str]) -> str:
    """The text of the file."""
    lines = [f'"{key}" = "{found[key]}"' for key in sorted(found)]
    return HEADING + "\n" + "\n".join(lines) + "\n"


if __name__ == "__main__":
    text = as_toml(roles())
    if "--show" in sys.argv:
        sys.stdout.write(text)
    else:
        ROLES.write_text(text, encoding="utf-8")
