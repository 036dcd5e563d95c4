"""Layer counts: how a pile was laid, what closed and what was lost, so that a reader can add up again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from billet.contract.forging_rows import LayerSum
from billet.forging.model import Bar
from billet.forging.pile import Pile
from billet.recipe.model import BarPiece, Beside, Layer, LayItem

State = Literal["loose", "joined", "counted"]
LostTo = Literal["scale", "grinding"]


@dataclass(frozen=True)
class Laying:
    """How the present pile was laid: pieces of a bar of so many layers, fresh plates, and bars made first."""

    pieces: int
    bar_laid: int
    bar_visible: int
    plates: int
    bars: int = 0
    bars_laid: int = 0
    bars_visible: int = 0


def laying_of_stack(items: Sequence[LayItem], made: Mapping[str, Bar]) -> Laying:
    """Plates, and bars made first, that lie for the first time."""
    return Laying(0, 0, 0, _plates(items), *_bars(items, made))


def laying_of_restack(
    items: Sequence[LayItem], bar_laid: int, bar_visible: int, made: Mapping[str, Bar]
) -> Laying:
    """Pieces of a bar, with fresh plates and bars made first between them where the recipe lays some."""
    pieces = sum(isinstance(item, str) for item in items)
    return Laying(pieces, bar_laid, bar_visible, _plates(items), *_bars(items, made))


def _plates(items: Sequence[LayItem]) -> int:
    return sum(isinstance(item, Layer) for item in items)


def _bars(items: Sequence[LayItem], made: Mapping[str, Bar]) -> tuple[int, int, int]:
    """How many bars made first lie there, and their layers, laid and to the eye."""
    single = [item.bar for item in items if isinstance(item, BarPiece)]
    names = [*single, *(name for item in items if isinstance(item, Beside) for name in item.bars)]
    return (
        len(names),
        sum(made[name].layers_laid for name in names),
        sum(made[name].layers_visible for name in names),
    )


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
        bars=laying.bars,
        bars_laid=laying.bars_laid,
        bars_visible=laying.bars_visible,
        laid=pile.laid,
        visible=pile.visible(),
        seams=seams,
        across=pile.visible_across(),
        gone=gone,
        gone_in=lost_to if gone > 0 else None,
    )
