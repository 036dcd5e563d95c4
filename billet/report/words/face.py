"""What a picture of a bar shows, told to one who cannot see it."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.contract.face import FaceFacts
from billet.contract.values import Reason
from billet.report.words.table import Words, words_of

Values = Mapping[str, Any]
VIEW = {"face": "The face", "edge": "The long edge", "end": "The end", "bevel": "The flank of a ground blade"}


def alt_text(facts: FaceFacts, units: wording.Units = "mm") -> str:
    """What is cut, what of it is shown, and what is seen there."""
    cut = f"{VIEW[facts.view]}, {wording.length(facts.ground_mm, units)} ground off"
    if facts.half_angle_deg is not None:
        cut += f" each flat, bevel of {facts.half_angle_deg:g} degrees to each side laid out flat"
    size = f"{wording.length(facts.wide_mm, units)} by {wording.length(facts.high_mm, units)}"
    seen = "; ".join(words_of(reason.code)({**reason.values, "units": units}) for reason in facts.seen)
    hand = " One possible hand." if facts.hand else " Layers drawn perfectly even."
    return f"{cut}, {size} of it: {seen}.{hand}"


def not_drawn(reason: Reason) -> str:
    """Why there is no picture."""
    return words_of(reason.code)(reason.values)


def _apart(v: Values) -> str:
    mm = v["apart_mm"]
    units = v.get("units", "mm")
    return wording.micrometres(1000.0 * mm, units) if mm < 1.0 else wording.length(mm, units)


def _repeat(v: Values) -> str:
    return wording.length(v["repeat_mm"], v.get("units", "mm"))


def _bars(v: Values) -> str:
    kinds = wording.count(v["bars"], "kind of bar", "kinds of bars")
    return f"{kinds} welded together" + (f", {v['beside']} side by side" if v["beside"] else "")


def _disturbed(v: Values) -> str:
    return f"step {v['step']} disturbs the pattern and cannot be followed back: no picture is drawn of it"


WORDS: dict[str, Words] = {
    "face-disturbed": _disturbed,
    "face-map": lambda v: (
        f"fields and closed lines as on a map, cut from uneven layers about {_apart(v)} thick"
    ),
    "face-blank": lambda _: "one even plate, or straight seams: the grind lies within flat layers",
    "face-lines": lambda v: f"{v['layers']} layers as lines along the bar, about {_apart(v)} apart",
    "face-lines-bevel": lambda v: f"a map on the flat, wavy lines about {_apart(v)} apart along the bevel",
    "face-twist-bands": lambda v: f"slanting bands of fine lines, one turn in {_repeat(v)}",
    "face-twist-curls": lambda v: f"slanting bands that curl at both sides, one turn in {_repeat(v)}",
    "face-twist-stars": lambda v: (
        f"arcs from both sides that meet in stars amid the bar, one turn in {_repeat(v)}"
    ),
    "face-twist-end": lambda _: "layers turned as the twist left them, bent at the corners",
    "face-rungs": lambda v: f"rungs across the bar like a ladder, one in {_repeat(v)}",
    "face-rings": lambda v: f"rings like those of raindrops, one in {_repeat(v)} along the bar",
    "face-waves": lambda v: f"{v['layers']} layers in waves beneath the marks, less towards the middle",
    "face-feather": lambda _: "lines that sweep from both sides into a vein along the middle, like a feather",
    "face-across": lambda _: "lines across the bar, of layers that stand on end",
    "face-bars": _bars,
    "face-bar-twist": lambda v: f"in them slanting bands, one turn in {_repeat(v)}",
    "face-bar-rungs": lambda v: f"in them rungs across, one in {_repeat(v)}",
    "face-bar-rings": lambda v: f"in them rings, one in {_repeat(v)}",
    "face-bar-feather": lambda _: "in them the sweep of a feather",
    "face-bar-across": lambda _: "in them lines across",
    "face-contrast-clear": lambda _: "dark and bright stand out clearly",
    "face-contrast-faint": lambda _: "dark and bright differ faintly",
    "face-contrast-none": lambda _: "all comes out in one grey: the layers no longer differ",
}
