"""What forging tells beside the numbers: layers that vanish, welds, sizes, heats that burn or crack."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words
from billet.report.words.table import step_words as _step

Values = Mapping[str, Any]
QUANTITIES = {
    "scaling.metal_loss_mm": "the loss to scale",
    "heating.heating_through_min": "the time of heating through",
}
FIRE = {"air": "in air", "reducing": "in an open fire, reducing or not (from memory)"}


def _hot_step(v: Values) -> str:
    return f"{_step(v)} at {wording.temperature(v['c'])}"


def _gone(v: Values) -> str:
    count = "the outermost layer" if v["layers"] == 1 else f"the {v['layers']} outermost layers"
    steels = " and ".join(v["steels"])
    return (
        f"{_step(v)}: {v['by']} takes {count} at the {v['face']} ({steels}); {v['now']} is the face from "
        "here on"
    )


def _not_pressed(v: Values) -> str:
    reduction = v["reduction_frac"]
    told = f"pressed by {wording.percent(reduction)} only" if reduction > 0.0 else "not pressed"
    return f"{_step(v)}: the weld is {told}; {wording.percent(v['least_frac'])} or more is common practice"


def _tall(v: Values) -> str:
    size = f"{wording.length(v['height_mm'])} high on {wording.length(v['width_mm'])}"
    return f"{_step(v)}: the pile is {size}: it may lean or buckle; wire or tack it well (common practice)"


def _short(v: Values) -> str:
    return f"{_step(v)}: pieces of {wording.length(v['length_mm'])} are hard to hold (common practice)"


def _long(v: Values) -> str:
    size = wording.length(v["length_mm"])
    return f"{_step(v)}: the bar grows to {size}: hard to heat evenly (common practice)"


def _thin(v: Values) -> str:
    return f"{_step(v)}: only {wording.length(v['height_mm'])} high in the fire: it burns in moments"


def _disturbed(v: Values) -> str:
    return (
        f"{_step(v)}: after {v['what']} the layers no longer lie flat; sizes of layers are those of the flat "
        "bar"
    )


def _on_edge(v: Values) -> str:
    return (
        f"{_step(v)}: the layers stand on edge from here on; carbon that leaves through the faces is counted "
        "at the sides of the bar only"
    )


def _alike(v: Values) -> str:
    return (
        f"{_step(v)}: from here on the layers reach every face alike: their count stays, their thickness "
        "goes on by volume, and carbon goes on as a mean of each steel; right under a face and beside a "
        "sharp bend it is in doubt"
    )


def _stood(v: Values) -> str:
    return (
        f"{_step(v)}: the layers lie across the bar from here on, so that faces, sides and edge cut "
        "through all of them: what scale and fire take there is taken from all alike, carbon goes on as a "
        "mean of each steel, and thickness is told along the bar"
    )


def _hollows(v: Values) -> str:
    return (
        f"{_step(v)}: what was cut in leaves {wording.length(v['thinnest_mm'])} at its deepest, and the bar "
        f"is forged to {wording.length(v['height_mm'])} only: hollows may stay; forge it thinner or cut less "
        "deep (common practice)"
    )


def _tight(v: Values) -> str:
    return (
        f"{_step(v)}: one turn in {wording.length(v['turn_mm'])} is tight; under "
        f"{wording.length(v['least_mm'])} the welds may tear (common practice): fewer turns, or a thinner bar"
    )


def _cold_twist(v: Values) -> str:
    return (
        f"{_hot_step(v)} is cold for a twist: under {wording.temperature(v['from_c'])} welds tear open "
        "(common practice)"
    )


def _corners(v: Values) -> str:
    return (
        f"{_step(v)}: sharp corners fold in when the twisted bar is squared again; forge them in before, and "
        "write rounded = true (common practice)"
    )


def _side_seams(v: Values) -> str:
    return (
        f"{_step(v)}: {wording.listed(v['bars'])} lie side by side; carbon across the seams between them "
        "is not computed, each is followed for itself, and what scale and grinding take off the sides is "
        "taken from all of them by their width"
    )


def _among_plates(v: Values) -> str:
    return (
        f"{_step(v)}: {wording.listed(v['bars'])} lie among flat layers and are followed as flat layers of "
        "their mean thickness, the outermost first under scale and grinding"
    )


def _scale(v: Values) -> str:
    return (
        f"Forge: the loss to scale rests on remembered constants, good to a factor of {v['factor']:g} either "
        "way; weigh a bar before and after a fire and set scale_factor"
    )


def _outside_fit(v: Values) -> str:
    steps = f"{'step' if len(v['steps']) == 1 else 'steps'} {', '.join(str(n) for n in v['steps'])}"
    steps = f"Bar {v['bar']}, {steps}" if "bar" in v else wording.capital(steps)
    known = wording.temperature_range(v["low_c"], v["high_c"])
    return f"{steps}: {QUANTITIES[v['formula']]} is known for {known} and is only carried on beyond it"


def _burns(v: Values) -> str:
    return (
        f"{_hot_step(v)}: {v['steel']} begins to melt at about {wording.temperature(v['melts_c'])} and may "
        f"burn from about {wording.temperature(v['burns_c'])}"
    )


def _no_forging_range(v: Values) -> str:
    return (
        f"{_step(v)}: {v['low_by']} forges from {wording.temperature(v['low_c'])} up, {v['high_by']} only to "
        f"{wording.temperature(v['high_c'])}: the published forging ranges do not meet"
    )


def _over(v: Values) -> str:
    return (
        f"{_hot_step(v)} is over the published forging range of {v['high_by']}, which ends at "
        f"{wording.temperature(v['high_c'])}"
    )


def _under(v: Values) -> str:
    return (
        f"{_hot_step(v)} is under the published forging range of {v['low_by']}, which begins at "
        f"{wording.temperature(v['low_c'])}"
    )


def _chromium(v: Values) -> str:
    return (
        f"{_step(v)}: borax does not lift chromium oxide, so {', '.join(v['steels'])} will hardly weld "
        f"{FIRE[v['atmosphere']]}; weld it in a sealed can or under argon"
    )


def _measured(v: Values) -> str:
    planned = " × ".join(
        wording.length_both(v[f"planned_{size}_mm"]) for size in ("height", "width", "length")
    )
    real = " × ".join(wording.length_both(v[f"{size}_mm"]) for size in ("height", "width", "length"))
    cut = "" if not v["cut_away_mm"] else f", {wording.length_both(v['cut_away_mm'])} cut away"
    return f"{_step(v)}: measured {real}{cut}, planned {planned}; the rest goes on from what was measured"


def _measured_check(v: Values) -> str:
    told, follows = wording.length_both(v["length_mm"]), wording.length_both(v["follows_mm"])
    return (
        f"{_step(v)}: height and width leave {follows} of length and {told} were measured, "
        f"{wording.percent(abs(v['off_frac']))} apart, more than scale explains: was a piece cut off "
        "(cut_away_mm), has more gone to scale, or was it misread?"
    )


def _measured_outcome(word: str) -> Words:
    def words(v: Values) -> str:
        now, planned = wording.length_both(v["length_mm"]), wording.length_both(v["planned_mm"])
        to = f"; for the planned length draw it to {wording.length_both(v['draw_to_mm'])} in step {v['step']}"
        return f"As measured the bar comes out {now} long, {word} than the planned {planned}{to}"

    return words


WORDS: dict[str, Words] = {
    "outer-layer-gone": _gone,
    "nothing-to-weld": lambda v: f"{_step(v)}: nothing lies loose here; it counts as one more welding heat",
    "weld-not-pressed": _not_pressed,
    "tall-pile": _tall,
    "short-pieces": _short,
    "long-bar": _long,
    "thin-bar": _thin,
    "pattern-disturbed": _disturbed,
    "on-edge": _on_edge,
    "layers-alike": _alike,
    "stood-on-end": _stood,
    "hollows-may-stay": _hollows,
    "twist-tight": _tight,
    "twist-cold": _cold_twist,
    "twist-corners": _corners,
    "side-seams": _side_seams,
    "bent-among-flat": _among_plates,
    "steel-not-laid": lambda v: f"Steels: {v['steel']} is named but never laid",
    "steel-gone": lambda v: (
        f"Steels: nothing of {v['steel']} is left in the bar; scale or grinding took it all"
    ),
    "measured-loose": lambda v: f"{_step(v)}: a loose pile is not measured; weld it first",
    "measured": _measured,
    "measured-check": _measured_check,
    "measured-longer": _measured_outcome("longer"),
    "measured-shorter": _measured_outcome("shorter"),
    "scale-from-memory": _scale,
    "outside-fit": _outside_fit,
    "too-hot": lambda v: f"{_burns(v)}: stay below it",
    "near-burning": lambda v: f"{_burns(v)}: watch for sparks, keep it short",
    "no-forging-range": _no_forging_range,
    "over-forging-range": _over,
    "under-forging-range": _under,
    "chromium-oxide": _chromium,
}
