"""What differs from bar to bar: analyses of the steels, errors of the formulas, the fire.

Analyses. A grade of the library may come with anything its standard lets through: half of the bars lie
between the low limit and the usual value, half between that and the high limit, evenly (own construction;
mills aim nearer to the middle, so the real spread is smaller). An element without a low limit goes down as
far as it goes up, one that the usual analysis does not carry stays away. An analysis given in the recipe
has the error of the laboratory alone. Residual elements that no analysis tells lie evenly between none and
the most that is usual. Formula errors are normal, nine in ten inside the stated figure, and
drawn anew for every bar and steel. The fire is even within its half-width.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from billet.hardening.analysis_limits import grade_limits_wt, laboratory_error_wt
from billet.hardening.austenite import dissolved_error_wt
from billet.hardening.residuals import printed_residuals, usual_share
from billet.hardening.samples import FormulaErrors
from billet.recipe.model import Recipe, RecipeSteel
from billet.tables.practice import decision_numbers
from billet.tables.uncertainty import spread

Array = npt.NDArray[np.float64]
NINE_IN_TEN_SD = 1.6449
"""Half-width of nine in ten of a normal spread, in standard deviations."""


@dataclass(frozen=True)
class SteelDraws:
    """One steel in every bar: its analysis as supplied in wt%, (bars,) each, and its formulas' errors.

    `residual_wt` is what each bar has of the residual elements that the analysis does not tell; empty where
    all bars have the usual.
    """

    wt: Mapping[str, Array]
    errors: FormulaErrors
    residual_wt: Mapping[str, Array] = field(default_factory=dict)


@dataclass(frozen=True)
class Draws:
    """All bars. `film_factor` multiplies the film coefficient; `held` is -1 to 1 of the half-width."""

    bars: int
    steels: Mapping[str, SteelDraws]
    film_factor: Array
    held: Array


def draw(recipe: Recipe, bars: int, seed: int) -> Draws:
    """So many bars of this recipe; the same seed gives the same bars."""
    generator = np.random.default_rng(seed)
    film = spread("film")
    factor = 1.0 + film["film_frac"] / NINE_IN_TEN_SD * generator.standard_normal(bars)
    factor = np.maximum(factor, film["least_factor"])
    held = generator.uniform(-1.0, 1.0, bars)
    steels = {name: _steel(steel, factor, generator) for name, steel in recipe.steels.items()}
    return Draws(bars, steels, factor, held)


def undisturbed(recipe: Recipe, bars: int) -> Draws:
    """Bars that are all as the plan takes them: no spread and no error anywhere."""
    steels = {
        name: exact({e: np.full(bars, v) for e, v in steel.composition.wt.items()}, bars)
        for name, steel in recipe.steels.items()
    }
    return Draws(bars, steels, np.ones(bars), np.zeros(bars))


def exact(wt: Mapping[str, Array], bars: int) -> SteelDraws:
    """These analyses, with formulas that are never off."""
    return SteelDraws(wt, FormulaErrors.none(bars))


def _steel(steel: RecipeSteel, film_factor: Array, generator: np.random.Generator) -> SteelDraws:
    errors, bars = decision_numbers("state"), len(film_factor)
    residual_wt = _residuals(steel, bars, generator)
    wt = {e: v for e, v in _analyses(steel, bars, generator).items() if e not in residual_wt}

    def off(nine_in_ten: float | Array) -> Array:
        normal: Array = nine_in_ten / NINE_IN_TEN_SD * generator.standard_normal(bars)
        return normal

    columns = {"C": np.zeros(bars), **{e: np.full(bars, v) for e, v in steel.composition.wt.items()}}
    return SteelDraws(
        wt,
        FormulaErrors(
            ae1_k=off(errors["ae1_error_k"]),
            ae3_k=off(errors["ae3_error_k"]),
            acm_k=off(errors["acm_error_k"]),
            range_sd=generator.standard_normal(bars),
            ms_k=off(errors["ms_error_k"]),
            hrc=off(errors["hrc_error"]),
            temper_hrc=off(1.0),
            soak=generator.uniform(0.0, 1.0, bars),
            dissolved_wt=off(dissolved_error_wt(columns)),
            rate_factor=np.exp(off(float(np.log(decision_numbers("quench")["rate_band_factor"])))),
            film_factor=film_factor,
        ),
        residual_wt,
    )


def _residuals(steel: RecipeSteel, bars: int, generator: np.random.Generator) -> dict[str, Array]:
    """Contents of the residual elements that the steel's analysis does not tell, evenly from none to most."""
    limits, told = decision_numbers("residuals"), printed_residuals(steel.composition, steel.grade)
    share = usual_share(steel.composition.wt)
    return {
        e: share * generator.uniform(0.0, limits["band"] * usual, bars)
        for e, usual in limits["usual_wt"].items()
        if e not in told
    }


def _analyses(steel: RecipeSteel, bars: int, generator: np.random.Generator) -> dict[str, Array]:
    found: dict[str, Array] = {}
    for element, value in steel.composition.wt.items():
        if value <= 0.0:
            continue
        if steel.analysis == "given" or steel.grade is None:
            error = laboratory_error_wt(element, value) / NINE_IN_TEN_SD
            found[element] = np.maximum(value + error * generator.standard_normal(bars), 0.0)
        else:
            low, high = grade_limits_wt(steel.grade, element, value)
            place = generator.uniform(-1.0, 1.0, bars)
            found[element] = value + np.where(place < 0.0, value - low, high - value) * place
    return within_hundred(found)


def within_hundred(wt: dict[str, Array]) -> dict[str, Array]:
    """The element there is most of gives way where a draw, or the carbon taken up since, comes to over
    100 wt% (nickel sheet)."""
    over = np.maximum(sum(wt.values(), np.zeros(1)) - 100.0, 0.0)
    if np.any(over > 0.0):
        most = max(wt, key=lambda e: float(np.mean(wt[e])))
        wt[most] = wt[most] - over
    return wt
