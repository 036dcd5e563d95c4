"""The joined bar in the fire: layers that all stretch alike, and scale that eats them from outside."""

import math

from billet.forging.pile import Piece
from billet.forging.stack import Palette

FILM_SHARE = 1e-9
"""Metal thinner than this share of the bar's height is rounding, no layer."""


class HotBar:
    """Layers with a common factor on their thickness, so that a fire touches the outer ones only."""

    def __init__(self, piece: Piece, palette: Palette) -> None:
        self._palette = palette
        self._names = list(piece.names)
        self._relative = list(piece.mm)
        self._across = piece.across
        self._factor = 1.0
        self._first, self._last = 0, len(self._names) - 1
        density, rate = palette.density_kg_mm3, palette.scale_rate
        listed = list(zip(self._names, self._relative, strict=True))
        self._sum = math.fsum(self._relative)
        self._sum_density = math.fsum(t * density[n] for n, t in listed)
        self._sum_rate = math.fsum(t * rate[n] for n, t in listed)
        self.gone: list[tuple[str, str]] = []
        """Layers that vanished: which face, which steel."""

    @property
    def thickness_mm(self) -> float:
        return self._sum * self._factor

    @property
    def kg_mm2(self) -> float:
        return self._sum_density * self._factor

    @property
    def mean_scale_rate(self) -> float:
        """Scale rate of a side or an end, where all layers lie open."""
        return self._sum_rate / self._sum

    def stretch(self, ratio: float) -> None:
        """All thicknesses become `ratio` times what they were."""
        self._factor *= ratio

    def scale_face(self, top: bool, plain_mm: float) -> float | None:
        """Take what scale takes from one face in one fire; `plain_mm` is the loss of plain steel.

        The square-root law goes on from layer to layer: where r is the rate of the steel at the face
        and x what is gone, d(x^2) = r^2 d(plain^2). Returns mm taken, None when nothing is left.
        """
        taken_mm, budget = 0.0, plain_mm**2
        while budget > 0.0:
            index = self._last if top else self._first
            rate = self._palette.scale_rate[self._names[index]]
            reach_mm = math.sqrt(taken_mm**2 + rate**2 * budget)
            left_mm = self._relative[index] * self._factor
            if reach_mm - taken_mm < left_mm:
                self._cut(index, reach_mm - taken_mm, top)
                return reach_mm
            if self._first == self._last:
                return None
            budget -= ((taken_mm + left_mm) ** 2 - taken_mm**2) / rate**2
            taken_mm += left_mm
            self._drop(index, top)
        return taken_mm

    def grind_face(self, top: bool, mm: float) -> None:
        """Take so much from one face; less than the whole bar."""
        while True:
            index = self._last if top else self._first
            left_mm = self._relative[index] * self._factor
            if mm < left_mm or self._first == self._last:
                self._cut(index, mm, top)
                return
            mm -= left_mm
            self._drop(index, top)

    def cooled(self) -> Piece:
        """The layers as they are now."""
        kept = slice(self._first, self._last + 1)
        thickness_mm = [t * self._factor for t in self._relative[kept]]
        return Piece(self._names[kept], thickness_mm, self._across[kept])

    def _cut(self, index: int, mm: float, top: bool) -> None:
        """Take so much from the outermost layer. What is left of it thinner than rounding is no layer: its
        thickness goes to the next one.
        """
        self._take(index, mm / self._factor)
        film = self._relative[index]
        if self._first == self._last or film >= FILM_SHARE * self._sum:
            return
        self._drop(index, top)
        self._take(self._last if top else self._first, -film)

    def _take(self, index: int, relative: float) -> None:
        name = self._names[index]
        self._relative[index] -= relative
        self._sum -= relative
        self._sum_density -= relative * self._palette.density_kg_mm3[name]
        self._sum_rate -= relative * self._palette.scale_rate[name]

    def _drop(self, index: int, top: bool) -> None:
        self._take(index, self._relative[index])
        self.gone.append(("top" if top else "bottom", self._names[index]))
        if top:
            self._last -= 1
        else:
            self._first += 1
