"""The lean skin at the faces of the bar, and the pale seams where skins were folded in."""

from dataclasses import dataclass

import numpy as np

from billet.contract.study import PaleSeam, SkinStudy
from billet.contract.values import Fact, Reason
from billet.diffusion.decarburised_skin import bar_skin_mm
from billet.diffusion.profile import Floats, Profile
from billet.diffusion.simulation import Metal
from billet.errors import OutOfDomain
from billet.forging.events import Copy, Event, Forge, Heat, Join, Lay, Made, Mix, Remove
from billet.forging.model import Forged
from billet.recipe.model import Layer, Recipe
from billet.report.words import said
from billet.tables.practice import decision_numbers

NOT_FOLLOWED = "seams with a folded-in skin are followed in flat bars of plates only; here none is told"


@dataclass(frozen=True)
class Seam:
    """A seam that a restack closed: the step, and where it lies now from the bottom of the bar."""

    step: int
    position_mm: float


@dataclass(frozen=True)
class _Piece:
    height_mm: float
    seams: tuple[Seam, ...]


def restack_seams(events: tuple[Event, ...]) -> tuple[tuple[Seam, ...], float]:
    """Seams of restacks in the finished bar, bottom up, and the height that bar has. [mm]

    The events are replayed as heights alone. Seams between the plates of the first stack do not count.
    Raises OutOfDomain where bars made first are laid.
    """
    pile = [_Piece(0.0, ())]
    for event in events:
        match event:
            case Lay():
                pile = [_laid(item, pile[0]) for item in event.items]
                step = event.step
            case Join():
                pile = [_joined(pile, step)]
            case Heat():
                bottom_mm, top_mm = event.scale_mm
                pile = [_cut(piece, bottom_mm, top_mm) for piece in pile]
            case Forge():
                pile = [_forged(piece, event.ratio) for piece in pile]
            case Remove():
                pile = [_cut(piece, event.bottom_mm, event.top_mm) for piece in pile]
            case _:
                pass
    whole = pile[0] if len(pile) == 1 else _joined(pile, step)
    return whole.seams, whole.height_mm


def _laid(item: Copy | Layer | Made, bar: _Piece) -> _Piece:
    if isinstance(item, Layer):
        return _Piece(item.thickness_mm, ())
    if isinstance(item, Made):
        raise OutOfDomain("item of a pile", item.bar, "a plate or a piece of the bar")
    if not item.turned:
        return bar
    turned = (Seam(s.step, bar.height_mm - s.position_mm) for s in reversed(bar.seams))
    return _Piece(bar.height_mm, tuple(turned))


def _joined(pile: list[_Piece], step: int) -> _Piece:
    height, seams = 0.0, []
    for place, piece in enumerate(pile):
        if place and step > 0:
            seams.append(Seam(step, height))
        seams += [Seam(s.step, height + s.position_mm) for s in piece.seams]
        height += piece.height_mm
    return _Piece(height, tuple(seams))


def _forged(piece: _Piece, ratio: float) -> _Piece:
    seams = tuple(Seam(s.step, s.position_mm * ratio) for s in piece.seams)
    return _Piece(piece.height_mm * ratio, seams)


def _cut(piece: _Piece, bottom_mm: float, top_mm: float) -> _Piece:
    height = piece.height_mm - bottom_mm - top_mm
    moved = (Seam(s.step, s.position_mm - bottom_mm) for s in piece.seams)
    return _Piece(height, tuple(s for s in moved if 0.0 < s.position_mm < height))


def skin_study(recipe: Recipe, forged: Forged, metal: Metal, grind_mm: float) -> SkinStudy:
    """How deep the faces are lean, against what is ground off, and which seams of restacks are pale.

    Seams are followed where all layers of the bar lie flat in one column; elsewhere none is told.
    """
    bottom_mm, top_mm = bar_skin_mm(recipe, forged, metal)
    short_mm = max(max(bottom_mm, top_mm) - grind_mm, 0.0)
    followed = len(forged.columns) == 1 and _lies_flat(forged.events)
    seams = restack_seams(forged.events)[0] if followed else ()
    pale = _pale_seams(metal.bar, seams, grind_mm)
    return SkinStudy(
        float(decision_numbers("edge")["skin_left_frac"]), bottom_mm, top_mm, grind_mm, short_mm,
        _skin_words(bottom_mm, top_mm, grind_mm, short_mm), len(seams),
        float(decision_numbers("study")["pale_seam_wt"]), pale,
        _pale_words(len(seams), pale) if followed else NOT_FOLLOWED,
    )  # fmt: skip


def _lies_flat(events: tuple[Event, ...]) -> bool:
    """Whether the layers lay one on another from the stack to the end, and no bar made first among them."""
    laid = [item for event in events if isinstance(event, Lay) for item in event.items]
    return not any(isinstance(event, Mix) for event in events) and not any(isinstance(i, Made) for i in laid)


def _skin_words(bottom_mm: float, top_mm: float, grind_mm: float, short_mm: float) -> str:
    printed = decision_numbers("skin_in_print")
    values: dict[str, Fact] = {
        "bottom_mm": bottom_mm,
        "top_mm": top_mm,
        "grind_mm": grind_mm,
        "short_mm": short_mm,
        "printed_frac": float(printed["printed_frac"]),
        "source": str(printed["source"]),
    }
    return said(Reason("study-skin" if max(bottom_mm, top_mm) > 0.0 else "study-no-skin", values))


def _pale_seams(bar: Profile, seams: tuple[Seam, ...], grind_mm: float) -> tuple[PaleSeam, ...]:
    """Seams where both sides have less carbon than further in, one of them by more than the limit.

    Each side is held against the median of the same steel in the middle half of its piece, so that a
    layer which carries less by nature, or which a richer one feeds, is no pale seam. Own construction.
    """
    edges = np.concatenate([[0.0], np.cumsum(bar.thickness_mm)])
    bounds = [0.0, *(s.position_mm for s in seams), bar.height_mm]
    limit = decision_numbers("study")["pale_seam_wt"]
    found = []
    for place, seam in enumerate(seams):
        below = _side(bar, edges, bounds[place], seam.position_mm, at_top=True)
        above = _side(bar, edges, seam.position_mm, bounds[place + 2], at_top=False)
        if below is None or above is None:
            continue
        dips = [inside - least for least, inside, _ in (below, above)]
        if min(dips) > 0.0 and max(dips) > limit:
            least, inside, steel = (below, above)[int(dips[1] > dips[0])]
            in_blade = grind_mm < seam.position_mm < bar.height_mm - grind_mm
            found.append(PaleSeam(seam.step, seam.position_mm, least, inside, steel, in_blade))
    return tuple(found)


def _side(
    bar: Profile, edges: Floats, low_mm: float, high_mm: float, *, at_top: bool
) -> tuple[float, float, str] | None:
    """Least carbon in the layer at one end of a piece, the same steel's median inside it, its name."""
    middles = 0.5 * (edges[:-1] + edges[1:])
    cells = np.flatnonzero((middles > low_mm) & (middles < high_mm))
    if len(cells) == 0:
        return None
    content, kind = bar.carbon_wt[cells], bar.steel[cells]
    from_seam = kind[::-1] if at_top else kind
    own = int(from_seam[0])
    changes = np.flatnonzero(from_seam != own)
    count = int(changes[0]) if len(changes) else len(cells)
    least = float(np.min(content[-count:] if at_top else content[:count]))
    quarter = 0.25 * (high_mm - low_mm)
    at = middles[cells]
    inner = (kind == own) & (at >= low_mm + quarter) & (at <= high_mm - quarter)
    kept = content[inner] if np.any(inner) else content[kind == own]
    return least, float(np.median(kept)), bar.metals.names[own]


def _pale_words(seams: int, pale: tuple[PaleSeam, ...]) -> str:
    values: dict[str, Fact] = {
        "seams": seams,
        "pale": len(pale),
        "inside": sum(s.in_blade for s in pale),
        "limit_wt": float(decision_numbers("study")["pale_seam_wt"]),
    }
    code = "study-no-seams" if seams == 0 else "study-pale-seams" if pale else "study-no-pale-seam"
    return said(Reason(code, values))
