"""How words already written stand on paper: temperatures large, whatever sentence they stand in."""

import re

from markupsafe import Markup, escape

_ONE_WAY = r"(?:\d+ to )?[\u2212-]?\d+\s?°[CF]"
TEMPERATURE = re.compile(rf"({_ONE_WAY})(?:( / )({_ONE_WAY}))?")


def hot(words: str) -> Markup:
    """The words, escaped, with every temperature marked `hot`, each of its two ways on one line."""
    parts: list[Markup] = []
    last = 0
    for found in TEMPERATURE.finditer(words):
        parts += [escape(words[last : found.start()]), _marked(*found.groups())]
        last = found.end()
    return Markup("").join([*parts, escape(words[last:])])


def _marked(first: str, slash: str | None, second: str | None) -> Markup:
    ways = Markup('<span class="way">{}</span>').format(first + (" /" if slash else ""))
    if second is not None:
        ways += Markup(' <span class="way">{}</span>').format(second)
    return Markup('<b class="hot">{}</b>').format(ways)
