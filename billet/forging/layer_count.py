"""Layer counts: how a pile was laid, what closed and what was lost, so that a reader can add up again."""

from dataclasses import dataclass
from typing import Literal

from billet.contract.forging_rows import LayerSum
from billet.forging.cuts import laid_items
from billet.forging.pile import Pile
from billet.recipe.model import Layer, Restack

State = Literal["loose", "joined", "counted"]
LostTo = Literal["scale", "grinding"]


@dataclass(frozen=True)
class Laying:
    """How the present pile was laid: pieces of a bar of so many layers, and fresh plates."""

    pieces: int
    bar_laid: int
    bar_visible: int
    plates: int


def laying_of_stack(plates: int) -> Laying:
    """Plates that lie for the first time."""
    return Laying(0, 0, 0, plates)


def laying_of_restack(step: Restack, bar_laid: int, bar_visible: int) -> Laying:
    """Pieces of a bar, with fresh plates between them where the recipe lays some."""
    items = laid_items(step)
    plates = sum(isinstance(item, Layer) for item in items)
    return Laying(len(items) - plates, bar_laid, bar_visible, plates)


def loose_sum(laying: Laying, pile: Pile) -> LayerSum:
    """While the pile lies loose."""
    return _sum("loose", laying, pile)


def joined_sum(laying: Laying, pile: Pile, seams: int, joined: int) -> LayerSum:
    """After a weld; `joined` layers are to be seen once the seams are closed, before scale takes its part."""
    return _sum("joined", laying, pile, seams, joined - pile.visible(), "scale")


def plain_sum(laying: Laying, pile: Pile, before: int, lost_to: LostTo) -> LayerSum:
    """After any other step that may take layers, with `before` layers to be seen."""
    return _sum("counted", laying, pile, None, before - pile.visible(), lost_to)


def unchanged_sum(laying: Laying, pile: Pile) -> LayerSum:
    """After a step that takes no layer."""
    return _sum("counted", laying, pile)


def _sum(
    state: State,
    laying: Laying,
    pile: Pile,
    seams: int | None = None,
    gone: int = 0,
    lost_to: LostTo | None = None,
) -> LayerSum:
    return LayerSum(
        state=state,
        pieces=laying.pieces,
        bar_laid=laying.bar_laid,
        bar_visible=laying.bar_visible,
        plates=laying.plates,
        laid=pile.laid,
        visible=pile.visible(),
        seams=seams,
        gone=gone,
        gone_in=lost_to if gone > 0 else None,
    )
