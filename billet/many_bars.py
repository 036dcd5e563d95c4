"""Questions over many bars: one number swept, partners of a steel, the way back from the bar wanted."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from billet.composition import Composition
from billet.contract.partners import Partners
from billet.contract.sweep import Sweep
from billet.contract.wish import WishAnswer, WishProgress
from billet.errors import BilletError, OutOfDomain
from billet.hardening.shop_oils import CLASSES, OwnOil
from billet.one_steel import SteelLike, analysis_of, find_steel
from billet.parse import Recipe, forged_recipe
from billet.planned import plan
from billet.recipe.file import load_recipe_text, read_recipe_file
from billet.report.wishes import worded_partners, worded_wish
from billet.tables.control import control_method
from billet.tables.steels import Steel
from billet.tables.wish import wish_numbers
from billet.wish.partners import PartnerQuestion, of_analysis, of_grade, partner_table, partners_of
from billet.wish.search import answered
from billet.wish.sweep import swept
from billet.wish.varied import read_varied
from billet.wish.wanted import read_wish

__all__ = ["OwnOil", "PartnerQuestion", "WishAnswer", "WishProgress", "partner_question", "partner_table",
           "partners", "propose", "sweep"]  # fmt: skip

OWN_NAME = "own analysis"
BALL_SECONDS = (3.0, 60.0)


def sweep(source: Recipe | str | Path | Mapping[str, Any], vary: str) -> Sweep:
    """The answer at every value of one number of a recipe, `vary` as steps[1].minutes=2:30:2.

    Raises RecipeError for a recipe, a place or values that are refused.
    """
    return swept(forged_recipe(source)[0], read_varied(vary))


def partner_question(
    share: float | None = None,
    half_width_k: float | None = None,
    fire: str | None = None,
    section_mm: float | None = None,
    oils: Sequence[str] = (),
) -> PartnerQuestion:
    """What partners are asked for; what is left out is usual. `fire` is a method of the table; an oil is a
    class of the list or its nickel-ball seconds.

    Raises OutOfDomain for what cannot be, BilletError where fire and half width are both told.
    """
    numbers = wish_numbers("partners")
    if fire is not None and half_width_k is not None:
        raise BilletError("tell the fire or how far it may be off (half_width_k), not both")
    if fire is not None:
        half_width_k = control_method(fire).half_width_k
    return PartnerQuestion(
        numbers["usual_share"] if share is None else share,
        half_width_k or 0.0,
        numbers["section_mm"] if section_mm is None else section_mm,
        tuple(_oil(text) for text in oils),
    )


def _oil(text: str) -> OwnOil:
    if text in CLASSES:
        return OwnOil(text, text, None)
    low, high = BALL_SECONDS
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not low <= seconds <= high:
        rule = f"one of {', '.join(CLASSES)}, or nickel-ball seconds of {low:g} to {high:g}"
        raise OutOfDomain("oil", repr(text[:40]), rule)
    return OwnOil(f"oil of {seconds:g} s", None, seconds)


def partners(steel: SteelLike, asked: PartnerQuestion | None = None) -> Partners:
    """Every other steel of the library beside this one: separate verdicts with their reasons in words.

    Raises what `analysis_of` raises.
    """
    if isinstance(steel, str):
        steel = find_steel(steel)
    one = of_grade(steel) if isinstance(steel, Steel) else of_analysis(OWN_NAME, _told(analysis_of(steel)))
    return worded_partners(partners_of(one, asked or partner_question()))


def _told(analysis: Composition) -> Composition:
    if analysis["C"] <= 0.0:
        raise BilletError("an analysis without carbon has no partner to even out with; give C")
    return analysis


def propose(
    source: str | Path | Mapping[str, Any], progress: Callable[[WishProgress], None] | None = None
) -> WishAnswer:
    """From the bar wanted back to the stack: a few schedules that make it, each planned in full.

    `progress` is called with how far the search is; what it raises ends it. Raises
    RecipeError for a wish that is refused.
    """
    mapping = source if isinstance(source, Mapping) else load_recipe_text(read_recipe_file(source))
    found = answered(read_wish(mapping), forged_recipe, plan, progress or (lambda _: None))
    return worded_wish(found)
