"""What a hardening layer is at the two ends of a window, and why a curve over the heat has no points."""

from collections.abc import Callable, Mapping
from typing import Any

from billet import wording
from billet.contract.values import Estimate
from billet.report.words.table import Words, words_of

Values = Mapping[str, Any]
LEAST_CARBIDE_FRAC = 0.0005
"""Carbide under this is none to the eye."""
LEAST_FERRITE_FRAC = 0.01
"""Ferrite that is worth a word."""


def _end(v: Values) -> str:
    told = [
        f"{wording.estimate(Estimate(*v['carbon_wt']), wording.wt)} carbon is dissolved",
        _carbide(Estimate(*v["carbide"])),
        f"quenched it keeps {wording.estimate(Estimate(*v['retained']), wording.percent)} austenite and has "
        f"{wording.hardness_range(*v['hrc'][1:])}",
    ]
    if v["ferrite"] is not None and v["ferrite"] > LEAST_FERRITE_FRAC:
        told.append(f"{wording.percent(v['ferrite'])} ferrite is left and stays soft")
    return f"{v['steel']} at {wording.temperature(v['c'])}: {'; '.join(told)}"


def _end_unknown(v: Values) -> str:
    return (
        f"{v['steel']} at {wording.temperature(v['c'])}: {'; '.join(v['why']) or 'nothing is computed here'}"
    )


def _carbide(carbide: Estimate) -> str:
    if carbide.high < LEAST_CARBIDE_FRAC:
        return "no carbide is left to hold the grain"
    if carbide.value < LEAST_CARBIDE_FRAC:
        return f"hardly any carbide is left to hold the grain, at most {wording.percent(carbide.high)}"
    return f"{wording.estimate(carbide, wording.percent)} carbide is left undissolved"


def _end_to_end(v: Values) -> str:
    changes = [
        change
        for name, key, writer in (
            ("dissolved carbon", "carbon_wt", wording.wt),
            ("carbide left", "carbide", wording.percent),
            ("retained austenite", "retained", wording.percent),
        )
        if v[key] is not None and (change := _change(name, v[key][0], v[key][1], writer))
    ]
    if not changes:
        return f"{v['steel']} is the same from end to end. At the low end, {v['low_told']}"
    return (
        f"{v['steel']} from {wording.temperature(v['low_c'])} to {wording.temperature(v['high_c'])}: "
        f"{wording.listed(changes)}; as quenched {wording.hardness_range(*v['low_hrc'])}, then "
        f"{wording.hardness_range(*v['high_hrc'])}"
    )


def _change(name: str, first: float, last: float, writer: Callable[[float], str]) -> str | None:
    """None where the two read alike."""
    before, after = writer(first), writer(last)
    return (
        None if before == after else f"{name} {'rises' if last > first else 'falls'} from {before} to {after}"
    )


def _high_alloy(v: Values) -> str:
    told = "the printed figures of the grade stand instead" if v["printed"] else "and none is printed"
    return "".join((words_of("study-no-hardness")(v), "; ", told, *(f". {one}" for one in v["drifted"])))


WORDS: dict[str, Words] = {
    "curve-end": _end,
    "curve-end-unknown": _end_unknown,
    "curve-end-to-end": _end_to_end,
    "curve-high-alloy": _high_alloy,
}
