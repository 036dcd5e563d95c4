"""How words already written stand on paper: temperatures large, sentences with a capital and an end."""

import re
from collections.abc import Sequence
from functools import lru_cache

from markupsafe import Markup, escape

from billet import wording

_RANGE = r"(?:\d+ to )?[\u2212-]?\d+\s?"
SENTENCES_KEPT = 1024
TEMPERATURE = re.compile(rf"({_RANGE}°C)( / )({_RANGE}°F)|({_RANGE}°F)( / )({_RANGE}°C)")


def hot(words: str, units: wording.Units = "mm") -> Markup:
    """The words, escaped, with every temperature marked `hot`, its two ways on one line.

    In an inch shop Fahrenheit stands first. A difference is no temperature and stays as it is.
    Words that are a temperature and nothing else
    are marked `alone` too.
    """
    parts: list[Markup] = []
    last = 0
    for found in TEMPERATURE.finditer(words):
        alone = found.span() == (0, len(words))
        celsius, _, fahrenheit, *turned = found.groups()
        ways = wording.in_order((celsius, fahrenheit), units) if celsius else (turned[0], turned[2])
        parts += [escape(words[last : found.start()]), _marked(*ways, alone)]
        last = found.end()
    return Markup("").join([*parts, escape(words[last:])])


@lru_cache(SENTENCES_KEPT)
def unbroken(words: str) -> str:
    """The words with the two ways of each temperature held together, as `hot` sets them."""
    return TEMPERATURE.sub(lambda found: found[0].replace(" ", wording.NO_BREAK), words)


def _marked(first: str, second: str, alone: bool) -> Markup:
    kind = "hot alone" if alone else "hot"
    return Markup('<b class="{}"><span class="way">{} /</span> <span class="way">{}</span></b>').format(
        kind, first, second
    )


def sentence(words: str, names: Sequence[str] = ()) -> str:
    """The words with a capital and a full stop; a name of a steel at the start keeps its letter."""
    if not words:
        return words
    named = any(re.match(rf"{re.escape(name)}\b", words) for name in names if name)
    begun = words if named else words[0].upper() + words[1:]
    return begun if begun[-1] in ".!?:" else begun + "."


FRACTION = re.compile(r"(?:(\d+)\s)?(\d+)/(\d+)")


def fraction(words: str) -> Markup:
    """A number for the bench; a fraction with its parts raised and lowered, so that it stands narrow."""
    found = FRACTION.fullmatch(words)
    if found is None:
        return escape(words)
    drawn = '{}<span class="fraction"><sup>{}</sup>/<sub>{}</sub></span>'
    return Markup(drawn).format(found[1] or "", found[2], found[3])
