"""Words for the colours of hot steel and of tempered steel, with their spread."""

from dataclasses import dataclass
from functools import cache

from billet.errors import OutOfDomain
from billet.tables.reading import read_toml
from billet.units import ZERO_CELSIUS_K


@dataclass(frozen=True)
class ColourWords:
    """Words for a heat; an unpractised eye is off by `spread_k`, a practised one by `practised_k`."""

    words: str
    from_c: float
    to_c: float
    spread_k: float
    practised_k: float
    source: str
    seen: str


@dataclass(frozen=True)
class TemperColour:
    words: str
    temperature_c: float
    spread_k: float
    source: str


@cache
def heat_colours() -> tuple[ColourWords, ...]:
    """The words we print, coldest first, without a gap between them."""
    table = read_toml("colours.toml")
    spread, practised = float(table["eye_spread_k"]), float(table["practised_spread_k"])
    return tuple(
        ColourWords(
            r["words"], float(r["from_c"]), float(r["to_c"]), spread, practised, r["source"], r["seen"]
        )
        for r in table["heat"]
    )


def colour_words(temperature_c: float) -> ColourWords:
    """The words for a heat. Above the list the last words hold: it is white.

    Raises OutOfDomain below absolute zero or for a number that is none.
    """
    if not temperature_c >= -ZERO_CELSIUS_K:
        raise OutOfDomain("temperature_c", temperature_c, "above absolute zero")
    colours = heat_colours()
    return next((c for c in colours if temperature_c < c.to_c), colours[-1])


@cache
def other_lists() -> tuple[tuple[str, tuple[tuple[str, float], ...]], ...]:
    """Other printed lists: source key, and (words, temperature in C) of each."""
    return tuple(
        (entry["source"], tuple((words, float(c)) for words, c in entry["points"]))
        for entry in read_toml("colours.toml")["list"]
    )


@cache
def temper_colours() -> tuple[TemperColour, ...]:
    """Colours of tempering on plain carbon steel, palest first."""
    table = read_toml("colours.toml")["temper"]
    return tuple(
        TemperColour(words, float(c), float(table["spread_k"]), table["source"])
        for words, c in table["points"]
    )


@cache
def other_temper_list() -> tuple[tuple[str, float], ...]:
    """(words, temperature in C) of the other printed list of temper colours."""
    return tuple((words, float(c)) for words, c in read_toml("colours.toml")["temper_other"]["points"])


def temper_colour_words(temperature_c: float) -> str:
    """The temper colour nearest to a temperature, "none yet" more than one spread below the first.

    Raises OutOfDomain for a number that is none.
    """
    if not temperature_c >= -ZERO_CELSIUS_K:
        raise OutOfDomain("temperature_c", temperature_c, "above absolute zero")
    colours = temper_colours()
    if temperature_c < colours[0].temperature_c - colours[0].spread_k:
        return "none yet"
    if temperature_c > colours[-1].temperature_c + colours[-1].spread_k:
        return "past blue, grey"
    return min(colours, key=lambda c: abs(c.temperature_c - temperature_c)).words


def colours_note() -> str:
    """What has to be said wherever colour words are shown."""
    return str(read_toml("colours.toml")["note"])


def temper_colours_note() -> str:
    """What has to be said wherever temper colours are shown."""
    return str(read_toml("colours.toml")["temper"]["note"])
