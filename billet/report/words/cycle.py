"""Words of the heat cycle: normalising, soak, anneal, cold, what to do at each segment."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words, step_words

Values = Mapping[str, Any]


def _hard_from_air(v: Values) -> str:
    hrc = wording.hardness_range(v["low_hrc"], v["high_hrc"])
    return (
        f"{v['steel']} hardens in still air at the forged thickness: one heat at its published figure, then "
        f"expect {hrc} out of the air, anneal it while it is still hand-warm and never straighten it cold"
    )


def _falling(v: Values) -> str:
    told = "falling heats, each cooled in still air to black, undo the coarse grain of the welding heats"
    if v["start"] == "spheroidised":
        told += "; soften (spheroidise) it again after them, since this plan is made for that start"
    return told


def _never(v: Values) -> str:
    return (
        f"{v['steel']} is air-hardening, or rich in chromium, and is not normalised: still air would only "
        "harden it. Let the bar cool slowly from the forge, in ash or in the hot furnace, and anneal it"
    )


def _left_hard(v: Values) -> str:
    if v.get("hard") is None:
        return ""
    hrc = wording.hardness_range(*v["hard_hrc"])
    return f"; {v['hard']} stays near {hrc} this way and drills badly: use carbide drills, before hardening"


def _when(v: Values) -> str:
    return ", at once, while the bar is still hand-warm" if v["at_once"] else ""


def _subcritical(v: Values) -> str:
    return (
        f"under the critical temperature{_when(v)}: enough to drill and file it, and nothing turns or drifts"
        f"{_left_hard(v)}"
    )


def _drift(v: Values) -> str:
    return (
        f"{v['steel']} would ask for a long hold over the critical temperature, but in layers this thin that "
        f"drags carbon to the chromium: stay under it{_when(v)}{_left_hard(v)}"
    )


def _controlled(v: Values) -> str:
    rate = wording.rate_an_hour(v["rate_k_h"])
    return (
        f"{v['steel']} keeps alloyed carbide and softens fully only over the critical temperature, cooled no "
        f"faster than {rate}{_when(v)}: this needs a furnace that puts heat back while it cools; one that is "
        "only switched off falls far too fast"
    )


def _controlled_told(v: Values) -> str:
    under = wording.temperature_range_aside(*v["subcritical_c"])
    return f"{_controlled(v)}. Without one hold it two hours at {under}, twice{_left_hard(v)}"


def _under_instead(v: Values) -> str:
    return f"under the critical temperature instead, twice{_when(v)}{_left_hard(v)}"


def _furnace_cannot(v: Values) -> str:
    rate = wording.rate_an_hour(v["rate_k_h"])
    return (
        f"{v['steel']} softens fully only with a ramp of at most {rate}, which this shop's furnace cannot "
        f"follow: {_under_instead(v)}"
    )


def _furnace_quick(v: Values) -> str:
    rate, slowest = wording.rate_an_hour(v["rate_k_h"]), wording.rate_an_hour(v["lowest_k_h"])
    return (
        f"{v['steel']} softens fully only with a ramp of at most {rate}; the slowest that this shop's "
        f"furnace holds is {slowest}: {_under_instead(v)}"
    )


def _cold(v: Values, known: str) -> str:
    share = f"{wording.percent(v['value'])} ({wording.percent(v['low'])} to {wording.percent(v['high'])})"
    return (
        f"{v['steel']} {known} {share} retained austenite: after a first temper to "
        f"{wording.temperature_aside(v['to_c'])}, then temper again"
    )


def _to_quench(v: Values) -> str:
    out = "out and cool as the sheet says" if v["medium"] is None else f"out, into {v['medium']}"
    through, soak = wording.minutes(v["through_min"]), wording.minutes(v["soak_min"])
    parts = f"about {through} to heat through and {soak} soak"
    up = ", rounded up" if v["rounded_up"] else ""
    return f"{parts}{up}, in a furnace that is at heat before; then {out}"


def _notice_hard(v: Values) -> str:
    hrc = wording.hardness_range(v["low_hrc"], v["high_hrc"])
    return (
        f"the bar can come out of still air at {hrc}, after forging as after normalising: it may crack on "
        "the floor, in water or under the hammer. Let it cool slowly, anneal it before it is cold, never "
        "straighten it cold"
    )


def _notice_cold(v: Values) -> str:
    return (
        f"at {wording.temperature_aside(v['to_c'])} cold burns: insulated gloves and a face shield; carbon "
        "dioxide and nitrogen drive out the air, so work in the open; spirit in the bath burns. "
        "Never before the first temper: the blade may crack"
    )


def _cold_weld(v: Values) -> str:
    return (
        f"{step_words(v)} at {wording.temperature(v['c'])} is colder than common practice welds this "
        f"bar, from about {wording.temperature(v['from_c'])} up: it may part under the hammer, on the "
        "wheel or in the oil"
    )


def _test_weld(v: Values) -> str:
    return f"{_cold_weld(v)}. Weld a test piece of the same plates first and break it across the seam"


def _held_weld(v: Values) -> str:
    how = "in a sealed can" if v["how"] == "sealed" else "in a press"
    return (
        f"{step_words(v)} at {wording.temperature(v['c'])}: so cold it takes only {how}, by time and "
        "pressure and with bright faces; what it needs is not computed here"
    )


WORDS: dict[str, Words] = {
    "cold-weld": _cold_weld,
    "cold-weld-test-first": _test_weld,
    "cold-weld-held": _held_weld,
    "normalise-falling": _falling,
    "normalise-hard-from-air": _hard_from_air,
    "normalise-never": _never,
    "normalise-no-window": lambda _: "no shared window to normalise for",
    "soak-plain": lambda v: f"{v['steel']} needs little more than to be hot right through",
    "soak-alloyed-carbide": lambda v: f"{v['steel']} has alloyed carbide to dissolve",
    "soak-high-alloy": lambda v: f"{v['steel']} is rich in carbide that dissolves slowly",
    "soak-pinned": lambda v: f"short: the carbide that holds the grain of {v['steel']} is nearly gone",
    "anneal-none": lambda _: "nothing in the bar hardens, so nothing needs softening",
    "anneal-subcritical": _subcritical,
    "anneal-carbon-would-drift": _drift,
    "anneal-controlled": _controlled_told,
    "anneal-controlled-own": _controlled,
    "anneal-furnace-cannot": _furnace_cannot,
    "anneal-furnace-too-quick": _furnace_quick,
    "cold-retained": lambda v: _cold(v, "keeps about"),
    "cold-remembered": lambda v: _cold(v, "is of a kind remembered to keep about"),
    "kiln-out-to-black": lambda v: (
        f"out, in still air until black, under {wording.temperature(v['black_c'])}"
    ),
    "kiln-out-hand-warm": lambda v: (
        f"out, in still air to about {wording.temperature(v['c'])}; straight on to the anneal"
    ),
    "kiln-hold-through": lambda _: "counted from when the bar is at heat",
    "kiln-cool-anyhow": lambda _: "furnace off or still air",
    "kiln-falling-ramp": lambda _: "no faster than this: the furnace must put heat back",
    "kiln-furnace-off": lambda _: "furnace off, door shut",
    "kiln-even-up": lambda _: "so that thick and thin come up together",
    "kiln-out-to-quench": _to_quench,
    "kiln-temper-cycle": lambda v: f"temper {v['cycle']} of {v['cycles']}",
    "kiln-to-room": lambda _: "out, cool to hand-warm in air",
    "kiln-to-cold": lambda v: (
        f"out, cool to hand-warm, then down to {wording.temperature(v['to_c'])} before the next temper"
    ),
    "hard-from-air": _notice_hard,
    "deep-cold": _notice_cold,
    "falling-ramp": lambda v: (
        f"the anneal asks for a furnace that cools by no more than {wording.rate_an_hour(v['rate_k_h'])}; "
        "see what to do without one"
    ),
}
