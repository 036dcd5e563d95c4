"""What is laid into a pile beside fresh plates: bars made first, one on another or side by side.

A bar made first is as wide and long as what it lies on: what it is longer is cut off and left over. Within
tolerances what it is wider is ground off, and what it is narrower it is pressed wider in the weld. Bars side
by side are of one height within a tolerance; the weld evens them out, each as much wider as it then is lower.
Each time a bar is laid, one such bar is made.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from billet.forging.events import Copy, Lay, Made
from billet.forging.model import Column, Forged
from billet.forging.pile import Piece
from billet.forging.solid import Placed
from billet.forging.stack import Palette
from billet.recipe.model import BarPiece, BarPlan, Beside, Layer, LayItem, Restack
from billet.tables.forging import forging_rule

EVEN = 1e-6
"""Sizes that differ by less than this share are one size."""
MOST_COLUMNS = 12


@dataclass(frozen=True)
class Seat:
    """One bar in a course: where across the width it lies, and how its height changes to the course's."""

    bar: str
    turned: bool
    left_share: float
    right_share: float
    ratio: float


@dataclass(frozen=True)
class Course:
    """Bars that lie in one course, with its size before anything is ground or cut off. [mm]"""

    seats: tuple[Seat, ...]
    height_mm: float
    width_mm: float
    length_mm: float


@dataclass(frozen=True)
class LaidPile:
    """A pile as one column of it sees it: pieces bottom up, the event, where all lies, and the masses."""

    pieces: list[Piece]
    event: Lay
    placed: tuple[Placed, ...]
    added_kg: float
    over_kg: float
    """Of what was added, what bars made first were longer and wider than the pile."""


def course_of(item: BarPiece | Beside, made: Mapping[str, Forged]) -> Course:
    """The bars of an item, evened to one height by volume."""
    if isinstance(item, BarPiece):
        bar = made[item.bar].final
        seat = Seat(item.bar, item.turned, 0.0, 1.0, 1.0)
        return Course((seat,), bar.height_mm, bar.width_mm, bar.length_mm)
    bars = [made[name].final for name in item.bars]
    width_mm = sum(bar.width_mm for bar in bars)
    height_mm = sum(bar.width_mm * bar.height_mm for bar in bars) / width_mm
    seats, left = [], 0.0
    for name, bar in zip(item.bars, bars, strict=True):
        right = left + bar.width_mm * bar.height_mm / (width_mm * height_mm)
        seats.append(Seat(name, False, left, right, height_mm / bar.height_mm))
        left = right
    return Course(tuple(seats), height_mm, width_mm, min(bar.length_mm for bar in bars))


def misfit(
    item: BarPiece | Beside, made: Mapping[str, Forged], width_mm: float, length_mm: float
) -> str | None:
    """Why this cannot be laid on a pile of this width and length; None where it can."""
    rule, course = forging_rule("laid_bars"), course_of(item, made)
    names = [seat.bar for seat in course.seats]
    heights_mm = [made[name].final.height_mm for name in names]
    told = f'bar "{names[0]}" is' if len(names) == 1 else "the bars side by side are"
    if max(heights_mm) > min(heights_mm) * (1.0 + rule["height_within_frac"]):
        high = ", ".join(f"{mm:.4g}" for mm in heights_mm)
        return f"{told} {high} mm high; one height is wanted, within {100.0 * rule['height_within_frac']:g} %"
    if course.width_mm < width_mm * (1.0 - rule["narrower_most_frac"]):
        return f"{told} {course.width_mm:.4g} mm wide, and {width_mm:.4g} mm are to be covered"
    if course.width_mm > width_mm * (1.0 + rule["ground_off_most_frac"]):
        most = f"{100.0 * rule['ground_off_most_frac']:g} % is ground off at most"
        return f"{told} {course.width_mm:.4g} mm wide, the pile {width_mm:.4g}; {most}"
    if course.length_mm < length_mm * (1.0 - EVEN):
        return f"{told} {course.length_mm:.5g} mm long, and {length_mm:.5g} mm are to be covered"
    return None


@dataclass(frozen=True)
class Bench:
    """What lies ready to be laid, as it is seen at one place across the width (0 left, 1 right)."""

    palette: Palette
    made: Mapping[str, Forged]
    across: float
    columns: int

    def lay(
        self, step: int, items: Sequence[LayItem], width_mm: float, length_mm: float,
        bar: Piece | None = None, starts_mm: Sequence[float] = (),
    ) -> LaidPile:  # fmt: skip
        """The pile of these items; pieces are cut from `bar`, one after another from `starts_mm` on."""
        face_mm2, height_mm, cut = width_mm * length_mm, 0.0, 0
        pieces: list[Piece] = []
        events: list[Copy | Layer | Made] = []
        placed: list[Placed] = []
        added_kg = over_kg = 0.0
        for item in items:
            piece, event, whole_mm2 = self._laid(item, bar, width_mm, length_mm)
            start_mm = 0.0
            if isinstance(event, Copy):
                start_mm, cut = (starts_mm[cut] if cut < len(starts_mm) else 0.0), cut + 1
            else:
                kg_mm2 = piece.kg_mm2(self.palette)
                added_kg += kg_mm2 * whole_mm2
                over_kg += kg_mm2 * (whole_mm2 - face_mm2)
            top_mm = height_mm + piece.thickness_mm
            placed += self._boxes(item, start_mm, height_mm, top_mm)
            pieces.append(piece)
            events.append(event)
            height_mm = top_mm
        return LaidPile(pieces, Lay(step, tuple(events)), tuple(placed), added_kg, over_kg)

    def is_alike(self, item: Layer | BarPiece | Beside) -> bool:
        """Whether what lies here of an item is a bar whose layers reach every face alike."""
        if isinstance(item, Layer):
            return False
        _, column = column_at(self.made[self._seat(item).bar], 0.0)
        return column.final.alike

    def _seat(self, item: BarPiece | Beside) -> Seat:
        """The bar of a course that lies here."""
        seats = course_of(item, self.made).seats
        return next((seat for seat in seats if self.across < seat.right_share), seats[-1])

    def _laid(
        self, item: LayItem, bar: Piece | None, width_mm: float, length_mm: float
    ) -> tuple[Piece, Copy | Layer | Made, float]:
        """One item: its layers, what carbon is told of it, and the face that it had before it was fitted."""
        if isinstance(item, Layer):
            return (
                Piece((item.steel,), (item.thickness_mm,), self._through(1, True)),
                item,
                width_mm * length_mm,
            )
        if isinstance(item, BarPiece | Beside):
            course = course_of(item, self.made)
            seat = self._seat(item)
            forged = self.made[seat.bar]
            inside = (self.across - seat.left_share) / (seat.right_share - seat.left_share)
            index, column = column_at(forged, inside)
            through = len(course.seats) == 1 and len(forged.columns) == 1
            ratio = seat.ratio * min(1.0, course.width_mm / width_mm)
            thickness_mm = [ratio * mm for mm in column.layer_mm]
            flags = self._through(len(thickness_mm), through)
            piece = Piece(column.layer_names, thickness_mm, flags)
            event = Made(seat.bar, index, seat.turned, ratio)
            whole_mm2 = max(course.width_mm, width_mm) * forged.final.length_mm
            return piece.turned() if seat.turned else piece, event, whole_mm2
        assert bar is not None
        turned = item == "turned"
        return bar.turned() if turned else bar, Copy(turned), width_mm * length_mm

    def _through(self, layers: int, across: bool) -> tuple[bool, ...]:
        """Whether so many layers go through all columns; told only where there are several."""
        return (across,) * layers if self.columns > 1 else ()

    def _boxes(self, item: LayItem, start_mm: float, bottom_mm: float, top_mm: float) -> Iterator[Placed]:
        if isinstance(item, Layer):
            yield Placed("plate", item.steel, 0.0, False, 0.0, 1.0, bottom_mm, top_mm)
        elif isinstance(item, BarPiece | Beside):
            for seat in course_of(item, self.made).seats:
                sides = (seat.left_share, seat.right_share)
                yield Placed("bar", seat.bar, 0.0, seat.turned, *sides, bottom_mm, top_mm)
        else:
            yield Placed("piece", None, start_mm, item == "turned", 0.0, 1.0, bottom_mm, top_mm)


def names_in(item: LayItem) -> tuple[str, ...]:
    """The bars of an item; a piece of the bar itself has no name of its own."""
    if isinstance(item, BarPiece):
        return (item.bar,)
    return item.bars if isinstance(item, Beside) else ("pieces of the bar",) if isinstance(item, str) else ()


def column_at(forged: Forged, across: float) -> tuple[int, Column]:
    """The column of a bar at this place across its width, with its number."""
    for index, column in enumerate(forged.columns):
        if across < column.right_share:
            return index, column
    return len(forged.columns) - 1, forged.columns[-1]


def sides_of(plan: BarPlan, made: Mapping[str, Forged]) -> tuple[float, ...]:
    """Where columns meet across the width of a bar, 0 and 1 with them: the sides of all bars laid."""
    lays = [plan.stack.plates, *(step.lay or () for step in plan.steps if isinstance(step, Restack))]
    found = {0.0, 1.0}
    for item in (item for lay in lays for item in lay if isinstance(item, BarPiece | Beside)):
        for seat in course_of(item, made).seats:
            wide = seat.right_share - seat.left_share
            columns = made[seat.bar].columns
            found |= {seat.left_share + wide * column.right_share for column in columns}
    sides: list[float] = [0.0]
    for side in sorted(found):
        if side - sides[-1] > EVEN:
            sides.append(side)
    return (*sides[:-1], 1.0) if len(sides) > 1 else (0.0, 1.0)
