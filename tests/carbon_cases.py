"""Pairs, starts and laws for the sweeps that look for a fire in which carbon goes wrong."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from hypothesis import strategies as st

from billet.composition import Composition
from billet.diffusion import heat
from billet.diffusion.activity_law import SteelLaw, austenite_law
from billet.diffusion.carbide_sink import tables_at
from billet.diffusion.heat import Fire, burn
from billet.diffusion.profile import Metals, Profile, forged, gather_metals, joined, plate, removed
from billet.diffusion.solver import Effort
from billet.diffusion.transport import transport
from billet.errors import ToolFault
from billet.forging.events import Copy, Done, Event, Forge, Heat, HeatLoose, Join, Lay
from billet.recipe.model import Layer
from billet.tables.steels import find_steel, steels

PAIRS = (
    ("1095", "75Ni8"),
    ("1084", "75Ni8"),
    ("52100", "75Ni8"),
    ("1095", "1018"),
    ("1095", "304"),
    ("1084", "2.4066"),
    ("X46Cr13", "440C"),
    ("80CrV2", "304"),
    ("O1", "1084"),
    ("142WV13", "75Ni8"),
    ("5160", "52100"),
    ("1084", "45NiCrMo16"),
)
ATMOSPHERES = ("air", "reducing", "sealed")
COLUMNS = 9
MOST_STEPS = 200
BOOKS = 1e-9
# No steel holds more; what the solver may hold is wider.
MOST_CARBON_WT = 6.0


def pair_metals(first: Composition, second: Composition) -> Metals:
    return gather_metals({"a": first, "b": second}, {"a": 7.85, "b": 7.85})


def nominal(name: str) -> Composition:
    return find_steel(name).nominal


def law_at(metals: Metals, temperature_c: float) -> SteelLaw:
    most_wt = max(c["C"] for c in metals.compositions) + 0.3
    return austenite_law(metals, temperature_c, tables_at(metals, (temperature_c,), 0.0, most_wt)[0])


def starts(metals: Metals, atmosphere: str) -> dict[str, Profile]:
    """Fresh thick plates loose and welded, a drawn bar of 13 layers, and a blade of it cut on seams."""
    rows = 2 if atmosphere == "reducing" else 1
    plates = [plate(metals, name, 4.0, rows=rows, columns=COLUMNS) for name in "ab"]
    bar = drawn_bar(metals, atmosphere)
    thickness_mm, _ = bar.layers()
    seams = np.cumsum(thickness_mm)
    blade = removed(bar, float(seams[2]) - 4e-16, float(bar.height_mm - seams[-4]) - 4e-16)
    return {"plate a": plates[0], "plate b": plates[1], "pair": joined(plates), "bar": bar, "blade": blade}


def drawn_bar(metals: Metals, atmosphere: str) -> Profile:
    laid = tuple(Layer("ab"[k % 2], 3.0 if k % 2 == 0 else 1.5) for k in range(7))
    scale = (0.0, 0.0) if atmosphere == "sealed" else (0.05, 0.05)
    events: list[Event] = [Lay(0, laid), HeatLoose(1, 1000.0, 3.0, atmosphere), Join(1)]
    events += [Heat(1, 0, 1120.0, 8.0, 0.0, atmosphere, scale), Forge(1, 0.4)]
    events += [Lay(2, (Copy(False), Copy(True))), HeatLoose(2, 1000.0, 3.0, atmosphere), Join(2)]
    for fire in range(3):
        events += [Heat(2, fire, 1100.0, 4.0, 0.0, atmosphere, scale), Forge(2, 0.6)]
    compositions = dict(zip(metals.names, metals.compositions, strict=True))
    bar = transport(compositions, dict.fromkeys(compositions, 7.85), [*events, Done(2)]).profile
    assert bar is not None
    return bar


@dataclass(frozen=True)
class Burnt:
    """What one fire did: steps taken, equations solved, and what is wrong with it, in words."""

    steps: int
    solved: int
    wrong: tuple[str, ...]


def burnt(start: Profile, law: SteelLaw, fire: Fire) -> Burnt:
    """Burn and hold the result against what every fire must keep."""
    efforts: list[Effort] = []

    def counted(refine: int) -> Effort:
        efforts.append(Effort(refine))
        return efforts[-1]

    heat.Effort, usual = counted, heat.Effort
    try:
        after, faces, metal = burn(start, law, fire, 1)
        wrong = tuple(_wrong(start, after, faces, metal))
    except (ToolFault, ArithmeticError, IndexError, ValueError) as error:
        wrong = (repr(error),)
    finally:
        heat.Effort = usual
    steps = sum(effort.steps for effort in efforts)
    if steps > MOST_STEPS:
        wrong = (*wrong, f"{steps} steps")
    return Burnt(steps, sum(effort.solved for effort in efforts), wrong)


def _wrong(start: Profile, after: Profile, faces: float, metal: float) -> Iterator[str]:
    held = start.carbon_g_m2
    # A millionth of a millionth of an atom of carbon for one of metal is rounding where none was left.
    open_g = BOOKS * held + 1e-12 * 12.011 * float(start.moles.sum())
    if not np.all(np.isfinite(after.ratio)) or after.ratio.min() < 0.0:
        yield f"y down to {after.ratio.min():.3g}"
    if after.carbon_wt.max() > MOST_CARBON_WT:
        yield f"{after.carbon_wt.max():.3g} wt% C"
    if abs(after.carbon_g_m2 + faces + metal - held) > open_g:
        yield f"books open by {after.carbon_g_m2 + faces + metal - held:.3g} of {held:.3g}"
    if after.carbon_g_m2 > held + open_g or min(faces, metal) < -open_g:
        yield f"carbon came: {faces:.3g} through faces, {metal:.3g} in metal"
    if after.thickness_mm.min() < BOOKS * after.height_mm:
        yield f"a film of {after.thickness_mm.min():.3g} mm"


CASES = st.tuples(
    st.sampled_from([steel.designation for steel in steels()]),
    st.sampled_from([steel.designation for steel in steels()]),
    st.sampled_from(ATMOSPHERES),
    st.floats(450.0, 1250.0),
    st.floats(0.01, 240.0),
    st.lists(st.tuples(st.booleans(), st.floats(0.001, 8.0)), min_size=1, max_size=9),
    st.floats(0.0, 0.45),
    st.sampled_from([0.02, 0.3, 1.0]),
)


def any_case(
    first: str,
    second: str,
    atmosphere: str,
    temperature_c: float,
    minutes: float,
    layers: list[tuple[bool, float]],
    scale_share: float,
    ratio: float,
) -> tuple[str, ...]:
    """Two fires of any stack of any two steels, forged between; what goes wrong in them."""
    metals = pair_metals(find_steel(first).nominal, find_steel(second).nominal)
    rows = 2 if atmosphere == "reducing" else 1
    stack = joined([plate(metals, "ab"[b], t, rows=rows, columns=COLUMNS) for b, t in layers])
    scale_mm = 0.0 if atmosphere == "sealed" else scale_share * stack.height_mm
    warm = Fire(1100.0, min(minutes, 20.0), atmosphere, (0.0, 0.0))
    before = burn(stack, law_at(metals, 1100.0), warm, 1)[0]
    before = forged(before, ratio)
    fire = Fire(temperature_c, minutes, atmosphere, (scale_mm * ratio, 0.5 * scale_mm * ratio))
    law = law_at(metals, temperature_c)
    fresh = burnt(stack, law, Fire(temperature_c, minutes, atmosphere, (scale_mm, scale_mm)))
    return (*fresh.wrong, *burnt(before, law, fire).wrong)
