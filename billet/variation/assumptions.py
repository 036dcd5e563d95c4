"""What the count of bars rests on, as reasons for the report's words."""

from billet.contract.values import Fact, Reason
from billet.recipe.model import Recipe
from billet.tables.practice import decision_numbers
from billet.tables.tempering import temper_numbers
from billet.tables.uncertainty import spread


def assumptions(recipe: Recipe) -> tuple[Reason, ...]:
    """Analyses, formulas and what is held the same in all bars, in the order they are told."""
    analysis = spread("analysis")
    used = list(recipe.steels.values())
    bought = tuple(s.name for s in used if s.analysis == "nominal" and s.grade is not None)
    given = tuple(s.name for s in used if s.name not in bought)
    told = []
    if bought:
        told.append(Reason("count-nominal", {"steels": bought}))
    if given:
        values: dict[str, Fact] = {
            "steels": given,
            "carbon_wt": analysis["laboratory_carbon_wt"],
            "metal_frac": analysis["laboratory_frac"],
        }
        told.append(Reason("count-given", values))
    return (
        *told,
        _residuals(),
        _formulas(),
        Reason("count-drawn-anew"),
        Reason("count-good-range"),
        Reason("count-carbon-response", {"carbon_wt": spread("response")["carbon_wt"]}),
        Reason("count-forged-as-planned"),
        Reason("count-even-heat"),
    )


def _residuals() -> Reason:
    limits = decision_numbers("residuals")
    most = {e: limits["band"] * usual for e, usual in limits["usual_wt"].items()}
    return Reason("count-residuals", {"elements": tuple(most), "most_wt": tuple(most.values())})


def _formulas() -> Reason:
    errors = decision_numbers("state")
    values: dict[str, Fact] = {
        "ae1_k": errors["ae1_error_k"],
        "ae3_k": errors["ae3_error_k"],
        "acm_k": errors["acm_error_k"],
        "dissolved_wt": errors["dissolved_error_wt"],
        "dissolved_alloyed_wt": errors["dissolved_error_alloyed_wt"],
        "rate_factor": decision_numbers("quench")["rate_band_factor"],
        "film_frac": spread("film")["film_frac"],
        "hrc": errors["hrc_error"],
        "temper_near_hrc": temper_numbers("band")["near_hrc"],
        "temper_far_hrc": temper_numbers("band")["far_hrc"],
    }
    return Reason("count-formulas", values)
