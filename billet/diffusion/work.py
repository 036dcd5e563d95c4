"""How much there is to compute in a plan, known from its forging before any carbon moves."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from billet.composition import Composition
from billet.diffusion.activity_law import sink_share
from billet.diffusion.equilibrium_tables import is_tabled
from billet.diffusion.mesh import GROWTH, SEAM_CELL
from billet.errors import Fault, RecipeError
from billet.forging.model import Forged, ForgedRow
from billet.formulas.diffusion import carbon_diffusivity_agren_m2_s

CELLS_OF_A_FIRE = 3000
"""What a fire costs beside its cells, in cells, on the safe side (measured: 0.8 ms, 0.7 us a cell)."""
CELLS_OF_A_TABLED_HEAT, CELLS_OF_A_TABLE = 10_000, 1_200
"""What the equilibria of a new temperature cost, and of each steel at it, counted in cells (measured: 7 ms,
and 0.8 ms a steel)."""
MOST_CELLS = 8_000_000
"""Cells through fires in one plan; some 6 s on one processor of 2024."""
_HIGH_CARBON = Composition({"C": 0.8})
_LEAST_SECONDS = 1.0


@dataclass(frozen=True)
class Work:
    """Fires, the most layers any of them has, the sum of cells over all fires, and what the tables of
    carbon activity take, counted in cells."""

    fires: int
    layers: int
    cells: int
    tables: int

    @property
    def whole(self) -> int:
        """All of it, counted in cells."""
        return self.cells + self.tables


def work_of(forged: Forged, steels: Iterable[Composition]) -> Work:
    """What the diffusion of this forging will take, with that of every bar made first; what lies side by
    side is followed column by column. `steels` are those of the recipe, each tabled at every temperature
    that asks for it."""
    fires = most = cells = 0
    temperatures_c: set[float] = set()
    for made in (*forged.bars.values(), forged):
        fired = [row for row in made.rows if row.heats and row.temperature_c is not None]
        columns = len(made.columns)
        fires += columns * sum(row.heats or 0 for row in fired)
        most = max(most, *(row.layers_laid for row in fired), 0)
        cells += columns * sum((row.heats or 0) * (CELLS_OF_A_FIRE + _cells(row)) for row in fired)
        temperatures_c |= {row.temperature_c for row in fired if row.temperature_c is not None}
    metals = tuple(steels)
    return Work(fires, most, cells, sum(_tables(metals, one) for one in temperatures_c))


def _tables(steels: Iterable[Composition], temperature_c: float) -> int:
    """The tables of all steels at one temperature, counted in cells."""
    tabled = [is_tabled(steel, temperature_c) and sink_share(steel) < 1.0 for steel in steels]
    sinks = [sink_share(steel) > 0.0 for steel in steels]
    each = CELLS_OF_A_TABLE * (sum(tabled) + sum(sinks))
    return each + (CELLS_OF_A_TABLED_HEAT if any(tabled) else 0)


def refuse_too_much(forged: Forged, steels: Iterable[Composition], times: int = 1) -> None:
    """Raise RecipeError where the diffusion, so many times over, is more than is computed; it tells the
    limit and what would fit. The count of bars asks for it as often as the recipe has steels that vary."""
    work = work_of(forged, steels)
    if work.whole * times <= MOST_CELLS:
        return
    fit = math.floor(work.fires * MOST_CELLS / (work.whole * times))
    bars = f" {times} times over, for a count of bars," if times > 1 else ""
    text = (
        f"Steps: {work.fires} fires of a bar of up to {work.layers} layers{bars} are more than is computed "
        f"({work.whole * times / 1e6:.1f} million cells, at most {MOST_CELLS / 1e6:.0f}); "
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
