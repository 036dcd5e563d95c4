"""The words of the steps that make a pattern: twist, groove, dimple, press, stand, split."""

from collections.abc import Callable, Mapping
from typing import Any

from billet import wording
from billet.wording import Units

Step = Mapping[str, Any]
FACES = {"both": "both faces", "top": "the top face", "bottom": "the bottom face"}


def pattern_words(do: str, step: Step, units: Units) -> str:
    """What the hand does in such a step; empty for a step of another kind."""
    writer = WRITERS.get(do)
    return "" if writer is None else writer(step, units)


def _twist(step: Step, units: Units) -> str:
    turns = float(step["turns"])
    corners = "corners forged in, then " if step.get("rounded") else ""
    return f"{corners}{abs(turns):g} turns to the {'left' if turns < 0.0 else 'right'}"


def _groove(step: Step, units: Units) -> str:
    along = ", the other face half a pitch along" if step.get("offset") else ""
    return f"grooves across {_relief(step, units)}, on {FACES[step.get('faces') or 'both']}{along}"


def _dimple(step: Step, units: Units) -> str:
    wide, deep, pitch = (wording.bench_length(float(step[k]), units) for k in DIMPLE)
    rows = ", rows staggered" if step.get("staggered") else ""
    return f"hollows {wide} across, {deep} deep, every {pitch}, on {FACES[step.get('faces') or 'both']}{rows}"


def _press(step: Step, units: Units) -> str:
    return f"die pushed in {_relief(step, units)}"


def _stand(step: Step, units: Units) -> str:
    return "on end: the layers lie across the bar"


def _split(step: Step, units: Units) -> str:
    wide = wording.bench_length(float(step["width_mm"]), units)
    drag = wording.bench_length(float(step["drag_mm"]), units)
    return f"wedge {wide} wide down the middle, drags {drag}, the halves welded again"


def _relief(step: Step, units: Units) -> str:
    wide, deep, pitch = (wording.bench_length(float(step[k]), units) for k in RELIEF)
    return f"{wide} wide, {deep} deep, every {pitch}"


DIMPLE = ("diameter_mm", "depth_mm", "pitch_mm")
RELIEF = ("width_mm", "depth_mm", "pitch_mm")
WRITERS: dict[str, Callable[[Step, Units], str]] = {
    "twist": _twist,
    "groove": _groove,
    "dimple": _dimple,
    "press": _press,
    "stand": _stand,
    "split": _split,
}
