"""Pieces and laws for the tests of carbon transport."""

import numpy as np

from billet.composition import Composition
from billet.diffusion.activity_law import SteelLaw
from billet.diffusion.profile import Floats, Metals, Profile, gather_metals
from billet.forging.events import Copy, Done, Event, Forge, Heat, HeatLoose, Join, Lay, Remove
from billet.recipe.model import Layer

PLAIN = Composition({"C": 0.84, "Si": 0.20, "Mn": 0.70})
NICKEL = Composition({"C": 0.74, "Si": 0.22, "Mn": 0.41, "Ni": 1.98})
HIGH = Composition({"C": 0.95, "Si": 0.20, "Mn": 0.40})
MILD = Composition({"C": 0.10, "Mn": 0.45})


def constant_law(metals: Metals, diffusivity_m2_s: float) -> SteelLaw:
    """A law in which y diffuses with one constant: activity y/(1-y), mobility without slope."""
    count = len(metals.names)
    zero = np.zeros(count)
    return SteelLaw(zero, zero, np.full(count, np.log(diffusivity_m2_s)), zero, {})


def even_metals(*names: str) -> Metals:
    """Steels that differ in nothing but their name."""
    same = Composition({"C": 0.5})
    return gather_metals({name: same for name in names}, {name: 7.85 for name in names})


def piece(metals: Metals, thickness_mm: Floats, steel: list[int], ratio: list[float]) -> Profile:
    """One row of cells, nothing spread yet."""
    kinds = np.array(steel, dtype=np.intp)
    seams = int(np.count_nonzero(np.diff(kinds)))
    return Profile(metals, np.array(thickness_mm), kinds, np.array([ratio]), np.zeros((seams, 9)))


def forging(atmosphere: str, scale_mm: float) -> list[Event]:
    """15 plates welded and drawn, ground, cut in four, welded and drawn: 60 layers in 13 fires."""
    plates = [Layer("dark", 3.0) if k % 2 == 0 else Layer("bright", 1.5) for k in range(15)]
    scale = (scale_mm, scale_mm)
    events: list[Event] = [Lay(0, tuple(plates)), Done(0)]
    events += [HeatLoose(1, 1000.0, 4.0, atmosphere), Join(1)]
    events += [Heat(1, 0, 1150.0, 12.0, 6.0, atmosphere, scale), Forge(1, 0.8), Done(1)]
    for fire in range(5):
        events += [Heat(2, fire, 1100.0, 4.0, 2.0, atmosphere, scale), Forge(2, 0.84)]
    events += [Done(2), Remove(3, 0.4, 0.4), Done(3), Lay(4, (Copy(False), Copy(True)) * 2), Done(4)]
    events += [HeatLoose(5, 1000.0, 3.0, atmosphere), Join(5)]
    events += [Heat(5, 0, 1150.0, 12.0, 6.0, atmosphere, scale), Forge(5, 0.9), Done(5)]
    for fire in range(6):
        events += [Heat(6, fire, 1080.0, 4.0, 2.0, atmosphere, scale), Forge(6, 0.75)]
    return [*events, Done(6)]
