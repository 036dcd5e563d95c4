"""Layer counts, and the line of arithmetic that lets a reader add them up again."""

from dataclasses import dataclass

from billet.forging.cuts import laid_items
from billet.forging.pile import Pile
from billet.recipe.model import Layer, Restack


@dataclass(frozen=True)
class LayerArithmetic:
    """How the present pile was laid: pieces of a bar of so many layers, and fresh plates."""

    pieces: int
    bar_laid: int
    bar_visible: int
    plates: int

    @property
    def words(self) -> str:
        """The laid count as a sum: "4 x 15 = 60 laid"."""
        if not self.pieces:
            return f"{self.plates} laid"
        return f"{self._sum(self.bar_laid)} laid"

    @property
    def visible_words(self) -> str | None:
        """The same for layers to the eye, before joining: "4 x 14 = 56"; None if it is the same."""
        return None if self.bar_visible == self.bar_laid else self._sum(self.bar_visible)

    def _sum(self, bar: int) -> str:
        text = f"{self.pieces} x {bar}" if self.pieces > 1 else f"{bar}"
        total = self.pieces * bar + self.plates
        if self.plates:
            return f"{text} + {self.plates} = {total}"
        return f"{text} = {total}" if self.pieces > 1 else text


def laying_of_stack(plates: int) -> LayerArithmetic:
    """Plates that lie for the first time."""
    return LayerArithmetic(0, 0, 0, plates)


def laying_of_restack(step: Restack, bar_laid: int, bar_visible: int) -> LayerArithmetic:
    """Pieces of a bar, with fresh plates between them where the recipe lays some."""
    items = laid_items(step)
    plates = sum(isinstance(item, Layer) for item in items)
    return LayerArithmetic(len(items) - plates, bar_laid, bar_visible, plates)


def loose_arithmetic(laying: LayerArithmetic) -> str:
    """While the pile lies loose: "4 x 15 = 60 laid, loose"."""
    seen = f", {laying.visible_words} visible" if laying.visible_words else ""
    return f"{laying.words}{seen}, loose"


def joined_arithmetic(laying: LayerArithmetic, seams: int, joined: int, visible: int) -> str:
    """After a weld: "4 x 15 = 60 laid, 3 seams of like steel: 57 visible".

    `joined` layers are to be seen once the seams are closed, `visible` after scale has taken its part.
    """
    gone = joined - visible
    before = f"{laying.visible_words}, " if laying.visible_words else ""
    between = f"{seams} seam{'' if seams == 1 else 's'} of like steel"
    lost = f", {gone} gone in scale" if gone else ""
    return f"{laying.words}, {before}{between}{lost}: {visible} visible"


def plain_arithmetic(pile: Pile, before: int, how: str) -> str:
    """After any other step, with `before` layers to be seen: "60 laid, 2 gone in scale, 55 visible"."""
    visible = pile.visible()
    lost = f", {before - visible} gone in {how}" if before > visible else ""
    return f"{pile.laid} laid{lost}, {visible} visible"


def unchanged_arithmetic(pile: Pile) -> str:
    """After a step that takes no layer: "60 laid, 57 visible"."""
    return plain_arithmetic(pile, pile.visible(), "")
