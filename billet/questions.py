"""What is asked of a plan: why it is so, and how many bars come out as planned."""

from billet.contract.study import Study
from billet.contract.uncertainty import Uncertainty
from billet.planned import Source, plan
from billet.report.uncertainty import worded_count
from billet.studies.study import study_of
from billet.variation.assumptions import assumptions
from billet.variation.count import SEED, USUAL_BARS, count_bars

__all__ = ["Study", "Uncertainty", "study", "uncertainty"]


def study(source: Source) -> Study:
    """What stands behind a plan, read from it. Raises what `plan` raises."""
    planned = plan(source)
    return study_of(planned.recipe, planned.forged, planned.metal, planned.treatment)


def uncertainty(source: Source, bars: int = USUAL_BARS, seed: int = SEED) -> Uncertainty:
    """So many bars made after a plan; the same seed gives the same bars.

    Raises OutOfDomain for too few or too many bars, and what `plan` raises.
    """
    planned = plan(source)
    found = count_bars(planned.recipe, planned.forged, planned.metal, planned.treatment, bars, seed)
    return worded_count(found, assumptions(planned.recipe))
