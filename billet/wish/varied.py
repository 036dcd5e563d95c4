"""The number that is varied and its values, as written: steps[1].minutes=2:30:2."""

import math
from dataclasses import dataclass

from billet.errors import Fault, RecipeError
from billet.tables.wish import wish_numbers

RULE = "PLACE=LOW:HIGH:STEP, such as steps[1].minutes=2:30:2"
SHOWN = 60


@dataclass(frozen=True)
class Varied:
    """A place of a recipe and the values it is given, rising; whole ones are whole numbers."""

    place: str
    values: tuple[float, ...]


def read_varied(text: str) -> Varied:
    """What to vary. Raises RecipeError for what cannot be read, and for too many values."""
    place, equals, span = text.strip().rpartition("=")
    parts = span.split(":")
    if not equals or not place or len(parts) != 3:
        raise _refused(f"what to vary is written {RULE}; got {text[:SHOWN]!r}")
    try:
        low, high, step = (float(part) for part in parts)
    except ValueError:
        raise _refused(f"low, high and step are three numbers ({RULE}); got {span[:SHOWN]!r}") from None
    return varied(place.strip(), low, high, step)


def varied(place: str, low: float, high: float, step: float) -> Varied:
    """The values from `low` to `high`, `step` apart, both ends counted where they are met.

    Raises RecipeError where there are fewer than two, too many, or no numbers.
    """
    if not all(math.isfinite(v) for v in (low, high, step)):
        raise _refused("low, high and step are finite numbers")
    if not (step > 0.0 and high > low):
        raise _refused(f"high lies above low, and the step is more than 0; got {low:g}:{high:g}:{step:g}")
    most = int(wish_numbers("sweep")["most_values"])
    count = math.floor(min((high - low) / step, 10.0 * most) + 1e-9) + 1
    if count < 2:
        raise _refused(
            f"a step of {step:g} leaves one value between {low:g} and {high:g}; take a smaller one"
        )
    if count > most:
        raise _refused(
            f"a sweep has at most {most} values; take a step of at least {(high - low) / most:.3g}"
        )
    return Varied(place, tuple(_plain(low + i * step) for i in range(count)))


def _plain(value: float) -> float:
    """Without the last digits that adding steps leaves; a whole number where it is one."""
    rounded = float(f"{value:.10g}")
    return int(rounded) if rounded.is_integer() else rounded


def _refused(message: str) -> RecipeError:
    return RecipeError([Fault("vary", message)])
