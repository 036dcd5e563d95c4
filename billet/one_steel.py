"""One steel by itself: what it is at a temperature, and over the hardening heat."""

from collections.abc import Mapping

from billet.composition import Composition
from billet.contract.study import HeatCurve
from billet.errors import BilletError, OutOfDomain
from billet.hardening.austenite_state import SteelState
from billet.hardening.austenite_state import austenitised_state as state_of_composition
from billet.studies.heat_curves import heat_curve as curve_of_composition
from billet.tables.steels import STARTS, Start, Steel
from billet.tables.steels import find_steel as grade_called

__all__ = ["SteelLike", "SteelState", "analysis_of", "austenitised_state", "find_steel", "heat_curve"]

SteelLike = str | Steel | Composition | Mapping[str, float]
"""A designation of the library, a grade of it, or an analysis in wt% (what is not listed is 0)."""
STEEL_RULE = 'a designation in quotes ("1084"), a Composition or a mapping of elements in wt%'


def find_steel(name: str) -> Steel:
    """The grade of the library with this designation, number or alias, however it is spelt.

    Raises UnknownSteel with the nearest designations, AmbiguousSteel with the candidates, BilletError
    for what is no text.
    """
    if isinstance(name, str):
        return grade_called(name)
    raise BilletError(f"the name of a steel is text, got {type(name).__name__}{_hint(name)}")


def analysis_of(steel: SteelLike) -> Composition:
    """The analysis that counts: of a grade its nominal one.

    Raises UnknownSteel or AmbiguousSteel for a name, OutOfDomain for an analysis that cannot be,
    BilletError for anything else.
    """
    if isinstance(steel, Composition):
        return steel
    if isinstance(steel, Steel):
        return steel.nominal
    if isinstance(steel, str):
        return find_steel(steel).nominal
    if isinstance(steel, Mapping):
        return Composition(dict(steel))
    raise BilletError(f"a steel is {STEEL_RULE}; got {type(steel).__name__}{_hint(steel)}")


def _hint(name: object) -> str:
    return f'; put it in quotes: "{name}"' if type(name) is int and 0 < name < 10**5 else ""


def austenitised_state(steel: SteelLike, temperature_c: float, start: Start = "normalised") -> SteelState:
    """What a steel is at `temperature_c` [C] after a short soak, and once quenched from there to 20 C.

    The upper end of retained austenite stands at 60 C: a blade tempered straight from the oil.
    Over 5 % chromium and above the solidus nothing is computed, and the notices say so.

    Raises OutOfDomain under 450 C and for what is no temperature, and what `analysis_of` raises.
    """
    analysis = analysis_of(steel)
    return state_of_composition(analysis, _number("temperature_c", temperature_c), _start(start))


def heat_curve(name: str, steel: SteelLike, start: Start = "normalised") -> HeatCurve:
    """Hardness, retained austenite and dissolved carbon of a steel over the hardening heat.

    `name` is what the curve is called. Raises what `austenitised_state` raises.
    """
    return curve_of_composition(name, analysis_of(steel), _start(start))


def _number(name: str, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise OutOfDomain(name, repr(value), "a number")
    try:
        return float(value)
    except OverflowError:
        raise OutOfDomain(name, "a number of hundreds of digits", "a temperature") from None


def _start(start: object) -> Start:
    for known in STARTS:
        if start == known:
            return known
    raise OutOfDomain("start", repr(start), " or ".join(STARTS))
