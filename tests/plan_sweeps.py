"""Whole plans, forging and all, with one input moved by one per cent: what the answer does."""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from billet import plan
from billet.hardening.media_ranking import LADDER
from billet.tables.steels import find_steel

PAIRS = [
    ("1095", "75Ni8"), ("1084", "75Ni8"), ("1075", "75Ni8"), ("80CrV2", "75Ni8"), ("52100", "75Ni8"),
    ("O1", "75Ni8"), ("O1", "1084"), ("1095", "1018"), ("5160", "52100"), ("1084", "52100"),
    ("90MnCrV8", "75Ni8"), ("C105U", "75Ni8"), ("51CrV4", "80CrV2"), ("100Cr6", "75Ni8"), ("1084", "L6"),
    ("1095", "O1"), ("1095", "5160"), ("X46Cr13", "440C"), ("W2", "A203E"), ("142WV13", "75Ni8"),
    ("1084", "45NiCrMo16"), ("W1", "75Ni8"), ("W2", "75Ni8"), ("115CrV3", "75Ni8"), ("C75S", "75Ni8"),
    ("80CrV2", "1084"), ("C105U", "80CrV2"), ("80CrV2", "304"), ("9260", "1084"), ("60WCrV8", "80CrV2"),
]  # fmt: skip
PART = 0.01
MOST_END_K, MOST_SET_K = 4.0, 6.0
HALF_WIDTH_K = 13.0
AXES: dict[str, Sequence[float]] = {
    "plate_mm": (1.0, 1.5, 2.0, 2.7, 3.6, 4.8, 6.4),
    "minutes": (3.0, 6.0, 10.0, 16.0, 25.0, 40.0),
    "blade_mm": (1.0, 1.4, 2.0, 2.5, 3.0, 3.7, 4.4, 5.2),
    "edge_mm": (0.3, 0.5, 0.8, 1.2, 1.6, 2.0),
    "C": (0.45, 0.6, 0.7, 0.8, 0.9, 1.0, 1.15, 1.3),
    "Mn": (0.15, 0.3, 0.5, 0.8, 1.2, 1.8),
    "Si": (0.1, 0.2, 0.35, 0.8, 1.5, 2.0),
    "Cr": (0.05, 0.15, 0.3, 0.6, 1.2, 2.0, 3.0),
    "Ni": (0.05, 0.2, 0.6, 1.2, 2.0, 3.5),
    "V": (0.02, 0.05, 0.1, 0.2, 0.35, 0.5),
    "W": (0.1, 0.4, 1.0, 1.5, 1.95, 2.5, 3.2),
    "Mo": (0.02, 0.06, 0.15, 0.3, 0.6, 1.0),
}
"""By what is moved: a plate, the minutes of every fire, blade and edge, an element of the first steel."""


@dataclass(frozen=True)
class Told:
    """What a plan tells of heat and bath; None where it tells none."""

    window_c: tuple[float, float] | None
    set_c: float | None
    medium: str | None


def recipe(pair: Sequence[str], axis: str, value: float) -> dict[str, Any]:
    """A small bar of two steels, the first of them given as a melt, with one thing of this value."""
    given = {e: v for e, v in find_steel(pair[0]).nominal.wt.items() if e in AXES}
    told: dict[str, float] = {"plate_mm": 2.5, "minutes": 12.0, "blade_mm": 3.0, "edge_mm": 1.0, **given}
    told[axis] = value
    wt = {element: told[element] for element in AXES if element in told and element[0].isupper()}
    plates = [
        {"steel": ("first", "second")[place % 2], "thickness_mm": (told["plate_mm"], 2.5)[place % 2]}
        for place in range(9)
    ]
    fires = {"temperature_c": 1120, "minutes": told["minutes"]}
    height_mm = 5 * told["plate_mm"] + 10.0
    return {
        "format": 1,
        "title": "Swept",
        "steels": {"first": {"like": pair[0], "wt": wt}, "second": pair[1]},
        "stack": {"width_mm": 40, "length_mm": 150, "plates": plates},
        "steps": [
            {"do": "weld", **fires, "height_mm": 0.85 * height_mm},
            {"do": "draw", **fires, "height_mm": 5.6},
        ],
        "blade": {"thickness_mm": told["blade_mm"], "edge_mm": min(told["edge_mm"], told["blade_mm"])},
        "control": {"half_width_k": HALF_WIDTH_K},
    }


def told(pair: Sequence[str], axis: str, value: float) -> Told:
    """The answer of the whole plan."""
    report = plan(recipe(pair, axis, value)).report
    return Told(report.hardening.window_c, report.hardening.set_point_c, report.quench.medium)


def jumps(pair: Sequence[str], axis: str, values: Sequence[float]) -> Iterator[str]:
    """What moves too far for one per cent, and a medium that goes and comes back within two."""
    for value in values:
        found = [told(pair, axis, value * (1.0 + part * PART)) for part in range(3)]
        where = f"{'|'.join(pair)} {axis} {value:g}"
        for here, there in itertools.pairwise(found):
            if here.window_c is None or there.window_c is None or here.set_c is None or there.set_c is None:
                continue
            ends = [abs(a - b) for a, b in zip(here.window_c, there.window_c, strict=True)]
            if max(ends) > MOST_END_K:
                yield f"{where}: an end moves by {max(ends):.1f} K"
            if abs(here.set_c - there.set_c) > MOST_SET_K:
                yield f"{where}: the set point goes {here.set_c:g} to {there.set_c:g}"
        if to_and_fro([one.medium for one in found if one.medium is not None]):
            yield f"{where}: the medium goes {', '.join(str(one.medium) for one in found)}"


def to_and_fro(media: Sequence[str]) -> bool:
    """Whether the ladder of media is climbed and descended again, or the other way, along so short a way.

    Over a whole axis it may be: plain steel hardens deepest about its eutectoid carbon.
    """
    places = [LADDER.index("air" if medium == "plates" else medium) for medium in media]  # type: ignore[arg-type]
    steps = [b - a for a, b in itertools.pairwise(places) if a != b]
    return any(a * b < 0 for a, b in itertools.pairwise(steps))
