"""The story of the forging as a solid: a map for every change of the bar, a pile for every laying."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from billet.forging.solid import (
    Carved,
    Change,
    Disturbed,
    Dragged,
    Laid,
    Placed,
    Pressed,
    Size,
    Stood,
    Stretched,
    Taken,
    Turned,
    Twisted,
)
from billet.pattern import maps
from billet.pattern.flattening import flattened
from billet.pattern.points import Map
from billet.pattern.pressing import Imprint
from billet.pattern.reliefs import levels_of, relief_of
from billet.pattern.solid import Box, Pile, Plain, Solid, Worked
from billet.pattern.twist import Twist


class NotFollowed(Exception):
    """The bar was worked in a way that no map can follow back; `step` says in which."""

    def __init__(self, step: int) -> None:
        super().__init__(step)
        self.step = step


@dataclass(frozen=True)
class Made:
    """A bar made first, as it lies in a pile."""

    solid: Solid
    size: Size


def lies_flat(change: Change) -> bool:
    """Whether layers that lie flat in the bar still do after the change."""
    if isinstance(change, Laid):
        return all(i.kind != "bar" and i.left_share == 0.0 and i.right_share == 1.0 for i in change.items)
    return isinstance(change, Taken | Stretched)


def worked(
    solid: Solid | None, changes: Sequence[Change], greys: Mapping[str, float], made: Mapping[str, Made]
) -> Solid:
    """The solid after the changes; `greys` of plates of each steel, `made` the bars made first, by name.

    Raises NotFollowed.
    """
    steps: list[Map] = []
    carved: Carved | None = None
    for change in changes:
        match change:
            case Laid():
                solid, steps = _pile(change, _taken_through(solid, steps), greys, made), []
            case Carved():
                carved = change
            case Stretched() if carved is not None:
                steps += _flattening(carved, change)
                carved = None
            case _:
                steps += _maps_of(change)
    whole = _taken_through(solid, steps)
    assert whole is not None
    return whole


def _taken_through(solid: Solid | None, steps: list[Map]) -> Solid | None:
    return Worked(tuple(reversed(steps)), solid) if solid is not None and steps else solid


def _maps_of(change: Change) -> list[Map]:
    """The maps of one change, the older first."""
    match change:
        case Taken(before=before, after=after, low_mm=(left, bottom, near)):
            x_mm = left - 0.5 * (before.width_mm - after.width_mm)
            return [maps.Shift(x_mm, bottom, near)]
        case Stretched(before=before, after=after):
            return [maps.Stretch(*_ratios(before, after))]
        case Turned(before=before):
            return [maps.OnEdge(before.height_mm, before.width_mm)]
        case Stood(before=before):
            return [maps.OnEnd(before.length_mm)]
        case Twisted(after=after, turns=turns):
            return [Twist(after.height_mm, after.width_mm, after.length_mm, turns)]
        case Dragged(drag_mm=drag_mm, fade_mm=fade_mm):
            return [maps.Dragged(drag_mm, fade_mm)]
        case Pressed():
            return _pressed(change)
        case Disturbed(step=step):
            raise NotFollowed(step)
    return []


def _ratios(before: Size, after: Size) -> tuple[float, float, float]:
    return (
        before.width_mm / after.width_mm,
        before.height_mm / after.height_mm,
        before.length_mm / after.length_mm,
    )


def _flattening(carved: Carved, forged: Stretched) -> list[Map]:
    """Open marks close, then the bar is stretched; the flat height between the two is that of the volume."""
    x, _, z = _ratios(forged.before, forged.after)
    mean_mm = forged.after.height_mm / (x * z)
    relief = relief_of(carved, forged.before.height_mm, mean_mm)
    return [flattened(relief, levels_of(relief)), maps.Stretch(x, mean_mm / forged.after.height_mm, z)]


def _pressed(change: Pressed) -> list[Map]:
    before, pressed = change.before, change.pressed
    mean_mm = before.height_mm * before.length_mm * before.width_mm / (pressed.length_mm * pressed.width_mm)
    relief = relief_of(change, pressed.height_mm, mean_mm)
    ground_mm = change.bottom.depth_mm if change.bottom is not None else 0.0
    return [Imprint(relief, before.height_mm), maps.Shift(y_mm=ground_mm)]


def _pile(laid: Laid, bar: Solid | None, greys: Mapping[str, float], made: Mapping[str, Made]) -> Pile:
    return Pile(tuple(_box(item, laid, bar, greys, made) for item in laid.items))


def _box(
    item: Placed, laid: Laid, bar: Solid | None, greys: Mapping[str, float], made: Mapping[str, Made]
) -> Box:
    width_mm, length_mm = laid.after.width_mm, laid.after.length_mm
    left_mm, right_mm = (width_mm * (share - 0.5) for share in (item.left_share, item.right_share))
    height_mm = item.top_mm - item.bottom_mm
    into: list[Map] = [maps.Shift(-0.5 * (left_mm + right_mm), -item.bottom_mm)]
    inner: Solid | None
    if item.kind == "plate":
        inner = Plain(greys[str(item.name)])
    elif item.kind == "bar":
        bar_made = made[str(item.name)]
        size = bar_made.size
        into.append(maps.Stretch(size.width_mm / (right_mm - left_mm), size.height_mm / height_mm, 1.0))
        inner, height_mm = bar_made.solid, size.height_mm
    else:
        inner = bar
    assert inner is not None
    if item.turned:
        into.append(maps.FoldedOver(height_mm, length_mm))
    if item.start_mm:
        into.append(maps.Shift(z_mm=item.start_mm))
    return Box(left_mm, right_mm, item.bottom_mm, item.top_mm, tuple(into), inner)
