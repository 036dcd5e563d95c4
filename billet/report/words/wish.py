"""Which wish stands in the way, in words."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _more(what: str, so_far: str) -> Words:
    def words(v: Values) -> str:
        needed, asked = wording.length_both(v["needed"]), wording.length_both(v["asked"])
        return f"{what} would have to be {needed}; {so_far} {asked}"

    return words


def _heats(v: Values) -> str:
    return f"it takes {v['needed']:.0f} heats; allowed are {v['asked']:.0f}"


def _layers(v: Values) -> str:
    return f"{v['needed']:.0f} layers come nearest; wished for are {v['asked']:.0f}"


def _share(v: Values) -> str:
    found, asked = wording.percent(v["needed"]), wording.percent(v["asked"])
    return f"the plates in stock give a share of {found} where {asked} is wished for"


def _width(v: Values) -> str:
    stock, bar = wording.length_both(v["needed"]), wording.length_both(v["asked"])
    return f"plates {stock} wide are the nearest in stock and too far off a bar of {bar}"


def _short(v: Values) -> str:
    least = wording.length_both(v["needed"])
    return f"the pieces come out shorter than {least}, too short to hold: make a longer bar, or fewer pieces"


def _thickness(v: Values) -> str:
    return "a pile comes out too low to be drawn to the bar: take more or thicker plates"


def _fire(v: Values) -> str:
    works = wording.difference(v["works_k"])
    good = f"is good that is off by at most {wording.difference(v['good_k'])}, one by {works} works"
    told = f"a fire {good}" if v["good_k"] > 0.0 else f"a fire works that is off by at most {works}"
    named = [
        f"the roughest that {word}: {v[grade]}"
        for grade, word in (("good", "is good"), ("works", "works"))
        if v[grade]
    ]
    return "; ".join([told, *(named or ["no fire of the list is that even"])])


WORDS: dict[str, Words] = {
    "wish-fire": _fire,
    "wish-stack": _more("the tallest pile", "the shop welds up to"),
    "wish-bar": _more("the longest bar in the fire", "the shop heats up to"),
    "wish-heats": _heats,
    "wish-layers": _layers,
    "wish-share": _share,
    "wish-width": _width,
    "wish-length": _short,
    "wish-thickness": _thickness,
}
