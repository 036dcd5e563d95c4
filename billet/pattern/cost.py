"""What a picture costs, before it is drawn: nanoseconds of one core a pixel, measured and rounded up."""

from billet.pattern.flattening import Flattened
from billet.pattern.points import Map
from billet.pattern.pressing import Imprint
from billet.pattern.solid import Flat, Pile, Plain, Solid, Worked
from billet.pattern.twist import Twist

FLAT_NS, PLAIN_NS, BOX_NS = 120.0, 5.0, 20.0
MAP_NS, IMPRINT_NS, GROOVE_NS, DIMPLE_NS, TWIST_NS = 10.0, 60.0, 60.0, 160.0, 160.0
MOST_NS = 4e9


def pixel_ns(solid: Solid) -> float:
    """What one pixel costs at most."""
    match solid:
        case Plain():
            return PLAIN_NS
        case Flat():
            return FLAT_NS
        case Worked(maps, inner):
            return sum(map(_map_ns, maps)) + pixel_ns(inner)
        case Pile(boxes):
            inside = {id(box.inner): box.inner for box in boxes}
            into = max(sum(map(_map_ns, box.into)) for box in boxes)
            return BOX_NS * len(boxes) + into + max(pixel_ns(each) for each in inside.values())


def _map_ns(each: Map) -> float:
    if isinstance(each, Flattened):
        return GROOVE_NS if each.relief.top_mm.shape[0] == 1 else DIMPLE_NS
    if isinstance(each, Twist):
        return TWIST_NS
    return IMPRINT_NS if isinstance(each, Imprint) else MAP_NS
