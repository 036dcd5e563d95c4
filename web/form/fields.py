"""Every field of a recipe as the form asks for it: key, kind, words. Names of fields are made here.

A field's name is its place in the recipe (`steps[3].height_mm`), save that a steel is counted
(`steels[0].wt.C`) because its own name can be changed in the form.
"""

from dataclasses import dataclass

from billet import ELEMENTS
from web.form.view import Choice, Kind


@dataclass(frozen=True)
class Spec:
    """One key of a table of the recipe. `fallback` is the default in words, `initial_on` a flag's."""

    key: str
    kind: Kind
    label: str
    unit: str = ""
    hint: str = ""
    fallback: str = ""
    required: bool = False
    choices: tuple[Choice, ...] = ()
    initial_on: bool = False


LENGTH_HINT = 'takes 3.2 mm, 1/8, 0.125 in, 1 1/8"'
TITLE = Spec("title", "text", "Title", required=True)


def _length(key: str, label: str, required: bool = False, hint: str = "", fallback: str = "") -> Spec:
    return Spec(key, "length", label, hint=hint, fallback=fallback, required=required)


def _choices(*words: tuple[str, str]) -> tuple[Choice, ...]:
    return tuple(Choice(value, label) for value, label in words)


STEEL_NAME = Spec("key", "text", "Your name for it", required=True)
STEEL_WAS = Spec("was", "hidden", "")
STEEL_FORM = Spec("as", "hidden", "")
STEEL_SPECS: dict[str, tuple[Spec, ...]] = {
    "library": (
        Spec("grade", "text", "Grade", required=True, hint="a designation or number, any country's"),
    ),
    "like": (
        Spec("like", "text", "Grade it is like", required=True),
        Spec("melt", "text", "Heat number of the melt"),
    ),
    "own": (
        Spec("name", "text", "What it is", required=True),
        Spec("melt", "text", "Heat number of the melt"),
    ),
}
HARDEN = Spec("harden_c", "temperature", "Hardening range", "°C", hint="from the maker's sheet")
COMMON_ELEMENTS = ("C", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W")
RARE_ELEMENTS = tuple(element for element in ELEMENTS if element not in COMMON_ELEMENTS)

STACK: tuple[Spec, ...] = (
    _length("width_mm", "Width of the plates", required=True),
    _length("length_mm", "Length of the plates", required=True),
)
STACK_COUNT = Spec(
    "count", "whole", "Plates in all", required=True, hint="the order is repeated until they lie"
)
PLATE: tuple[Spec, ...] = (
    Spec("steel", "steel", "Steel", required=True),
    _length("thickness_mm", "Thickness", required=True),
)
FORGE: tuple[Spec, ...] = (Spec("scale_factor", "number", "Scale, times the published law", fallback="1"),)

ATMOSPHERE = Spec(
    "atmosphere", "choice", "Outer faces see", fallback="reducing",
    choices=_choices(("air", "air"), ("reducing", "a reducing fire"), ("sealed", "nothing, sealed")),
)  # fmt: skip
FIRE: tuple[Spec, ...] = (
    Spec("temperature_c", "temperature", "Heat to", "°C", hint="1150, or 2100 F", required=True),
    Spec("minutes", "number", "Time at heat", "min", required=True,
         hint="from when it glows evenly right through, all heats together"),
    Spec("heats", "whole", "Heats", fallback="1"),
    ATMOSPHERE,
)  # fmt: skip
NOTE = Spec("note", "text", "Note")
MEASURED: tuple[Spec, ...] = (
    _length("height_mm", "Height"), _length("width_mm", "Width"), _length("length_mm", "Length"),
)  # fmt: skip
ORDER = Spec(
    "order", "choice", "Pieces lie", required=True,
    choices=_choices(
        ("same", "all alike"), ("turned", "every second one turned over"), ("folded", "folded, zigzag"),
    ),
)  # fmt: skip
TRIM = _length("trim_mm", "Cut off at the ends", fallback="0")
END = _length("end_mm", "Cut off")
STEP_SPECS: dict[str, tuple[Spec, ...]] = {
    "weld": (
        *FIRE,
        Spec("flux", "flag", "Flux", initial_on=True),
        _length("height_mm", "Height after", hint="where the weld is pressed"),
        _length("width_mm", "Width after"),
    ),
    "draw": (
        *FIRE,
        _length("height_mm", "Height after", required=True),
        _length("width_mm", "Width after", hint="without it the width stays and the length takes the metal"),
    ),
    "grind": (
        _length("per_face_mm", "Off top and bottom, each", required=True),
        _length("side_mm", "Off the sides, each", fallback="0"),
    ),
    "restack": (
        Spec("pieces", "whole", "Pieces to cut", required=True),
        TRIM,
        _length("kerf_mm", "Width of a cut", fallback="2 mm, folded 0"),
    ),
    "crop": (END, _length("length_mm", "or length that stays")),
    "upset": (*FIRE, _length("length_mm", "Length after", required=True)),
    "turn": (),
    "other": (Spec("what", "text", "What is done", required=True, hint="twist, 6 turns"), *FIRE),
}
ENDS: dict[str, tuple[str, str]] = {
    "trim_mm": ("handle end", "far end"),
    "end_mm": ("handle end", "far end"),
    "harden_c": ("low", "high"),
}
"""Keys that hold two numbers, and what each of the two is."""
STEP_WORDS: dict[str, str] = {
    "weld": "Weld", "draw": "Draw out", "grind": "Grind", "restack": "Cut and restack", "crop": "Crop",
    "upset": "Upset", "turn": "Turn on edge", "other": "Something else in the fire",
}  # fmt: skip

BLADE: tuple[Spec, ...] = (
    _length("thickness_mm", "Thickest section when quenched", required=True),
    _length("edge_mm", "Edge when quenched", fallback="1 mm"),
    Spec("made", "choice", "Made by", fallback="ground",
         choices=_choices(("ground", "grinding from the bar"), ("forged", "forging to thickness"))),
    Spec("start", "choice", "Structure before hardening", fallback="normalised",
         choices=_choices(("normalised", "normalised"), ("spheroidised", "spheroidised"))),
    Spec("bevel_half_angle_deg", "number", "Bevel, half angle", "°"),
    Spec("edge_at", "choice", "Edge lies", fallback="middle",
         choices=_choices(("middle", "in the middle of the bar"), ("face", "at one face"))),
)  # fmt: skip
CONTROL_METHOD = Spec("method", "choice", "How the hardening heat is judged")
CONTROL_HALF_WIDTH = Spec("half_width_k", "number", "or how far off it may be, each way", "K")
SHEET: tuple[Spec, ...] = (
    Spec("number", "text", "Bar number"),
    Spec("maker", "text", "Made by"),
    Spec("forged_on", "text", "Forged on"),
    Spec("share_recipe", "flag", "The buyer may see the recipe (link on label and buyer's sheet)"),
)


def steel_form(value: object) -> str:
    """How a steel of the draft is given: library, like or own."""
    if not isinstance(value, dict):
        return "library"
    return "own" if "name" in value and "like" not in value else "like"
