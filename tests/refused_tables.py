"""Bad recipes, one mistake each: what is wrong, the recipe, where, and words that must stand there."""

import math
from typing import Any

from recipe_samples import changed

HUGE = int("9" * 4000) * 10**2000


def with_own_wt(wt: Any, **more: Any) -> dict[str, Any]:
    return changed("steels.bright", {"name": "strip", "wt": wt, **more})


CASES: list[tuple[str, dict[str, Any], str, str]] = [
    # what is wrong, recipe, where, words that must stand in the message
    ("no format", changed("format", ...), "format", "format is missing"),
    (
        "unknown format",
        changed("format", 2),
        "format",
        "format 2 is not known; this version reads format = 1",
    ),
    ("format true", changed("format", True), "format", "format true is not known"),
    ("no title", changed("title", ...), "title", "title is missing"),
    ("title is a number", changed("title", 12), "title", "put it in quotes, got 12"),
    ("title empty", changed("title", "  "), "title", "must not be empty"),
    ("title too long", changed("title", "x" * 121), "title", "longer than 120 characters, got 121"),
    ("title of two lines", changed("title", "a\nb"), "title", "one line of printable characters"),
    ("title half a character", changed("title", "a\ud800"), "title", "printable characters"),
    ("unknown table", changed("stak", {}), "stak", 'did you mean "stack"?'),
    ("no steels", changed("steels", ...), "steels", "steels is missing"),
    ("steels empty", changed("steels", {}), "steels", "Steels: name 1 to 12 steels, got 0"),
    ("steels a list", changed("steels", []), "steels", "a table belongs here, got a list"),
    ("number for a designation", changed("steels.dark", 1084), "steels.dark", "put it in quotes"),
    (
        "boolean for a designation",
        changed("steels.dark", True),
        "steels.dark",
        "in quotes belongs here",
    ),
    ("unknown grade", changed("steels.dark", "75Ni9"), "steels.dark", "75Ni8"),
    ("ambiguous grade", changed("steels.dark", "1074/1075"), "steels.dark", "may be any of 1074, 1075"),
    ("steel of no kind", changed("steels.dark", {}), "steels.dark", "give grade it is like"),
    (
        "like and name",
        changed("steels.dark", {"like": "1084", "name": "x"}),
        "steels.dark.name",
        "not both",
    ),
    (
        "name without wt",
        changed("steels.dark", {"name": "x"}),
        "steels.dark.wt",
        "no grade of the library needs it",
    ),
    ("wt without carbon", with_own_wt({"Mn": 0.5}), "steels.bright.wt.C", "write C = 0.0"),
    ("unknown element", with_own_wt({"C": 0.8, "NI": 2}), "steels.bright.wt.NI", 'did you mean "Ni"?'),
    ("iron given", with_own_wt({"C": 0.8, "Fe": 98}), "steels.bright.wt.Fe", "iron is the rest"),
    ("cast iron", with_own_wt({"C": 3.4}), "steels.bright.wt.C", "0 to 2.5 wt%, got 3.4"),
    ("negative content", with_own_wt({"C": 0.8, "Mn": -1}), "steels.bright.wt.Mn", "got -1"),
    (
        "more than all",
        with_own_wt({"C": 0.8, "Ni": 60, "Cr": 50}),
        "steels.bright.wt",
        "100 wt%, got 110.8",
    ),
    ("content as text", with_own_wt({"C": "0.8"}), "steels.bright.wt.C", 'without quotes, got "0.8"'),
    (
        "window upside down",
        with_own_wt({"C": 0.8}, harden_c=[830, 800]),
        "steels.bright.harden_c",
        "rise from low to high",
    ),
    (
        "window of one",
        with_own_wt({"C": 0.8}, harden_c=[830]),
        "steels.bright.harden_c",
        "two temperatures, [low, high]",
    ),
    ("no stack", changed("stack", ...), "stack", "stack is missing"),
    (
        "no width",
        changed("stack.width_mm", ...),
        "stack.width_mm",
        "Stack: width of the plates (width_mm) is missing",
    ),
    ("width in metres", changed("stack.width_mm", 0.04), "stack.width_mm", "5 to 500 mm, got 0.04"),
    ("width as text", changed("stack.width_mm", "40"), "stack.width_mm", 'without quotes, got "40"'),
    ("width true", changed("stack.width_mm", True), "stack.width_mm", "got true"),
    ("width nan", changed("stack.width_mm", math.nan), "stack.width_mm", "got nan"),
    ("width infinite", changed("stack.width_mm", math.inf), "stack.width_mm", "got inf"),
    ("width of 6000 digits", changed("stack.width_mm", HUGE), "stack.width_mm", "of about 6000 digits"),
    ("width null", changed("stack.width_mm", None), "stack.width_mm", "got nothing"),
    ("count half", changed("stack.count", 7.5), "stack.count", "whole number of 1 to 400, got 7.5"),
    ("count huge", changed("stack.count", 10**9), "stack.count", "got 1000000000"),
    (
        "no pattern",
        changed("stack.pattern", ...),
        "stack.pattern",
        "order of the plates (pattern) is missing",
    ),
    ("pattern empty", changed("stack.pattern", []), "stack.pattern", "hold 1 to 400"),
    (
        "pattern names a stranger",
        changed("stack.pattern", ["dark", "brigth"]),
        "stack.pattern[1]",
        'did you mean "bright"?',
    ),
    (
        "pattern of numbers",
        changed("stack.pattern", ["dark", 1084]),
        "stack.pattern[1]",
        "put it in quotes",
    ),
    (
        "one thickness for all",
        changed("stack.thickness_mm", 3),
        "stack.thickness_mm",
        "a thickness for each steel",
    ),
    (
        "thickness missing",
        changed("stack.thickness_mm.bright", ...),
        "stack.thickness_mm.bright",
        'Stack: thickness of "bright" is missing',
    ),
    (
        "thickness of a stranger",
        changed("stack.thickness_mm.core", 3),
        "stack.thickness_mm.core",
        'unknown key "core"',
    ),
    (
        "plates and pattern",
        changed("stack.plates", [{"steel": "dark", "thickness_mm": 3}]),
        "stack.pattern",
        "give plates, or order of the plates (pattern)",
    ),
    ("stack too high", changed("stack.thickness_mm.dark", 90), "stack", "not lie higher than 400 mm"),
    (
        "forge factor",
        changed("forge.scale_factor", -1),
        "forge.scale_factor",
        "Forge: scale factor (scale_factor) must be a number of 0 to 5, got -1",
    ),
]
