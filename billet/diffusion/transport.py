"""Carbon and alloy through the whole forging: the events replayed one by one.

Faces. In air the surface is held at no carbon while scale eats its way in. In a reducing fire the loss
is 0.3 of what air would take (from memory): the surface is held at 0.7 of the content it would have had
if no face had ever lost anything, which is kept beside the profile; where diffusion is linear this
gives exactly 0.3 of the loss. A fire never adds carbon. Sealed faces lose nothing. Carbon that diffuses
out counts as lost through faces, carbon in metal that turns to scale or is ground off as gone with it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType

import numpy as np

from billet.composition import Composition
from billet.diffusion.activity_law import SteelLaw, austenite_law
from billet.diffusion.alike_bar import (
    Changed,
    Skins,
    carved,
    carved_alike,
    ground,
    heated,
    same_height,
    skins_of,
    stretched,
)
from billet.diffusion.carbide_sink import OutsideTable, outside_tables, tables_at
from billet.diffusion.heat import SPREADING, Fire, burn
from billet.diffusion.profile import (
    Metals,
    Profile,
    carbon_by_steel,
    forged,
    gather_metals,
    joined,
    mean_carbon_wt,
    plate,
    removed,
    turned,
)
from billet.forging.events import (
    Carve,
    Copy,
    Done,
    Event,
    Forge,
    Heat,
    HeatAlike,
    HeatLoose,
    Join,
    Lay,
    Made,
    Mix,
    Remove,
    RemoveAlike,
)
from billet.recipe.model import Atmosphere, Layer

BURNS = Heat | HeatAlike | HeatLoose
# Carbon may run so far beyond what a piece holds before a table's last slope is used, wt%.
_ROOM_WT = 0.3


@dataclass(frozen=True)
class CarbonLoss:
    """Carbon that left the metal in one event, on one square metre of the face as it then was.

    Multiply the shares by the carbon the bar held to get grams whatever its width and length.
    """

    step: int
    fire: int | None
    height_mm: float
    removed_mm: float
    before_g_m2: float
    faces_g_m2: float
    metal_g_m2: float

    @property
    def faces_share(self) -> float:
        """Carbon through the faces as a share of what was there before."""
        return self.faces_g_m2 / self.before_g_m2 if self.before_g_m2 > 0.0 else 0.0

    @property
    def metal_share(self) -> float:
        """Carbon gone with metal as a share of what was there before."""
        return self.metal_g_m2 / self.before_g_m2 if self.before_g_m2 > 0.0 else 0.0


@dataclass(frozen=True)
class StepCarbon:
    """What a step leaves: means by steel in wt%, and the profile (a pile is stacked up loose)."""

    step: int
    mean_wt: float
    carbon_wt: Mapping[str, float]
    profile: Profile


@dataclass(frozen=True)
class Transported:
    """Carbon after every step, every loss in order, and the bar as it ends.

    `profile` is None when the list ends with a loose pile. `outside` tells what no table covers. `skins`
    are those of a bar whose layers reach every face alike, empty for any other.
    """

    metals: Metals
    steps: tuple[StepCarbon, ...]
    losses: tuple[CarbonLoss, ...]
    profile: Profile | None
    outside: tuple[OutsideTable, ...]
    skins: Skins = field(default_factory=dict)


@dataclass
class _Bar:
    """The metal while the events are replayed: pieces bottom up, equal pieces being one object."""

    metals: Metals
    rows: int
    refine: int
    made: Mapping[tuple[str, int], Profile]
    pieces: list[Profile] = field(default_factory=list)
    skins: Skins = field(default_factory=dict)
    losses: list[CarbonLoss] = field(default_factory=list)
    laws: dict[float, SteelLaw] = field(default_factory=dict)

    def law(self, temperature_c: float) -> SteelLaw:
        if temperature_c not in self.laws:
            most_wt = max(c["C"] for c in self.metals.compositions)
            tables = tables_at(self.metals, (temperature_c,), 0.0, most_wt + _ROOM_WT)[0]
            self.laws[temperature_c] = austenite_law(self.metals, temperature_c, tables)
        return self.laws[temperature_c]


def transport(
    compositions: Mapping[str, Composition],
    densities: Mapping[str, float],
    events: Sequence[Event],
    *,
    refine: int = 1,
    with_heating: bool = False,
    made: Mapping[tuple[str, int], Profile] = MappingProxyType({}),
) -> Transported:
    """Replay the events. Densities in g/cm3; both mappings by the recipe's names of the steels.

    `made` holds how the bars made first ended, by name and column, as far as the events lay any.
    `refine` divides cells and steps for a grid check. `with_heating` counts the time above 900 C while
    heating through as well (the upper end of the band).
    """
    reducing = any(isinstance(e, BURNS) and e.atmosphere == "reducing" for e in events)
    bar = _Bar(gather_metals(compositions, densities), 2 if reducing else 1, refine, made)
    steps: list[StepCarbon] = []
    for event in events:
        if isinstance(event, Done):
            steps.append(_step(bar, event.step))
        else:
            _replay(bar, event, with_heating)
    final = bar.pieces[0] if len(bar.pieces) == 1 else None
    outside = outside_heats(bar.metals, sorted(bar.laws))
    return Transported(bar.metals, tuple(steps), tuple(bar.losses), final, outside, bar.skins)


def _replay(bar: _Bar, event: Event, with_heating: bool) -> None:
    match event:
        case Lay():
            bar.pieces, bar.skins = _laid(bar, event), {}
        case HeatLoose():
            _heat_loose(bar, event)
        case Join():
            bar.pieces = [joined(bar.pieces)]
        case Heat():
            _heat(bar, event, with_heating)
        case Forge():
            bar.pieces = [forged(piece, event.ratio) for piece in bar.pieces]
            bar.skins = stretched(bar.skins, event.height_ratio or event.ratio)
        case Remove():
            _remove(bar, event)
        case Mix():
            _mix(bar, event)
        case HeatAlike() | RemoveAlike() | Carve():
            _alike(bar, event, with_heating)


def _mix(bar: _Bar, event: Mix) -> None:
    if bar.skins:
        bar.skins = same_height(bar.skins, event.height_mm)
    else:
        bar.skins = skins_of(bar.pieces[0], event.height_mm, event.faces_known)


def _alike(bar: _Bar, event: HeatAlike | RemoveAlike | Carve, with_heating: bool) -> None:
    """What is done to faces that all layers reach, and the cut into a bar whose layers lie flat."""
    piece, height_mm = bar.pieces[0], event.height_mm
    fire, gone_mm = None, 0.0
    match event:
        case HeatAlike():
            minutes = event.minutes + (event.extra_minutes if with_heating else 0.0)
            fire, gone_mm = event.fire, 2.0 * event.scale_mm
            burning = Fire(event.temperature_c, minutes, event.atmosphere, (event.scale_mm, event.scale_mm))
            after = heated(piece, bar.skins, bar.law(event.temperature_c), burning, event.left, bar.refine)
        case RemoveAlike():
            gone_mm = event.bottom_mm + event.top_mm
            after = ground(piece, bar.skins, event.bottom_mm, event.top_mm, event.left)
        case Carve():
            gone_mm = sum(cut.mean_mm for cut in (event.bottom, event.top) if cut is not None)
            after = _carved(bar, piece, event)
    before = piece.carbon_g_m2
    faces, metal = after.faces_g_m2, after.metal_g_m2
    bar.losses.append(CarbonLoss(event.step, fire, height_mm, gone_mm, before, faces, metal))
    bar.pieces, bar.skins = [after.piece], after.skins


def _carved(bar: _Bar, piece: Profile, event: Carve) -> Changed:
    if event.left is not None:
        return carved_alike(piece, bar.skins, event.bottom, event.top, event.left)
    left = carved(piece, event.bottom, event.top)
    return Changed(left, {}, 0.0, piece.carbon_g_m2 - left.carbon_g_m2)


def outside_heats(metals: Metals, temperatures_c: Sequence[float]) -> tuple[OutsideTable, ...]:
    """What of the steels no table covers at these temperatures of fires or holds, each once."""
    named = zip(metals.names, metals.compositions, strict=True)
    found = [fault for name, c in named for t in temperatures_c for fault in outside_tables(name, c, t)]
    return tuple(dict.fromkeys(found))


def hold(
    profile: Profile,
    heats: Sequence[tuple[float, float]],
    *,
    atmosphere: Atmosphere = "sealed",
    refine: int = 1,
    later_c: Sequence[float] = (),
) -> Profile:
    """The piece after normalising and soak, `heats` being (temperature in C, minutes) in order.

    Below 900 C carbide and ferrite take their part. Sealed by default: a blade lies inside its bar, and
    then what it would hold had its faces lost nothing is not carried on. `later_c` are heats that will be
    asked for next: their tables are solved along.
    """
    if atmosphere == "sealed":
        profile = replace(profile, ratio=profile.ratio[:1])
    content = profile.carbon_wt
    low_wt, high_wt = float(content.min()) - _ROOM_WT, float(content.max()) + _ROOM_WT
    asked = [*(temperature_c for temperature_c, _ in heats), *later_c]
    tables = tables_at(profile.metals, asked, low_wt, high_wt)
    for (temperature_c, minutes), table in zip(heats, tables[: len(heats)], strict=True):
        law = austenite_law(profile.metals, temperature_c, table)
        profile = burn(profile, law, Fire(temperature_c, minutes, atmosphere, (0.0, 0.0)), refine)[0]
    return profile


def _step(bar: _Bar, step: int) -> StepCarbon:
    whole = bar.pieces[0] if len(bar.pieces) == 1 else joined(bar.pieces)
    return StepCarbon(step, mean_carbon_wt(whole), carbon_by_steel(whole), whole)


def _laid(bar: _Bar, event: Lay) -> list[Profile]:
    """The pile: copies of the one bar and fresh plates; equal items are one object."""
    made: dict[Copy | Layer | Made, Profile] = {}
    for item in event.items:
        if item in made:
            continue
        if isinstance(item, Made):
            made[item] = _made_first(bar, item)
        elif isinstance(item, Layer):
            made[item] = plate(
                bar.metals, item.steel, item.thickness_mm, rows=bar.rows, columns=len(SPREADING)
            )
        else:
            made[item] = turned(bar.pieces[0]) if item.turned else bar.pieces[0]
    return [made[item] for item in event.items]


def _made_first(bar: _Bar, item: Made) -> Profile:
    """A bar made first as it ended, in the rows that this one keeps."""
    profile = forged(bar.made[item.bar, item.column], item.ratio)
    if len(profile.ratio) != bar.rows:
        rows = np.repeat(profile.ratio[:1], bar.rows, axis=0)
        profile = replace(profile, ratio=rows)
    return turned(profile) if item.turned else profile


def _heat_loose(bar: _Bar, event: HeatLoose) -> None:
    """A pile warms up: every face of every piece is open; equal pieces are computed once."""
    before = sum(piece.carbon_g_m2 for piece in bar.pieces)
    height = sum(piece.height_mm for piece in bar.pieces)
    done: dict[int, tuple[Profile, float]] = {}
    for piece in bar.pieces:
        if id(piece) not in done:
            fire = Fire(event.temperature_c, event.minutes, event.atmosphere, (0.0, 0.0))
            heated, faces, _ = burn(piece, bar.law(event.temperature_c), fire, bar.refine)
            done[id(piece)] = heated, faces
    faces = sum(done[id(piece)][1] for piece in bar.pieces)
    bar.pieces = [done[id(piece)][0] for piece in bar.pieces]
    bar.losses.append(CarbonLoss(event.step, None, height, 0.0, before, faces, 0.0))


def _heat(bar: _Bar, event: Heat, with_heating: bool) -> None:
    piece = bar.pieces[0]
    minutes = event.minutes + (event.extra_minutes if with_heating else 0.0)
    fire = Fire(event.temperature_c, minutes, event.atmosphere, event.scale_mm)
    heated, faces, metal = burn(piece, bar.law(event.temperature_c), fire, bar.refine)
    bar.losses.append(
        CarbonLoss(
            event.step, event.fire, piece.height_mm, sum(event.scale_mm), piece.carbon_g_m2, faces, metal
        )
    )
    bar.pieces = [heated]


def _remove(bar: _Bar, event: Remove) -> None:
    piece = bar.pieces[0]
    left = removed(piece, event.bottom_mm, event.top_mm)
    metal = piece.carbon_g_m2 - left.carbon_g_m2
    gone_mm = event.bottom_mm + event.top_mm
    bar.losses.append(CarbonLoss(event.step, None, piece.height_mm, gone_mm, piece.carbon_g_m2, 0.0, metal))
    bar.pieces = [left]
