"""Carbon and alloy carried through the forging, and the metal that each fire finds."""

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from billet.composition import Composition
from billet.diffusion.activity_law import sink_share
from billet.diffusion.alike_bar import Skins
from billet.diffusion.profile import Profile
from billet.diffusion.side_by_side import one_of, side_by_side
from billet.diffusion.transport import StepCarbon, Transported, transport
from billet.forging.burning import BurningLimit, burning_limit
from billet.forging.model import Axis, Forged
from billet.recipe.model import Recipe

Made = dict[tuple[str, int], Profile]


@dataclass(frozen=True)
class ColumnMetal:
    """One column of a bar: its share of the width, what moved in it, and how it ends.

    `alike` tells that its layers reach every face alike, `through` which size of the bar they lie along.
    """

    share: float
    moved: Transported
    bar: Profile
    alike: bool
    through: Axis

    @property
    def skins(self) -> Skins:
        """The faces of an alike column, by steel."""
        return self.moved.skins


@dataclass(frozen=True)
class Metal:
    """What moved, what was lost, and which layer burns first in each step.

    `moved` and `bar` are those of the whole bar. Where bars lie side by side they hold its columns beside
    each other, heights times shares of the width, for what is summed over metal. `bars` holds the bars made
    first, by name.
    """

    compositions: dict[str, Composition]
    moved: Transported
    bar: Profile
    burning: dict[int, BurningLimit]
    columns: tuple[ColumnMetal, ...]
    bars: Mapping[str, "Metal"] = field(default_factory=dict)

    @property
    def made(self) -> Made:
        """How the bars made first ended, by name and column."""
        return {
            (name, at): column.bar for name, bar in self.bars.items() for at, column in enumerate(bar.columns)
        }


def simulate_diffusion(recipe: Recipe, forged: Forged, refine: int) -> Metal:
    """Replay the forging for carbon and alloy. Raises nothing: a checked recipe ends as one bar."""
    compositions = {name: steel.composition for name, steel in recipe.steels.items()}
    return diffused(recipe, forged, compositions, refine)


def diffused(
    recipe: Recipe, forged: Forged, compositions: dict[str, Composition], refine: int = 1
) -> Metal:  # fmt: skip
    """The same with steels of these analyses; bars made first come first, and are laid as they ended."""
    densities = {name: steel.density_g_cm3 for name, steel in recipe.steels.items()}
    bars: dict[str, Metal] = {}
    for name, bar in forged.bars.items():
        bars[name] = _metal(bar, compositions, densities, bars, refine)
    return _metal(forged, compositions, densities, bars, refine)


def _metal(
    forged: Forged,
    compositions: dict[str, Composition],
    densities: Mapping[str, float],
    bars: Mapping[str, Metal],
    refine: int,
) -> Metal:
    made = {(name, at): c.bar for name, bar in bars.items() for at, c in enumerate(bar.columns)}
    columns = []
    for column in forged.columns:
        moved = transport(compositions, densities, column.events, refine=refine, made=made)
        bar = moved.profile if moved.profile is not None else moved.steps[-1].profile
        columns.append(ColumnMetal(column.share, moved, bar, column.final.alike, column.final.through))
    shares = [column.share for column in columns]
    whole = one_of([column.moved for column in columns], shares)
    burning = {
        step.step: burning_limit(compositions, highest_carbon_wt((before, step)))
        for before, step in itertools.pairwise(whole.steps)
    }
    bar = side_by_side([column.bar for column in columns], shares)
    return Metal(compositions, whole, bar, burning, tuple(columns), dict(bars))


def highest_carbon_wt(steps: Iterable[StepCarbon]) -> dict[str, float]:
    """Most carbon of each steel at the ends of these steps, wt%.

    In a steel over 5 % chromium what gathers at a seam is held as carbide and melts no sooner: its mean
    is told instead; between 3 and 5 % the one goes over into the other.
    """
    found: dict[str, float] = {}
    for step in steps:
        profile = step.profile
        content = profile.carbon_wt
        for name, mean_wt in step.carbon_wt.items():
            i = profile.metals.index(name)
            held = sink_share(profile.metals.compositions[i])
            most_wt = held * mean_wt + (1.0 - held) * float(content[profile.steel == i].max())
            found[name] = max(found.get(name, 0.0), most_wt)
    return found
