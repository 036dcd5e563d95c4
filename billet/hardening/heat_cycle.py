"""The heats around hardening, put together for one bar: what each does to it and what it costs the face."""

from dataclasses import dataclass

from billet.diffusion.decarburised_skin import bar_skin_mm, lost_in_heats_mm
from billet.diffusion.simulation import Metal
from billet.forging.model import Forged
from billet.hardening.annealing import Anneal, anneal, shop_cooling
from billet.hardening.cold_treatment import ColdTreatment, cold_treatment
from billet.hardening.decision import blade_thickness_mm
from billet.hardening.furnace_programme import Programme, programmes
from billet.hardening.grain_size import GrainSize, Heat, grain_size
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.preheat_diffusion import soak_heat
from billet.hardening.soak import heat_through_min
from billet.recipe.model import FireStep, Recipe
from billet.tables.heat_cycle import cycle_numbers


@dataclass(frozen=True)
class FaceLoss:
    """Depth to nine tenths of the carbon that a face lost: bottom and top in forging, by the fires of
    the recipe; in normalising and in the hardening heat from a clean face, in air and in a reducing
    atmosphere. Sealed faces lose nothing. [mm]"""

    forging_mm: tuple[float, float]
    normalising_air_mm: float
    normalising_reducing_mm: float
    hardening_air_mm: float
    hardening_reducing_mm: float


@dataclass(frozen=True)
class HeatCycle:
    """Everything of the cycle that is told beside the set point."""

    anneal: Anneal
    grain: GrainSize
    skin: FaceLoss
    cold: ColdTreatment | None
    heat_through_min: float | None
    programmes: tuple[Programme, ...]


def heat_cycle(recipe: Recipe, forged: Forged, metal: Metal, answered: HeatTreatment) -> HeatCycle:
    """The cycle of a bar whose hardening is decided."""
    judged = answered.judged
    layers = judged.cycled
    blade = answered.blade
    hard_from_air = judged.normalising.hard_from_air
    softened = anneal(layers, blade.height_mm / len(blade.layer_starts), hard_from_air, shop_cooling(recipe))
    heat_c = judged.set_point_c
    kept = {name: state.retained_austenite for name, state in answered.states.items()}
    cold = None if heat_c is None else cold_treatment(layers, kept)
    soaked = None if heat_c is None or judged.soak is None else Heat(heat_c, judged.soak.minutes)
    through = None if heat_c is None else heat_through_min(blade_thickness_mm(recipe), heat_c)
    return HeatCycle(
        softened,
        grain_size(layers, _last_fire(recipe), judged.normalising.cycles, soaked),
        _face_loss(recipe, forged, metal, answered),
        cold,
        through,
        programmes(judged, softened, cold, answered.quench.medium, answered.temper, through),
    )


def _last_fire(recipe: Recipe) -> Heat | None:
    fires = [step for step in recipe.steps if isinstance(step, FireStep)]
    return Heat(fires[-1].temperature_c, fires[-1].minutes / fires[-1].heats) if fires else None


def _face_loss(recipe: Recipe, forged: Forged, metal: Metal, answered: HeatTreatment) -> FaceLoss:
    judged = answered.judged
    each_min = float(cycle_numbers("normalising")["minutes_each_min"])
    falling = [(c, each_min) for c in judged.normalising.temperatures_c]
    hardening = soak_heat(judged)
    return FaceLoss(
        bar_skin_mm(recipe, forged, metal),
        *lost_in_heats_mm(metal.bar, falling),
        *lost_in_heats_mm(answered.blade, hardening),
    )
