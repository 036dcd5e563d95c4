"""The why behind a plan: curves, ends of the window, fires, skin and seams, holding the heat."""

from billet.contract.report import MadeWith, SourceRow
from billet.contract.study import STUDY_FORMAT, Study
from billet.diffusion.simulation import Metal
from billet.forging.model import Forged
from billet.hardening.heat_treatment import HeatTreatment
from billet.recipe.model import Recipe
from billet.report.citations import SourceUse, source_row
from billet.studies.cooling import cooling_study
from billet.studies.forging import forging_study
from billet.studies.heat_curves import ends_told, heat_curves, window_ends, window_reasons
from billet.studies.holding import holding_study
from billet.studies.skin import skin_study
from billet.tables.colours import colour_words
from billet.version import DATA_VERSION, VERSION

USED: tuple[tuple[str, str], ...] = (
    ("own-construction", "equilibrium of carbide and austenite, factors around Li's rate, pale seams"),
    ("van-bohemen-2012", "start of martensite and retained austenite"),
    ("astm-a255", "hardness of martensite, ideal diameter, from which the critical rate is drawn"),
    ("li-1998", "start of transformation and its critical rate, for a check"),
    ("curie-temperatures", "magnet's point of iron"),
    ("from-memory", "what a short soak dissolves, films of the media, still air, magnet's point, burning"),
    ("common-practice", "how far over the magnet's point one shade goes"),
)


def study_of(recipe: Recipe, forged: Forged, metal: Metal, answered: HeatTreatment) -> Study:
    """What stands behind a plan, read from its parts; nothing is forged or diffused again."""
    judged = answered.judged
    ends = window_ends(judged)
    return Study(
        format=STUDY_FORMAT,
        title=recipe.title,
        recipe_id=recipe.recipe_id,
        made_with=MadeWith(VERSION, DATA_VERSION),
        heat_c=judged.heat_c,
        heat_is=None
        if judged.heat_c is None
        else "set point"
        if judged.set_point_c is not None
        else "least bad",
        window_c=None if judged.window is None else judged.window.range_c,
        hardness=heat_curves(judged),
        reasons=window_reasons(judged),
        ends=ends,
        ends_told=ends_told(ends),
        cooling=cooling_study(recipe, judged, answered.states, answered.quench),
        forging=forging_study(recipe, metal),
        skin=skin_study(recipe, forged, metal, answered.grind_mm),
        holding=holding_study(recipe, judged, answered.states),
        sources=_sources(answered),
    )


def _sources(answered: HeatTreatment) -> tuple[SourceRow, ...]:
    heat_c = answered.judged.heat_c
    colours = () if heat_c is None else ((colour_words(heat_c).source, "words for the colour of the heat"),)
    return tuple(source_row([SourceUse(key, purpose)]) for key, purpose in (*USED, *colours))
