"""The study of many bars in words."""

from billet import wording
from billet.contract.report import Medium
from billet.recipe.model import Recipe
from billet.tables.practice import decision_numbers
from billet.tables.uncertainty import spread

HUNDRED = 100.0


def sentence(
    shared: float,
    in_window: float | None,
    works: float | None,
    through: float | None,
    set_point_c: float | None,
    half_width_k: float,
    medium: Medium | None,
) -> str:
    """In 100 bars made so, 83 have a shared window of ..., 61 are hardened inside their own."""
    verb = "has" if _of_hundred(shared) == 1 else "have"
    told = f"In 100 bars made so, {_of_hundred(shared)} {verb} one temperature well inside the range of all"
    if in_window is None or set_point_c is None:
        return f"{told}."
    held = f"held within {wording.difference(half_width_k)}" if half_width_k > 0.0 else "held exactly"
    hardened = _of_hundred(in_window)
    are = "is hardened inside its" if hardened == 1 else "are hardened inside their"
    at_all = "" if works is None else f" and {_of_hundred(works)} inside what every steel takes"
    told += f"; set to {wording.temperature(set_point_c)} and {held}, {hardened} {are} own window{at_all}"
    if through is not None and medium is not None:
        told += f", and {_of_hundred(through)} of 100 harden through with {medium}"
    return f"{told}."


def _of_hundred(share: float) -> int:
    return round(HUNDRED * share)


def assumptions(recipe: Recipe) -> tuple[str, ...]:
    """What the count rests on, in sentences."""
    errors, analysis, film = decision_numbers("state"), spread("analysis"), spread("film")
    used = list(recipe.steels.values())
    bought = [s.name for s in used if s.analysis == "nominal" and s.grade is not None]
    given = [s.name for s in used if s.name not in bought]
    told = []
    if bought:
        told.append(
            f"{wording.listed(bought)}: any analysis that the standard of the grade lets through, half of "
            "the bars on each side of the usual one (our own choice; mills aim nearer to the middle)"
        )
    if given:
        told.append(
            f"{wording.listed(given)}: the analysis given, off by what a laboratory may be off: "
            f"{wording.wt(analysis['laboratory_carbon_wt'])} carbon, "
            f"{wording.percent(analysis['laboratory_frac'])} of each metal (from memory)"
        )
    lines = ", ".join(
        f"{name} {wording.difference(errors[key])}"
        for name, key in (("Ae1", "ae1_error_k"), ("Ae3", "ae3_error_k"), ("Acm", "acm_error_k"))
    )
    told += [
        f"formulas are off, nine times in ten, by no more than: {lines}; dissolved carbon by "
        f"{wording.wt(errors['dissolved_error_wt'])}, with alloyed carbide "
        f"{wording.wt(errors['dissolved_error_alloyed_wt'])}; the critical rate by a factor of "
        f"{decision_numbers('quench')['rate_band_factor']:g}; the cooling film by "
        f"{wording.percent(film['film_frac'])}",
        "these errors are drawn anew for every bar and steel; in truth a formula that is off is off for all "
        "bars of a pair alike",
        "the good range of a steel is off as the published ranges near its analysis differ among themselves",
        "carbon after forging follows from the plan by the share that each layer keeps and gives away; it is "
        "not computed anew for every bar, and is good to 0.02 % for the differences of analyses",
        "forged as planned: temperatures and minutes in the fire, losses and sizes are the same in all bars",
        "the temperature is even within its half-width; the start of martensite does not enter window or oil",
    ]
    return tuple(told)
