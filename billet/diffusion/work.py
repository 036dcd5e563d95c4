"""How much there is to compute in a plan, known from its forging before any carbon moves."""

import math
from dataclasses import dataclass

from billet.composition import Composition
from billet.diffusion.mesh import GROWTH, SEAM_CELL
from billet.errors import Fault, RecipeError
from billet.forging.model import Forged, ForgedRow
from billet.formulas.diffusion import carbon_diffusivity_agren_m2_s

CELLS_OF_A_FIRE = 3000
"""What a fire costs beside its cells, in cells, on the safe side (measured: 0.8 ms, 0.7 us a cell)."""
MOST_CELLS = 8_000_000
"""Cells through fires in one plan; some 6 s on one processor of 2024."""
_HIGH_CARBON = Composition({"C": 0.8})
_LEAST_SECONDS = 1.0


@dataclass(frozen=True)
class Work:
    """Fires, the most cells any of them has, and the sum of cells over all fires."""

    fires: int
    layers: int
    cells: int


def work_of(forged: Forged) -> Work:
    """What the diffusion of this forging will take, with that of every bar made first; what lies side by
    side is followed column by column."""
    fires = most = cells = 0
    for made in (*forged.bars.values(), forged):
        fired = [row for row in made.rows if row.heats and row.temperature_c is not None]
        columns = len(made.columns)
        fires += columns * sum(row.heats or 0 for row in fired)
        most = max(most, *(row.layers_laid for row in fired), 0)
        cells += columns * sum((row.heats or 0) * (CELLS_OF_A_FIRE + _cells(row)) for row in fired)
    return Work(fires, most, cells)


def refuse_too_much(forged: Forged, times: int = 1) -> None:
    """Raise RecipeError where the diffusion, so many times over, is more than is computed; it tells the
    limit and what would fit. The count of bars asks for it as often as the recipe has steels that vary."""
    work = work_of(forged)
    if work.cells * times <= MOST_CELLS:
        return
    fit = math.floor(work.fires * MOST_CELLS / (work.cells * times))
    bars = f" {times} times over, for a count of bars," if times > 1 else ""
    text = (
        f"Steps: {work.fires} fires of a bar of up to {work.layers} layers{bars} are more than is computed "
        f"({work.cells * times / 1e6:.1f} million cells, at most {MOST_CELLS / 1e6:.0f}); "
        f"of such a bar {fit} fires are"
    )
    raise RecipeError([Fault("steps", text)])


def _cells(row: ForgedRow) -> int:
    """Cells of the bar in one fire of a step: few in a layer that is thin beside the reach of the fire."""
    minutes = row.fire_min if row.fire_min is not None else row.minutes or 0.0
    seconds = max(minutes * 60.0, _LEAST_SECONDS)
    diffusivity = carbon_diffusivity_agren_m2_s(_HIGH_CARBON, row.temperature_c or 0.0)
    reach_mm = 1e3 * math.sqrt(diffusivity * seconds)
    layer_mm = row.height_mm / max(row.layers_laid, 1)
    half = math.log1p(GROWTH * 0.5 * layer_mm / (SEAM_CELL * reach_mm)) / GROWTH
    return row.layers_laid * max(1, math.ceil(2.0 * half))
