"""The skin of the finished bar that the fires left poor in carbon."""

from collections.abc import Mapping
from statistics import median

from billet.contract.report import Profile
from billet.tables.practice import decision_numbers

Points = list[tuple[float, float, str]]


def decarburised_depth_mm(profile: Profile, supplied_wt: Mapping[str, float]) -> tuple[float, float]:
    """Depth at the bottom and the top within which carbon is under nine tenths of the inside. [mm]

    Each steel is held against its own median in the middle half of the bar (in the whole bar where it
    lies in the skin alone), or against its carbon as supplied where that is less: a layer that carries
    less carbon by nature is no skin, and one that drank some at a seam sets no higher mark. Own
    construction; the share is common practice, no source.
    """
    points: Points = list(zip(profile.position_mm, profile.carbon_wt, profile.steel, strict=True))
    if len(points) < 2:
        return (0.0, 0.0)
    bottom, top = points[0][0], points[-1][0]
    inside = {
        name: min(wt, supplied_wt.get(name, wt)) for name, wt in _inside_wt(points, bottom, top).items()
    }
    return (_depth(points, inside, bottom), _depth(points[::-1], inside, top))


def _inside_wt(points: Points, bottom_mm: float, top_mm: float) -> dict[str, float]:
    quarter = 0.25 * (top_mm - bottom_mm)
    found = {}
    for name in {steel for _, _, steel in points}:
        own = [(at, wt) for at, wt, steel in points if steel == name]
        middle = [wt for at, wt in own if bottom_mm + quarter <= at <= top_mm - quarter]
        found[name] = median(middle or [wt for _, wt in own])
    return found


def _depth(points: Points, inside_wt: dict[str, float], face_mm: float) -> float:
    share = decision_numbers("edge")["skin_left_frac"]
    for at_mm, wt, steel in points:
        if wt >= share * inside_wt[steel]:
            return abs(at_mm - face_mm)
    return abs(points[-1][0] - face_mm)
