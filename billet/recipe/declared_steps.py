"""The fields of every kind of step, and of the plates that stacks and steps lay."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from billet.recipe.model import (
    BarPiece,
    Beside,
    Crop,
    Dimple,
    Draw,
    Grind,
    Groove,
    Layer,
    Measured,
    Other,
    Press,
    Restack,
    Split,
    Stand,
    Turn,
    Twist,
    Upset,
    Weld,
)
from billet.recipe.spec import (
    NOTE_LONGEST,
    TITLE_LONGEST,
    Choice,
    DefaultIf,
    Either,
    FieldSpec,
    TableSpec,
    choice,
    ends,
    flag,
    number,
    text,
    whole,
)

STEPS_COUNT = (0, 60)
PLATES = (1, 400)
FOLDED_PIECES = (2, 4)
LENGTH_HINT = 'takes 3.2 mm, 1/8, 0.125 in, 1 1/8"'
_HEIGHT, _WIDTH, _LENGTH = (0.3, 400.0), (5.0, 500.0), (10.0, 20000.0)
_GRIND, _TRIM, _MEASURED = (0.0, 100.0), (0.0, 2000.0), (0.1, 20000.0)
_PITCH, _DEPTH, _ACROSS = (2.0, 500.0), (0.1, 50.0), (0.5, 250.0)
_TURNS, _DRAG = (-200.0, 200.0), (0.5, 500.0)
BARS_BESIDE = (2, 8)
_FORGE_C = (600.0, 3000.0)
"""Open upwards on purpose: what melts is told by the steels, and a heat in Fahrenheit by its name."""

PLATE = TableSpec(
    "plates",
    "a plate, as wide and long as what it lies on",
    (
        FieldSpec("steel", "steel", "steel of the plate", "a name of [steels]", label="Steel", required=True),
        number("thickness_mm", "thickness of the plate", "thickness, cold", (0.02, 100.0), "mm",
               label="Thickness", required=True, hint=LENGTH_HINT),
    ),
    Layer,
    label="Plate",
)  # fmt: skip
BAR_PIECE = TableSpec(
    "bar",
    "in place of a plate: a bar made first, of the width and length of what it lies on",
    (
        FieldSpec("bar", "bar", "bar made first", "a name of [bars]", label="Bar", required=True),
        flag("turned", "turned", "the bar lies upside down", False, label="Upside down"),
    ),
    BarPiece,
    label="Laid bar",
)
BESIDE = TableSpec(
    "beside",
    "in place of a plate: a course of bars made first, side by side and of one height",
    (
        FieldSpec("beside", "bars", "bars side by side", "names of [bars], from left to right",
                  bounds=BARS_BESIDE, label="Bars, from left to right", required=True, attribute="bars"),
    ),
    Beside,
    label="Course of bars",
)  # fmt: skip
MEASURED = TableSpec(
    "measured",
    "what came of the step; the rest goes on from there, and the number of the bar stays",
    (
        *(
            number(f"{size}_mm", f"{size} as measured", "measured after the step", _MEASURED, "mm",
                   label=size.capitalize())
            for size in ("height", "width", "length")
        ),
        number("cut_away_mm", "length cut away", "bad end cut off after the step", _MEASURED, "mm",
               label="Cut away"),
    ),
    Measured,
    label="Measured after this step",
)  # fmt: skip
_COMMON = (
    text("note", "note", "printed beside the step", NOTE_LONGEST, label="Note"),
    FieldSpec("measured", "table", "sizes measured", MEASURED.help, inner=MEASURED, label=MEASURED.label),
)
_FIRE = (
    number("temperature_c", "temperature", "temperature of the metal", _FORGE_C, "C", label="Heat to",
           hint="1150, or 2100 F", required=True),
    number("minutes", "time at heat", "at heat, all heats together", (0.0, 600.0), "min",
           label="Time at heat", required=True,
           hint="from when it glows evenly right through, all heats together"),
    whole("heats", "number of heats", "how many heats the step takes", (1, 50), label="Heats", default=1),
    choice("atmosphere", "what the outer faces see", "what the outer faces see",
           ("air", "air"), ("reducing", "a reducing fire"), ("sealed", "nothing, sealed"),
           label="Outer faces see", default="reducing"),
)  # fmt: skip

_FORGED_FIRE = tuple(
    replace(field, reckoned="as many as the reduction asks for") if field.key == "heats" else field
    for field in _FIRE
)
"""The same where the heats that are left out are reckoned."""


def _step(
    do: str, label: str, help: str, make: Callable[..., Any], *fields: FieldSpec, **more: Any
) -> TableSpec:
    return TableSpec(do, help, (*fields, *_COMMON, *_proposed(fields)), make, label, **more)


def _proposed(fields: Sequence[FieldSpec]) -> tuple[FieldSpec, ...]:
    """Which numbers of a step nobody told; nothing for a step that has none."""
    keys = tuple(Choice(f.key, f.label) for f in fields if f.kind in ("number", "whole", "ends"))
    if not keys:
        return ()
    told = "keys of this step whose numbers were proposed and neither changed nor accepted, as sheets mark"
    field = FieldSpec("proposed", "keys", "proposed numbers", told, bounds=(0, len(keys)), offered=keys,
                      default=(), label="Proposed, not accepted")  # fmt: skip
    return (field,)


def _restack_rule(step: Restack) -> tuple[str, str] | None:
    low, high = FOLDED_PIECES
    if step.order == "folded" and not low <= step.pieces <= high:
        return "pieces", f"a bar is folded into {low} to {high} pieces, got {step.pieces}"
    if step.order == "folded" and step.kerf_mm > 0.0:
        return (
            "kerf_mm",
            f"a fold cuts nothing away: the width of a cut (kerf_mm) must be 0, got {step.kerf_mm:g}",
        )
    if step.order is not None and step.pieces == 1:
        return "pieces", "one piece makes no stack; cut at least 2, or lay it between plates"
    if step.lay is None:
        return None
    used = sum(isinstance(item, str) for item in step.lay)
    if not used:
        return "lay", "lay at least one piece of the bar"
    if used > step.pieces:
        return "lay", f"{used} pieces are laid, but the bar is cut into {step.pieces}"
    return None


_PITCH_FIELD = number("pitch_mm", "pitch", "from one to the next along the bar", _PITCH, "mm",
                      label="From one to the next", required=True)  # fmt: skip
_FACES = choice("faces", "faces", "which faces are marked",
                ("both", "top and bottom"), ("top", "the top"), ("bottom", "the bottom"),
                label="On", default="both")  # fmt: skip


def _depth(what: str) -> FieldSpec:
    return number("depth_mm", f"depth of a {what}", f"deepest place of a {what}", _DEPTH, "mm",
                  label="Depth", required=True)  # fmt: skip


def _groove_rule(step: Groove | Press) -> tuple[str, str] | None:
    if step.width_mm <= step.pitch_mm:
        return None
    return "width_mm", f"no wider than the pitch, {step.pitch_mm:g} mm, got {step.width_mm:g}"


def _dimple_rule(step: Dimple) -> tuple[str, str] | None:
    if step.diameter_mm > step.pitch_mm:
        rule = f"a dimple {step.diameter_mm:g} mm wide meets its neighbour"
        return "diameter_mm", f"{rule}: the pitch is {step.pitch_mm:g} mm"
    if step.depth_mm > 0.5 * step.diameter_mm:
        rule = "a dimple is at most half as deep as it is wide, or its walls fold in"
        return "depth_mm", f"{rule}: {0.5 * step.diameter_mm:g} mm here, got {step.depth_mm:g}"
    return None


def _twist_rule(step: Twist) -> tuple[str, str] | None:
    return ("turns", "no turn makes no twist; negative turns go to the left") if step.turns == 0.0 else None


STEPS: dict[str, TableSpec] = {
    spec.key: spec
    for spec in (
        _step(
            "weld", "Weld", "joins what lies loose", Weld, *_FIRE,
            flag("flux", "flux", "flux is used", True, label="Flux"),
            number("height_mm", "height after the weld", "height after the weld, cold", _HEIGHT, "mm",
                   label="Height after", hint="where the weld is pressed"),
            number("width_mm", "width after the weld", "width after the weld, cold", _WIDTH, "mm",
                   label="Width after"),
        ),
        _step(
            "draw", "Draw out", "forges the bar longer", Draw, *_FORGED_FIRE,
            number("height_mm", "height after the step", "height after the step, cold", _HEIGHT, "mm",
                   label="Height after", required=True),
            number("width_mm", "width after the step",
                   "width after the step, cold; without it the width stays", _WIDTH, "mm",
                   label="Width after", hint="without it the width stays and the length takes the metal"),
        ),
        _step(
            "upset", "Upset", "forges the bar shorter", Upset, *_FORGED_FIRE,
            number("length_mm", "length after the step", "length after the step, cold", _LENGTH, "mm",
                   label="Length after", required=True),
        ),
        _step(
            "grind", "Grind", "grinds faces and sides", Grind,
            number("per_face_mm", "grinding of top and bottom", "off top and off bottom", _GRIND, "mm",
                   label="Off top and bottom, each", required=True),
            number("side_mm", "grinding of the sides", "off each side", _GRIND, "mm",
                   label="Off the sides, each", default=0.0),
        ),
        _step(
            "restack", "Cut and restack", "cuts and lays the pieces one on another", Restack,
            whole("pieces", "number of pieces", "how many pieces the bar is cut into", (1, 60),
                  label="Pieces to cut", required=True),
            ends("trim_mm", "what is cut off at the ends", "cut off before", _TRIM,
                 label="Cut off at the ends", default=0.0),
            number("kerf_mm", "width of a cut", "lost in each cut; 0 for a fold", (0.0, 10.0), "mm",
                   label="Width of a cut", default=2.0, default_if=DefaultIf("order", "folded", 0.0)),
            choice("order", "order of the pieces", "folded is a zigzag of 2 to 4 pieces without kerf",
                   ("same", "all alike"), ("turned", "every second one turned over"),
                   ("folded", "folded, zigzag"), label="Pieces lie"),
            FieldSpec("lay", "lay", "pieces and plates laid",
                      "bottom up; pieces that are not laid are left over", bounds=(2, PLATES[1]),
                      inner=PLATE, bar_inner=BAR_PIECE, beside_inner=BESIDE, label="Laid one by one"),
            either=Either((("order",), ("lay",)), where="order"),
            rule=_restack_rule,
        ),
        _step(
            "crop", "Crop", "cuts ends off: end_mm or length_mm", Crop,
            ends("end_mm", "what goes off", "what goes off", _TRIM, label="Cut off"),
            number("length_mm", "length that stays", "what stays", _LENGTH, "mm",
                   label="or length that stays"),
            either=Either((("end_mm",), ("length_mm",))),
        ),
        _step("turn", "Turn on edge", "turns the bar on edge; it cannot be restacked or welded after it",
              Turn),
        _step(
            "twist", "Twist", "twists the square bar about its length", Twist, *_FIRE,
            number("turns", "number of turns", "turns from end to end, to the left where negative", _TURNS,
                   label="Turns, negative to the left", required=True),
            flag("rounded", "corners forged in", "the corners are forged in before the twist", False,
                 label="Corners forged in before"),
            rule=_twist_rule,
        ),
        _step(
            "groove", "Cut grooves", "cuts grooves across the bar, which the next draw flattens", Groove,
            _PITCH_FIELD, _depth("groove"),
            number("width_mm", "width of a groove", "width of a groove at the face", _ACROSS, "mm",
                   label="Width at the face", required=True),
            _FACES,
            flag("offset", "offset", "grooves of the bottom lie between those of the top", True,
                 label="Those below lie between those above"),
            rule=_groove_rule,
        ),
        _step(
            "dimple", "Cut dimples", "cuts round hollows, which the next draw flattens", Dimple,
            _PITCH_FIELD,
            number("diameter_mm", "width of a dimple", "width of a dimple at the face", _ACROSS, "mm",
                   label="Width at the face", required=True),
            _depth("dimple"),
            flag("staggered", "staggered", "every second row lies half a pitch along", True,
                 label="Every second row half a pitch along"),
            _FACES,
            rule=_dimple_rule,
        ),
        _step(
            "press", "Press a die in",
            "pushes a die with ridges across the bar in, then grinds flat to the bottom of the marks", Press,
            *_FIRE, _PITCH_FIELD, _depth("mark"),
            number("width_mm", "width of a mark", "width of a mark at the face", _ACROSS, "mm",
                   label="Width at the face", required=True),
            _FACES, rule=_groove_rule,
        ),
        _step("stand", "Stand on end", "stands the bar on end: the layers lie across it from then on", Stand),
        _step(
            "split", "Split and weld again",
            "drives a wedge along the middle and welds the halves again; the layers must lie across the bar",
            Split, *_FIRE,
            number("drag_mm", "drag", "how far the middle is dragged along; as much is cropped off both ends",
                   _DRAG, "mm", label="Drag at the middle", required=True),
            number("width_mm", "width of the drag", "distance from the middle where 1/e of the drag is left",
                   _ACROSS, "mm", label="Distance at which it fades", required=True),
        ),
        _step(
            "other", "Something else in the fire",
            "any other work in the fire; the pattern counts as disturbed after it", Other,
            text("what", "what is done", "what is done, as printed", TITLE_LONGEST, label="What is done",
                 required=True, hint="bent round, struck with a texture hammer"),
            *_FIRE,
        ),
    )
}  # fmt: skip
