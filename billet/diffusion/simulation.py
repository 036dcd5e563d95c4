"""Carbon and alloy carried through the forging, and the metal that each fire finds."""

import itertools
from dataclasses import dataclass

import numpy as np

from billet.composition import Composition
from billet.diffusion.carbide_sink import sink_share
from billet.diffusion.profile import Profile, carbon_by_steel
from billet.diffusion.transport import Transported, transport
from billet.forging.burning import BurningLimit, burning_limit
from billet.forging.model import Forged
from billet.recipe.model import Recipe


@dataclass(frozen=True)
class Metal:
    """What moved, what was lost, and which layer burns first in each step."""

    compositions: dict[str, Composition]
    moved: Transported
    bar: Profile
    burning: dict[int, BurningLimit]


def simulate_diffusion(recipe: Recipe, forged: Forged, refine: int) -> Metal:
    """Replay the forging for carbon and alloy. Raises nothing: a checked recipe ends as one bar."""
    compositions = {name: steel.composition for name, steel in recipe.steels.items()}
    densities = {name: steel.density_g_cm3 for name, steel in recipe.steels.items()}
    moved = transport(compositions, densities, forged.events, refine=refine)
    bar = moved.profile if moved.profile is not None else moved.steps[-1].profile
    burning = {
        step.step: burning_limit(compositions, highest_carbon_wt(before.profile, step.profile))
        for before, step in itertools.pairwise(moved.steps)
    }
    return Metal(compositions, moved, bar, burning)


def highest_carbon_wt(before: Profile, after: Profile) -> dict[str, float]:
    """Most carbon of each steel at the beginning or the end of a step, wt%.

    In a steel over 5 % chromium what gathers at a seam is held as carbide and melts no sooner: its mean
    is told instead; between 3 and 5 % the one goes over into the other.
    """
    found: dict[str, float] = {}
    for profile in (before, after):
        content, means = profile.carbon_wt, carbon_by_steel(profile)
        for i, name in enumerate(profile.metals.names):
            here = profile.steel == i
            if np.any(here):
                held = sink_share(profile.metals.compositions[i])
                most = held * means[name] + (1.0 - held) * float(np.max(content[here]))
                found[name] = max(found.get(name, 0.0), most)
    return found
